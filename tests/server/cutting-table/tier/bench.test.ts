import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, makeBolt, makeLot, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf, entries, type OnTable, putOnTable } from './tier.ts';

let house: TestHouse;
let table: OnTable;
let bolt: string;

// Eight strips of 32 × 49 cm, three a cut length of 147 cm; a bolt of 1.1 m for 11.00.
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house, { strip: '49 cm' });
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '1.1 m', 1100)).code;
});
afterEach(() => house.shut());

const bench = async () => (await house.data(`${table.path}/bench`).expect(200)).body;
const cutOneLength = (fields: Record<string, string>) => house.submit(`${table.path}/bench`, fields);
interface CutLength {
  piece: { code: string };
  strips: number;
  size: string;
}
const asShown = ({ piece, strips, size }: CutLength) => ({ piece: piece.code, strips: String(strips), size });

describe('the bench hand', () => {
  it('shows one cut length in large figures, with a button for it, one for all of its piece, and no typing', async () => {
    const { cutLength } = await bench();
    expect(cutLength).toMatchObject({
      piece: { code: bolt, place: '' },
      from: 'free',
      length: '32 cm',
      across: '49 cm',
      strips: 3,
      count: 'Strips 1 to 3 of 8',
      lengthsHere: 3,
      rest: '',
      keepRest: false,
    });
    const page = await house.page(`${table.path}/bench`).expect(200);
    expect(page.text).toContain('data-hand="bench"');
    const main = page.text.slice(page.text.indexOf('data-hand'), page.text.indexOf('<template'));
    expect(main.match(/<button|class="button/g)).toHaveLength(3);
    expect(main).not.toMatch(/<input type="text"/);
  });

  it('cuts all cut lengths of a piece in one tap', async () => {
    const { cutLength } = await bench();
    expect(cutLength.all).toMatchObject({ strips: 8 });
    expect((await house.page(`${table.path}/bench`)).text).toContain('All 3 lengths from it are cut');
    const done = await cutOneLength({ ...asShown(cutLength), strips: String(cutLength.all.strips) }).expect(
      303,
    );
    expect((await house.page(done.headers.location ?? '')).text).toContain(
      `8 strips cut for Tier 1 of ${table.code} from 0.96 m of ${bolt}`,
    );
    expect(await bench()).toMatchObject({ cutLength: null, allCut: true });
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('14 cm') });
  });

  it('goes cut length by cut length to the end, and counts by the ledger', async () => {
    const first = await bench();
    const done = await cutOneLength(asShown(first.cutLength)).expect(303);
    expect(done.headers.location).toMatch(new RegExp(`^${table.path}/bench\\?done=`));
    const page = await house.page(done.headers.location ?? '').expect(200);
    expect(page.text).toContain(
      `3 strips cut for Tier 1 of ${table.code} from 0.32 m of ${bolt}. 0.78 m of ${bolt} is left.`,
    );
    expect(page.text).toContain('>Undo<');
    expect(page.text).toContain('Strips 4 to 6 of 8');
    await cutOneLength(asShown((await bench()).cutLength)).expect(303);
    const last = await bench();
    expect(last.cutLength).toMatchObject({
      strips: 2,
      count: 'Strips 7 to 8 of 8',
      lengthsHere: 1,
      rest: '49 cm wide, 0.32 m long',
      keepRest: false,
    });
    await cutOneLength(asShown(last.cutLength)).expect(303);
    const over = await bench();
    expect(over).toMatchObject({ cutLength: null, allCut: true, stuck: [] });
    expect((await house.page(`${table.path}/bench`)).text).toContain('Every strip of Tier 1 is cut.');
    // Three cut lengths of 32 cm are 96 of 110 cm.
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('14 cm'), cost: 140 });
  });

  it('keeps the rest by a tick', async () => {
    await house.submit(`${table.path}/cuts`, { piece: bolt, strips: '6' }).expect(303);
    const { cutLength } = await bench();
    const done = await house
      .send(`${table.path}/bench`, { ...asShown(cutLength), keep_rest: true })
      .expect(200);
    const remnant = /is (R\d+)\./.exec(done.body.said)?.[1] ?? '';
    // The cut length costs 320; 49 of its 147 cm are kept: 106.67, rounded down.
    expect(balanceOf(house, remnant)).toMatchObject({
      onHand: length('32 cm'),
      width: length('49 cm'),
      cost: 106,
    });
  });

  it('keeps a rest unless somebody says otherwise where it is worth it', async () => {
    const deep = { depth_ticks: length('53 cm') };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(deep).where('id', '=', table.tierId)));
    const long = house.write((tx) => makeBolt(tx, table.stock.lotId, '3 m')).code;
    await house.submit(`${table.path}/cuts`, { piece: long, strips: '7' }).expect(303);
    // A cut length of 55 cm for one strip: 98 × 55 cm are left, and a useful remnant is 50 cm long.
    expect((await bench()).cutLength).toMatchObject({
      strips: 1,
      rest: '98 cm wide, 0.55 m long',
      keepRest: true,
    });
    const page = await house.page(`${table.path}/bench`).expect(200);
    expect(page.text).toMatch(/name="keep_rest"[^>]* checked/);
  });

  it('takes what is held first', async () => {
    const held = house.write((tx) => makeBolt(tx, table.stock.lotId, '3 m')).code;
    await house.submit(`${table.path}/holds`, { piece: held, length: '0.32' }).expect(303);
    expect((await bench()).cutLength).toMatchObject({ piece: { code: held }, from: 'held', lengthsHere: 1 });
  });

  it('is undone by its slip, and shows the cut length again', async () => {
    const key = newKey();
    const { cutLength } = await bench();
    await cutOneLength({ ...asShown(cutLength), request_key: key }).expect(303);
    const undone = await house.submit('/undo', { undoes: key }).expect(303);
    expect(undone.headers.location).toContain(`${table.path}/bench`);
    expect((await bench()).cutLength.count).toBe('Strips 1 to 3 of 8');
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('1.1 m'), cost: 1100 });
  });

  it('leads to the full form for what went otherwise, and back to the bench', async () => {
    const { cutLength } = await bench();
    const page = await house.page(cutLength.otherwiseHref).expect(200);
    expect(page.text).toContain('name="back" value="bench"');
    const done = await house
      .submit(`${table.path}/cuts`, { piece: bolt, strips: '2', length: '0.4', why: 'A flaw', back: 'bench' })
      .expect(303);
    expect(done.headers.location).toMatch(/\/bench\?done=/);
  });
});

describe('a cut length that somebody else was quicker with', () => {
  it('is not entered, and tells who cut the last ones', async () => {
    const { cutLength } = await bench();
    await house.submit(`${table.path}/cuts`, { piece: bolt, strips: '7' }).expect(303);
    const before = entries(house);
    const refused = await cutOneLength(asShown(cutLength)).expect(409);
    expect(refused.text).toMatch(/Only 1 of 8 are left to cut\. The last cut was made by Maker, 2 Mar 2026/);
    expect(refused.text).toContain('Nothing was entered for this length.');
    expect(entries(house)).toBe(before);
    await house.submit(`${table.path}/cuts`, { piece: bolt, strips: '1', length: '' }).expect(409);
  });

  it('of the last length: one of two wins', async () => {
    const last = house.write((tx) => makeBolt(tx, table.stock.lotId, '32 cm')).code;
    const { cutLength } = await bench();
    const fields = { ...asShown(cutLength), piece: last };
    const answers = await Promise.all([cutOneLength(fields), cutOneLength(fields)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409]);
    const refused = answers.find(({ status }) => status === 409);
    expect(refused?.text).toContain(`and 0 m can be had`);
    expect(refused?.text).toContain('Strips 4 to 6 of 8');
  });

  it('of the last strips: one of two wins', async () => {
    await house.submit(`${table.path}/cuts`, { piece: bolt, strips: '6' }).expect(303);
    const more = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m')).code;
    const fields = { piece: more, strips: '2' };
    const answers = await Promise.all([cutOneLength(fields), cutOneLength(fields)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409]);
    expect(balanceOf(house, more).onHand).toBe(length('1.68 m'));
  });

  it('or that was changed, is not entered', async () => {
    const { cutLength } = await bench();
    const deeper = { depth_ticks: length('31 cm'), changed_at: '2026-03-02T11:00:00.000Z', changed_by_id: 1 };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(deeper).where('id', '=', table.tierId)));
    const refused = await cutOneLength(asShown(cutLength)).expect(409);
    expect(refused.text).toContain('a strip is now 33 cm × 49 cm');
  });
});

describe('a bench where nothing can be cut', () => {
  it('says that there is no cloth', async () => {
    const bare = putOnTable(house);
    const { body } = await house.data(`${bare.path}/bench`).expect(200);
    expect(body).toMatchObject({ cutLength: null, allCut: false });
    expect(body.stuck[0]).toMatch(/^3 strips of Shade \d+: no cloth of it is free that gives a strip\.$/);
    expect((await house.page(`${bare.path}/bench`)).text).toContain('No length can be cut now.');
  });

  it('says that only another lot is free', async () => {
    await house.submit(`${table.path}/cuts`, { piece: bolt, strips: '3', length: '1.1' }).expect(303);
    const lotId = house.write((tx) => makeLot(tx, table.stock.clothId, table.stock.shadeId));
    house.write((tx) => makeBolt(tx, lotId, '5 m'));
    expect((await bench()).stuck[0]).toContain('what is free is of another lot than what is in use');
  });

  it('says that the tier is taken out', async () => {
    const out = { taken_out_at: '2026-03-01T10:00:00.000Z' };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(out).where('id', '=', table.tierId)));
    const page = await house.page(`${table.path}/bench`).expect(200);
    expect(page.text).toContain('is taken out');
    expect(page.text).not.toContain('Cut this length');
    await cutOneLength({ piece: bolt, strips: '3' }).expect(409);
  });
});
