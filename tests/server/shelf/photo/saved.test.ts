import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../../src/colour/lab.ts';
import { newKey } from '../../support.ts';
import { openPhotoHouse, type PhotoHouse, RED, REDDER, setOf } from './photo-house.ts';
import { PAIR_MARKS, pairPhoto } from './picture-files.ts';

let { house, lots, send, begin } = {} as PhotoHouse;
beforeEach(async () => {
  ({ house, lots, send, begin } = await openPhotoHouse());
});
afterEach(() => house.shut());

describe('what is saved of photos', () => {
  const judgements = () => house.book.all(house.book.db.selectFrom('pair_judgement').selectAll());
  const readings = () => house.book.all(house.book.db.selectFrom('colour_reading').selectAll());

  it('is a judgement of the two lots, with the difference and how sure it is', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER), { note: 'face up' });
    const set = setOf(photo);
    await house.submit(`${set}/results`, {}).expect(409);
    await house.submit(photo, PAIR_MARKS).expect(303);
    await house.submit(`${set}/results`, {}).expect(303);
    const [judgement, ...more] = judgements();
    expect(more).toEqual([]);
    expect(judgement).toMatchObject({
      lot_id: lots.one,
      to_lot_id: lots.other,
      how: 'photo',
      verdict: null,
      light: 'daylight, north window',
      state: 'dry',
      note: 'face up',
    });
    expect(Math.abs((judgement?.delta_centi ?? 0) / 100 - deltaE00(RED, REDDER))).toBeLessThan(0.15);
    expect(judgement?.uncertainty_centi).toBeGreaterThanOrEqual(100);
    expect(judgement?.diff_l).toBeCloseTo(RED.l - REDDER.l, 0);
    expect(readings()).toEqual([]);
    const { body } = await house.data(set);
    expect(body.kept).toMatch(/^Saved: a judgement of ΔE00 1\.\d+ ± 1\.\d+ \(/);
    expect(body.save).toBeNull();
  });

  it('is each colour too where that is wanted, as a reading with its wide band', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER));
    await house.submit(photo, PAIR_MARKS).expect(303);
    await house.submit(`${setOf(photo)}/results`, { readings: 'yes' }).expect(303);
    const common = {
      how: 'photo card',
      uncertainty_centi: 400,
      illuminant: 'D65',
      observer: '2',
      layers: 2,
      backing: 'white',
      state: 'dry',
    };
    expect(readings()).toMatchObject([
      { lot_id: lots.one, ...common },
      { lot_id: lots.other, ...common },
    ]);
    expect(readings()[0]?.lab_l).toBeCloseTo(RED.l, 0);
  });

  it('takes the place of what was saved before, and is undone like any work', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER));
    const set = setOf(photo);
    await house.submit(photo, PAIR_MARKS).expect(303);
    await house.submit(`${set}/results`, {}).expect(303);
    const more = await send(set, {}, { file: await pairPhoto(RED, { ...REDDER, b: 22 }) });
    await house.submit(more.location, PAIR_MARKS).expect(303);
    const key = newKey();
    await house.submit(`${set}/results`, { request_key: key }).expect(303);
    expect(judgements().map(({ undone_key }) => undone_key)).toEqual([key, null]);
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(judgements().every(({ undone_key }) => undone_key !== null)).toBe(true);
    const { body } = await house.data(set);
    expect([body.kept, body.save.text]).toEqual(['', 'Save judgement']);
  });

  it('is a reading of one cloth alone, and nothing of a sheer over white and black', async () => {
    const { card_x, card_y, card_size, one_x, one_y, one_size } = PAIR_MARKS;
    const alone = await begin(await pairPhoto(RED, REDDER), { kind: 'alone', other: '' });
    await house.submit(alone, { card_x, card_y, card_size, one_x, one_y, one_size }).expect(303);
    await house.submit(`${setOf(alone)}/results`, {}).expect(303);
    expect([readings().length, judgements().length]).toEqual([1, 0]);
    const sheer = await begin(await pairPhoto(RED, REDDER), { kind: 'backings', other: '' });
    await house.submit(sheer, PAIR_MARKS).expect(303);
    await house.submit(`${setOf(sheer)}/results`, {}).expect(409);
    expect((await house.data(setOf(sheer))).body.save).toBeNull();
  });

  it('stands with its photo on the page of each lot', async () => {
    const photo = await begin(await pairPhoto(RED, REDDER));
    await house.submit(photo, PAIR_MARKS).expect(303);
    for (const id of [lots.one, lots.other]) {
      const code = house.book.first(
        house.book.db.selectFrom('lot').select('code').where('id', '=', id),
      )?.code;
      const { text } = await house.page(`/shelf/lots/${code}`).expect(200);
      expect(text).toMatch(
        /<h2>Photos<\/h2>[\s\S]*photo-files[\s\S]*ΔE00 1\.\d\d<\/b>\. Likely within ± 1\.\d/,
      );
      expect(text).toContain(`/shelf/photos/new?one=lot-${id}`);
    }
  });
});
