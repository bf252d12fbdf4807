import { existsSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { PHOTOS } from '../../../../server/database/folder.ts';
import { deltaE00 } from '../../../../src/colour/lab.ts';
import { newKey } from '../../support.ts';
import { openPhotoHouse, type PhotoHouse, RED, REDDER, setOf } from './photo-house.ts';
import { bombFile, PAIR_MARKS, pairPhoto, photoFile } from './picture-files.ts';

let { house, lots, send, pairFields, begin } = {} as PhotoHouse;
beforeEach(async () => {
  ({ house, lots, send, pairFields, begin } = await openPhotoHouse());
});
afterEach(() => house.shut());

const kept = () => {
  const folder = join(dirname(house.book.file), PHOTOS);
  return existsSync(folder) ? readdirSync(folder) : [];
};
const rows = () => house.book.all(house.book.db.selectFrom('photo').selectAll());

const refused = async (answer: Awaited<ReturnType<typeof send>>) => {
  expect(answer.status).toBe(303);
  expect(answer.location).toMatch(/^\/forms\//);
  return (await house.page(answer.location).expect(422)).text;
};

describe('two lots in one photo', () => {
  it('are marked by numbers, measured, and told with how sure it is', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER));
    expect(kept()).toEqual([`${rows()[0]?.sha256}.jpg`]);
    const marking = await house.page(photo).expect(200);
    expect(marking.text).toContain('Cloth A, across');
    await house.submit(photo, PAIR_MARKS).expect(303);
    const { body } = await house.data(setOf(photo)).expect(200);
    const told = Number(/^ΔE00 (\d+\.\d+)$/.exec(body.result.said)?.[1]);
    expect(Math.abs(told - deltaE00(RED, REDDER))).toBeLessThan(0.15);
    expect(body.result.sure).toMatch(/^Likely within ± 1\.\d, by one photo\.$/);
    expect(body.result.next).toBe('2 more photos of the cloths, refolded each time, make it surer.');
  });

  it('are surer by three photos', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER));
    const set = setOf(photo);
    await house.submit(photo, PAIR_MARKS).expect(303);
    for (const l of [42.1, 41.9]) {
      const more = await send(set, {}, { file: await pairPhoto({ ...RED, l }, { ...REDDER, l: l - 1 }) });
      expect(more.status).toBe(303);
      // What was marked on the photo before is offered.
      expect((await house.data(more.location)).body.areas[1].fields[0].value).toBe('35');
      await house.submit(more.location, PAIR_MARKS).expect(303);
    }
    const { body } = await house.data(set).expect(200);
    expect(body.result.sure).toMatch(
      /^Likely within ± 0\.\d, by 3 photos; they differ among themselves by ± 0\.\d\d\.$/,
    );
    expect(body.result.next).toBe('');
  });

  it('may be taken by the camera of a phone', async () => {
    const answer = await send('/shelf/photos/new', pairFields(), { taken: await pairPhoto(RED, REDDER) });
    expect(answer.location).toMatch(/\/photos\/1$/);
  });

  it('stay out of a set by a photo that is left out', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER));
    await house.submit(photo, PAIR_MARKS).expect(303);
    await house.submit(`${photo}/left-out`, {}).expect(303);
    const { body } = await house.data(setOf(photo)).expect(200);
    expect([body.photos, body.result.said]).toEqual([[], '']);
    await house.page(photo).expect(404);
    expect(kept()).toHaveLength(1);
  });
});

describe('a set', () => {
  it('is saved once however often it is sent', async () => {
    const file = await pairPhoto(RED, REDDER);
    const key = newKey();
    const first = await send('/shelf/photos/new', pairFields(), { file, key });
    const again = await send('/shelf/photos/new', pairFields(), { file, key });
    expect(again.location).toBe(first.location);
    expect(rows()).toHaveLength(1);
    const other = await send('/shelf/photos/new', pairFields(), { file: await pairPhoto(RED, RED), key });
    expect((await house.page(other.location)).text).toContain('This form was sent before with other content');
    expect(kept()).toHaveLength(1);
  });

  it('has no photo twice: it would seem surer than it is', async () => {
    const file = await pairPhoto(RED, REDDER);
    const set = setOf(await begin(file));
    const again = await send(set, {}, { file });
    expect((await house.page(again.location)).text).toContain('This photo is in the set already');
  });

  it('of a sheer says whether it is thick enough, and offers to compare it so', async () => {
    const thin = await begin(await pairPhoto(RED, REDDER), { kind: 'backings', other: '', layers: '4' });
    expect((await house.page(thin)).text).toContain('Over white, across');
    await house.submit(thin, PAIR_MARKS).expect(303);
    expect((await house.data(setOf(thin))).body.result.next).toBe(
      'At 4 layers what lies below still shows. Fold again and take new photos with the number of layers.',
    );
    const thick = await begin(await pairPhoto(RED, { ...RED, l: 41.9 }), {
      kind: 'backings',
      other: '',
      layers: '7',
    });
    await house.submit(thick, PAIR_MARKS).expect(303);
    const { body } = await house.data(setOf(thick));
    expect(body.result.next).toBe('7 layers are enough: white and black below look alike.');
    expect(body.compare).toBe(`/shelf/photos/new?one=lot-${lots.one}&layers=7&backing=either`);
    expect((await house.page(body.compare)).text).toMatch(/<option value="either" selected>/);
  });

  it('of one cloth gives its colour with a wide band', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER), { kind: 'alone', other: '' });
    const { card_x, card_y, card_size, one_x, one_y, one_size } = PAIR_MARKS;
    await house.submit(photo, { card_x, card_y, card_size, one_x, one_y, one_size }).expect(303);
    const { body } = await house.data(setOf(photo));
    expect(body.result.said).toMatch(/^L\* 4[12]\.\d, a\* 4[456]\.\d, b\* (19|20)\.\d \(D65, 2°\)$/);
    expect(body.result.sure).toMatch(/^Likely within ΔE00 4 of the cloth’s own colour/);
  });

  it('stands in the list of all', async () => {
    expect((await house.page('/shelf/photos').expect(200)).text).toContain('No photo of cloth is kept yet');
    await begin(await pairPhoto(RED, REDDER));
    const { body } = await house.data('/shelf/photos').expect(200);
    expect(body.sets).toMatchObject([
      { href: '/shelf/photos/1', next: 'Mark the card and the cloth on the photo.' },
    ]);
  });
});

describe('what was not filled in', () => {
  it.each([
    [{ one: '' }, 'Cloth A: choose a lot or a swatch.'],
    [{ other: '' }, 'Cloth B: choose what lies beside cloth A.'],
    [{ other: 'lot-99' }, 'Cloth B: choose what lies beside cloth A.'],
    [{ backing: '' }, 'Below them: choose white or black.'],
    [{ card: '0.5' }, 'The card reflects: enter 1 % or more.'],
    [{ kind: 'alone' }, 'Cloth B: only one cloth is in the photo. Choose none.'],
  ])('%o is told beside its field, with the photo that is missing too', async (changes, message) => {
    const html = await refused(await send('/shelf/photos/new', pairFields(changes), {}));
    expect(html).toContain(message);
    expect(html).toContain('Photo: take a photo, or choose one.');
    expect(html).toContain('value="daylight, north window"');
    expect(kept()).toEqual([]);
  });

  it('the same lot twice', async () => {
    const answer = await send('/shelf/photos/new', pairFields({ other: `lot-${lots.one}` }), {});
    expect(await refused(answer)).toContain('Cloth B: this is cloth A. Choose another.');
  });

  it('two photos at once', async () => {
    const file = await photoFile(500, 400);
    const answer = await send('/shelf/photos/new', pairFields(), { file, taken: file });
    expect(await refused(answer)).toContain('Photo: take a photo or choose one, not both.');
  });

  it('a script is told the same', async () => {
    const answer = await send('/shelf/photos/new', pairFields({ one: '' }), { accept: 'application/json' });
    expect(answer.status).toBe(422);
    expect(
      JSON.parse(answer.text)
        .error.problems.map(({ field }: { field: string }) => field)
        .sort(),
    ).toEqual(['one', 'photo']);
  });
});

describe('a file that is no photo', () => {
  it.each([
    ['a text', Buffer.from('redder'), /Photo: this is no photo/],
    ['a drawing', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), /Photo: this is no photo/],
    [
      'HEIC',
      Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic')]),
      /Photo: HEIC and AVIF files/,
    ],
    ['what unpacks to 900 megapixels', bombFile(30_000, 30_000), /Photo: 900 megapixels are too many/],
  ])('%s is refused beside the field, and nothing is stored', async (_, file, message) => {
    expect(await refused(await send('/shelf/photos/new', pairFields(), { file }))).toMatch(message);
    expect([kept(), rows()]).toEqual([[], []]);
  });

  it('a truncated JPEG', async () => {
    const file = await pairPhoto(RED, REDDER);
    const answer = await send('/shelf/photos/new', pairFields(), { file: file.subarray(0, file.length / 2) });
    expect(await refused(answer)).toMatch(/Photo: the file is damaged or incomplete/);
    expect([kept(), rows()]).toEqual([[], []]);
  });

  it('one of more than 8 MB', async () => {
    const file = Buffer.alloc(9 * 1024 * 1024, 0xff);
    const answer = await send('/shelf/photos/new', pairFields(), { file, accept: 'application/json' });
    expect(answer.status).toBe(413);
    expect(answer.text).toContain('A photo is at most 8 MB. Set the camera to a smaller picture');
    expect([kept(), rows()]).toEqual([[], []]);
  });
});

describe('a photo that cannot be relied on', () => {
  const marked = async (file: Buffer, marks: Record<string, string> = {}) => {
    const photo = await begin(file);
    const answer = await house.submit(photo, { ...PAIR_MARKS, ...marks });
    expect(answer.status).toBe(422);
    expect(house.book.all(house.book.db.selectFrom('photo_marking').select('id'))).toEqual([]);
    return answer.text;
  };

  it('is too bright', async () => {
    const html = await marked(await pairPhoto({ l: 99.5, a: 0, b: 0 }, RED));
    expect(html).toMatch(/href="#f-one">Cloth A: \d+ % of it is too bright for the camera/);
    expect(html).toMatch(/<fieldset id="f-one" tabindex="-1" class="field-wrong">/);
  });

  it('is lit from one side', async () => {
    expect(await marked(await pairPhoto(RED, REDDER, { fall: 0.5 }))).toMatch(
      /Cloth A and cloth B: the light differs by \d+ % between them/,
    );
  });

  it('is marked too small, beyond its edge, or over another', async () => {
    const file = await pairPhoto(RED, REDDER);
    const html = await marked(file, { card_size: '5', one_x: '2', other_x: '68', other_y: '95' });
    expect(html).toContain('Grey card: 60 × 60 pixels are too few. Make the square 8.4 % or larger');
    expect(html).toContain('Cloth A: the square reaches beyond the photo.');
    expect(html).toContain('value="95"');
  });

  it('is marked by no numbers', async () => {
    const html = await marked(await pairPhoto(RED, REDDER), { one_x: 'left', one_size: '80' });
    expect(html).toMatch(/Cloth A, across/);
    expect(html).toContain('Write 60 % or less.');
  });
});

describe('the file of a photo', () => {
  it('is served to whom a rule lets in, as a JPEG that is asked for anew', async () => {
    await begin(await pairPhoto(RED, REDDER));
    const path = `/shelf/photo-files/${rows()[0]?.sha256}.jpg`;
    const answer = await house.page(path).buffer(true).expect(200);
    expect(answer.headers).toMatchObject({
      'content-type': 'image/jpeg',
      'cache-control': 'private, no-cache',
      'x-content-type-options': 'nosniff',
      'content-security-policy': expect.stringContaining("default-src 'none'"),
    });
    expect(await sharp(answer.body).metadata()).toMatchObject({ format: 'jpeg', width: 1200, height: 900 });
    await house.page(path).set('If-None-Match', `"${rows()[0]?.sha256}"`).expect(304);
    expect(house.app.rules.find('GET', path)).toBe('hand');
  });

  it.each(['0'.repeat(64), '../clothroom.db', '..%2f..%2fclothroom.db', 'x'])(
    'is none by the name %s',
    async (name) => {
      await house.page(`/shelf/photo-files/${name}.jpg`).expect(404);
    },
  );

  it('that is gone from the folder is told', async () => {
    await begin(await pairPhoto(RED, REDDER));
    rmSync(join(dirname(house.book.file), PHOTOS), { recursive: true });
    const answer = await house.page(`/shelf/photo-files/${rows()[0]?.sha256}.jpg`).expect(404);
    expect(answer.text).toContain('beside the book any more');
  });
});
