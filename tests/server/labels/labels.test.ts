import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { typedIn } from '../shelf/furnished.ts';
import { makeBolt, makeStock, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
  house.write((tx) => {
    const { lotId } = makeStock(tx);
    makeBolt(tx, lotId, '12.345 m');
    makeBolt(tx, lotId, '3 m');
  });
});
afterEach(() => house.shut());

const SHEET = {
  name: 'Twelve',
  paper: 'A4',
  columns: '2',
  rows: '6',
  width: '95',
  height: '45',
  left: '10',
  top: '13.5',
  across: '0',
  down: '0',
  nudge_right: '-0.5',
  nudge_down: '',
};
const ADDRESS = 'http://192.0.2.20:8040';

async function furnish() {
  await house.submit('/setup/labels/addresses', { address: `${ADDRESS}/` }).expect(303);
  await house.submit('/setup/labels/sheets', SHEET).expect(303);
}

const print = (things: string, more: Record<string, string> = {}) =>
  house.submit('/setup/labels/runs', { things, sheet_id: '1', first_place: '1', ...more });

describe('printing labels', () => {
  it('asks for the address and a sheet first', async () => {
    const page = await house.page('/setup/labels/runs/new').expect(200);
    expect(page.text).toContain('write it down');
    expect(page.text).toContain('Describe the label sheet');
    const refused = await print('B1').expect(409);
    expect(refused.text).toContain('none is written down yet');
  });

  it('draws each with its code, words, and the length as it was', async () => {
    await furnish();
    await print('b1, B2', { first_place: '12' }).expect(303);
    const { body } = await house.data('/setup/labels/runs/1').expect(200);
    expect(body).toMatchObject({ labels: 2, things: 'B1, B2', widthMm: 210, heightMm: 297 });
    expect(body.pages.map((page: { labels: object[] }) => page.labels.length)).toEqual([1, 1]);
    const [first] = body.pages[0].labels;
    // The twelfth of 2 by 6: 10 + 95 − 0.5 mm from the left, 13.5 + 5 × 45 mm from the top, in ticks of 1/160 mm.
    expect(first).toMatchObject({ place: 12, x: 16_720, y: 38_160, address: 'HTTP://192.0.2.20:8040/P/B1' });
    const texts = first.drawing.texts.map(({ text }: { text: string }) => text);
    expect(texts).toEqual(expect.arrayContaining(['B1', expect.stringContaining('12.34 m on 2 Mar 2026')]));

    await house.submit('/shelf/pieces/B1/recounts', { length: '5', why: 'Counted.' }).expect(303);
    const later = await house.data('/setup/labels/runs/1').expect(200);
    expect(later.body).toEqual(body);
  });

  it('takes a line that names a place whole, commas and all, and other lines apart', async () => {
    await furnish();
    await house.submit('/shelf/places', { name: 'Rack 2, top' }).expect(303);
    const { labelsHref } = (await house.data('/shelf/places').expect(200)).body;
    expect((await house.data(labelsHref).expect(200)).body.fields.things.value).toBe('Rack 2, top');
    await print('Rack 2, top\nB1, B2').expect(303);
    const { body } = await house.data('/setup/labels/runs/1').expect(200);
    expect(body.labels).toBe(3);
  });

  it('is a step away from a piece, a delivery and a place with pieces', async () => {
    await house.submit('/shelf/places', { name: 'Rack 1' }).expect(303);
    await house.submit('/shelf/pieces/B1/moves', { place_id: '1' }).expect(303);
    const [place] = (await house.data('/shelf/places').expect(200)).body.places;
    for (const page of ['/shelf/places', '/shelf/pieces/B1']) {
      const { text } = await house.page(page).expect(200);
      const [href = ''] = text.match(/\/setup\/labels\/runs\/new\?(place=1|things=B1)/) ?? [];
      expect((await house.data(href).expect(200)).body.fields.things.value).toBe('B1');
    }
    expect(place.labelsHref).toBe('/setup/labels/runs/new?place=1');
  });

  it('prints a place and names every code that nothing has', async () => {
    await furnish();
    await house.submit('/shelf/places', { name: 'Rack 1' }).expect(303);
    await print('rack 1').expect(303);
    const { body } = await house.data('/setup/labels/runs/1').expect(200);
    expect(body.pages[0].labels[0].address).toBe('HTTP://192.0.2.20:8040/R/1');
    const refused = await print('B1\nB77; nowhere').expect(422);
    expect(refused.text).toContain('There is no piece, batch or place “B77”, “nowhere”: check the codes.');
    expect(refused.text).toContain('B77; nowhere</textarea>');
    await print('B1', { first_place: '13' }).expect(422);
    expect((await house.data('/setup/labels').expect(200)).body.runs).toHaveLength(1);
  });

  it('takes what lies in a place or came in a delivery', async () => {
    const none = await house.data('/setup/labels/runs/new?place=1').expect(200);
    expect(none.body.fields.things.value).toBe('');
    const named = await house.data('/setup/labels/runs/new?things=B1,B2').expect(200);
    expect(named.body.fields.things.value).toBe('B1\nB2');
  });
});

describe('the address', () => {
  it('is refused where a code cannot hold it', async () => {
    for (const address of ['192.0.2.20', 'http://a b', 'http://host/path', `http://${'a'.repeat(80)}`]) {
      const refused = await house.submit('/setup/labels/addresses', { address }).expect(422);
      expect(refused.text).toContain(`value="${address}"`);
    }
  });

  it('when it changes, lists what bears an old one until it is printed again', async () => {
    await furnish();
    await print('B1, B2').expect(303);
    const old = async () => (await house.data('/setup/labels').expect(200)).body.old;
    expect(await old()).toEqual([]);
    await house.submit('/setup/labels/addresses', { address: 'http://loft.local:8040' }).expect(303);
    expect(await old()).toEqual(['B1', 'B2']);
    await print('B2').expect(303);
    expect(await old()).toEqual(['B1']);
  });
});

describe('a label sheet', () => {
  it('keeps what was typed with its problems, and saves untouched to the tick', async () => {
    const refused = await house
      .submit('/setup/labels/sheets', { ...SHEET, width: '20', rows: '9' })
      .expect(422);
    expect(refused.text).toContain('A label is at least');
    expect(refused.text).toContain('They reach to');
    await furnish();
    const before = house.book.all(house.book.db.selectFrom('label_sheet').selectAll());
    const { fields } = (await house.data('/setup/labels/sheets/1').expect(200)).body;
    await house.submit('/setup/labels/sheets/1', typedIn(fields)).expect(303);
    expect(house.book.all(house.book.db.selectFrom('label_sheet').selectAll())).toEqual(before);
    await house.submit('/setup/labels/sheets', SHEET).expect(422);
  });

  it('has a test sheet with every label numbered', async () => {
    await furnish();
    const { body } = await house.data('/setup/labels/sheets/1/test').expect(200);
    expect(body.pages[0].labels).toHaveLength(12);
    await house.page('/setup/labels/sheets/9/test').expect(404);
  });
});

describe('the short addresses of codes', () => {
  it('lead on in either case, and say what there is not', async () => {
    const found = await house.page('/P/B1').expect(303);
    expect(found.headers.location).toBe('/shelf/pieces/B1');
    expect((await house.page('/p/b2').expect(303)).headers.location).toBe('/shelf/pieces/B2');
    for (const path of ['/P/B9', '/D/D9', '/R/9', '/R/x']) await house.page(path).expect(404);
  });
});
