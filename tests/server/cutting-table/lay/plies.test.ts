import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { length, makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf, type OnTable, putOnTable } from '../tier/tier.ts';
import { holdLays } from './hold-lays.ts';

let house: TestHouse;
let table: OnTable;
let bolt: { id: number; code: string };
let second: { id: number; code: string };

const cm = (n: number) => length(`${n} cm`);

// Three equal lays of two strips of 32 × 49 cm, 49 cm beside them: two on the first bolt, one on the second; up to
// three plies at once.
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house, { strip: '49 cm' });
  const { lotId } = table.stock;
  [bolt, second] = house.write((tx) => [makeBolt(tx, lotId, '2 m', 2000), makeBolt(tx, lotId, '1 m', 900)]);
  house.write((tx) => {
    tx.run(tx.db.updateTable('workroom').set({ useful_remnant_ticks: cm(30) }));
    tx.run(tx.db.updateTable('cloth').set({ ply_limit: 3 }));
  });
  const runs = [{ tierId: table.tierId, depth: cm(32), length: cm(49), left: 0, columns: 2 }];
  const lay = { height: cm(32), runs, parts: [cm(32)] };
  holdLays(house, table, [
    { ...lay, pieceId: bolt.id, from: 0 },
    { ...lay, pieceId: bolt.id, from: cm(32) },
    { ...lay, pieceId: second.id, from: 0 },
  ]);
});
afterEach(() => house.shut());

const path = () => `/cutting-table/${table.code}`;
const bench = async () => (await house.data(`${path()}/bench`).expect(200)).body;

describe('equal lays in plies', () => {
  it('are one tick at the bench, and all their entries one request', async () => {
    const { now } = await bench();
    expect(now).toMatchObject({ plies: 3, count: 'Lays 1 to 3 of 3: 3 plies, cut at once', strokes: 3 });
    expect(now.pulls).toEqual([
      { piece: bolt.code, cutLengths: 2 },
      { piece: second.code, cutLengths: 1 },
    ]);
    const page = await house.page(`${path()}/bench`).expect(200);
    expect(page.text).toContain(`${bolt.code}</span> 2 times, and off`);
    const done = await house.submit(`${path()}/bench`, { lays: now.layIds, keep_rest: 'yes' }).expect(303);
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(136), held: 0 });
    expect(balanceOf(house, second.code)).toMatchObject({ onHand: cm(68), held: 0 });
    const { db } = house.book;
    const remnants = house.book.all(
      db.selectFrom('piece').selectAll().where('kind', '=', 'remnant').orderBy('id'),
    );
    expect(remnants.map((piece) => [piece.on_hand_ticks, piece.usable_width_ticks])).toEqual(
      [0, 1, 2].map(() => [cm(32), cm(49)]),
    );
    // The second remnant of the first bolt lay one cut length further from its free end.
    const places = house.book.all(db.selectFrom('remnant_from').selectAll().orderBy('piece_id'));
    expect(places.map((row) => [row.along_ticks, row.across_ticks])).toEqual([
      [0, cm(98)],
      [cm(32), cm(98)],
      [0, cm(98)],
    ]);
    const key = new URL(done.headers.location ?? '', 'http://x').searchParams.get('done') ?? '';
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(await bench()).toMatchObject({ cut: 0, now: { plies: 3 } });
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(200), held: cm(64), cost: 2000 });
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('are one tick all the same where the cloth is cut in one ply, or so many of them', async () => {
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ ply_limit: 1 })));
    const { now, then } = await bench();
    expect(now).toMatchObject({ plies: 1, count: 'Lay 1 of 3' });
    expect(now.equal).toMatchObject({ count: 3, pulls: `2 off ${bolt.code}, 1 off ${second.code}` });
    expect(now.equal.some).toEqual([
      { value: now.equal.layIds.split(' ').slice(0, 2).join(' '), label: '2 of 3' },
    ]);
    expect(then[0].equal).toMatchObject({ count: 2, some: [] });
    expect(then[1].equal).toBeNull();
    const page = await house.page(`${path()}/bench`).expect(200);
    expect(page.text).toContain('All 3 are cut');
    // Two of the three, then the last by itself.
    const two = { lays: now.equal.some[0].value, keep_rest: 'yes' };
    await house.submit(`${path()}/bench`, two).expect(303);
    expect(await bench()).toMatchObject({ cut: 2, now: { count: 'Lay 3 of 3', equal: null } });
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(136), held: 0 });
    expect(balanceOf(house, second.code)).toMatchObject({ onHand: cm(100) });
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('are not stacked past a flaw', async () => {
    await house.submit(`/shelf/pieces/${bolt.code}/flaws`, { from: '40 cm', to: '42 cm' }).expect(303);
    expect((await bench()).now).toMatchObject({ plies: 1, lay: { lead: '' } });
  });

  it('are counted on the sheet: cut lengths to pull, and strokes of the knife', async () => {
    const { plans, tiers } = (await house.data(`${path()}/sheet`).expect(200)).body;
    // Each bolt by itself: two lays in one stack and one lay, of three strokes each (two slits and the end).
    expect(plans).toMatchObject([
      {
        lays: 3,
        cutLays: 0,
        cutLengths: 3,
        plyLimit: 3,
        strokes: 6,
        strokesOneByOne: 9,
        pieces: [
          {
            code: bolt.code,
            takes: '0.64 m',
            left: '1.36 m',
            rows: [
              {
                numbers: [1, 2],
                strokes: 3,
                stacks: [{ said: '2 plies: 2 lengths on each other; 2 strips at a stroke' }],
              },
            ],
          },
          { code: second.code, takes: '0.32 m', left: '0.68 m', rows: [{ numbers: [3], stacks: [] }] },
        ],
      },
    ]);
    expect(tiers).toEqual(['Tier 1']);
    const page = await house.page(`${path()}/sheet`).expect(200);
    expect(page.text).toContain('Box for lay 2');
    expect(page.text).toContain('Actual length used');
    expect(page.text).toContain('Keep: 49 cm wide, 32 cm long.');
  });
});

describe('lays that are folded', () => {
  // The workroom's own figures, so that folding pays: the knife goes 1 m a minute and a fold takes a second.
  const RATES = { pull: '40', fold: '1', pin: '5', stroke: '30', knife: '1', allowance: '0' };
  const folded = async () => {
    await house.submit('/setup/rates/table', RATES).expect(303);
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ ply_limit: 6, fold_limit: 1 })));
  };

  it('say at the bench how they are folded and where they are cut, the cloth to keep lying single', async () => {
    await folded();
    const { now } = await bench();
    expect(now).toMatchObject({
      plies: 6,
      lengths: 3,
      count: 'Lays 1 to 3 of 3: 6 plies, cut at once',
      stacked: '6 plies: 3 lengths on each other, each with 1 fold; 6 strips at a stroke',
      fold: {
        fold: 'Left selvedge onto a mark 98 cm from it, the rest lying single: the fold lies 49 cm from the left selvedge, between strips.',
        cuts: 'Through all plies, from the fold, at 0 (slit the fold open) and 49 cm.',
      },
    });
    expect(now.lay.picture.folds).toHaveLength(1);
    const page = await house.page(`${path()}/bench`).expect(200);
    expect(page.text).toContain('Fold each.');
    expect(page.text).toContain('class="lay-fold"');
    await house.submit(`${path()}/bench`, { lays: now.layIds, keep_rest: 'yes' }).expect(303);
    expect(await bench()).toMatchObject({ cut: 3, now: null });
  });

  it('say so on the sheet, with the minutes they take', async () => {
    await folded();
    const [plan] = (await house.data(`${path()}/sheet`).expect(200)).body.plans;
    expect(plan.pieces[0].rows[0].stacks).toMatchObject([
      { numbers: [1, 2], strokes: 3, fold: { inStrips: false } },
    ]);
    // Flat: three lays of 40 s, 3 × 30 s and 2.11 m at 60 s each, 769.8 s. Folded on each other: 3 × 41 + 5 for the pins,
    // three strokes (90) over 0.49 + 0.49 + 2 × 0.32 m (97.2): 315.2 s.
    expect(plan.minutes).toBe('about 6 min; one by one, 13 min');
    const { text } = await house.page(`${path()}/sheet`).expect(200);
    expect(text).toContain('4 plies: 2 lengths on each other, each with 1 fold');
    expect((await house.page(`${path()}/plan`)).text).toContain('about 6 min; one by one, 13 min');
  });

  it('lie flat where an allowance would take of the cloth that is kept, and where no strip may have a fold line', async () => {
    await folded();
    await house.submit('/setup/rates/table', { ...RATES, allowance: '3' }).expect(303);
    expect((await bench()).now).toMatchObject({ plies: 3, fold: null });
    await house.submit('/setup/rates/table', RATES).expect(303);
    // Two columns have the fold between them, so they are folded all the same.
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ fold_line_in_strips: 0 })));
    expect((await bench()).now).toMatchObject({ plies: 6 });
  });
});

describe('a garment without a held plan', () => {
  it('says so at the bench and on the sheet, with a way on', async () => {
    const other = putOnTable(house, { strip: '49 cm' });
    for (const page of ['bench', 'sheet']) {
      const { text } = await house.page(`/cutting-table/${other.code}/${page}`).expect(200);
      expect(text).toContain('No plan is held for this garment.');
      expect(text).toContain(`/cutting-table/${other.code}/plan`);
    }
    await house.page('/cutting-table/G999/bench').expect(404);
    await house.page(`/cutting-table/${other.code}/lays/1`).expect(404);
    await house.send(`${path()}/bench`, { lays: '1 x' }).expect(404);
    await house.send(`${path()}/bench`, { lays: '999' }).expect(404);
  });
});
