import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { readFlawsOf } from '../../../../server/shelf/piece/flaws.ts';
import { length, makeBolt, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { addTierLike, balanceOf, entries, type OnTable, putOnTable } from '../tier/tier.ts';
import { holdLays } from './hold-lays.ts';

let house: TestHouse;
let table: OnTable;
let other: number;
let bolt: { id: number; code: string };
let ids: number[];

const cm = (n: number) => length(`${n} cm`);
const strip = { depth: cm(32), length: cm(49) };

// Strips of 32 × 49 cm on a bolt of 10 m, 147 cm wide in use, for 100.00. Lay 1 has two strips of Tier 1 and one of
// Tier 2 and takes the whole width; lay 2 has one of each, and 49 × 32 cm are left beside them.
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house, { strip: '49 cm' });
  other = addTierLike(house, table, 'Tier 2');
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '10 m', 10_000));
  house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ useful_remnant_ticks: cm(30) })));
  const first = { tierId: table.tierId, ...strip, left: 0 };
  ids = holdLays(house, table, [
    {
      pieceId: bolt.id,
      from: 0,
      height: cm(32),
      runs: [
        { ...first, columns: 2 },
        { tierId: other, ...strip, left: cm(98), columns: 1 },
      ],
      parts: [cm(22), cm(10)],
    },
    {
      pieceId: bolt.id,
      from: cm(32),
      height: cm(32),
      runs: [
        { ...first, columns: 1 },
        { tierId: other, ...strip, left: cm(49), columns: 1 },
      ],
      parts: [cm(16), cm(16)],
    },
  ]);
});
afterEach(() => house.shut());

const path = () => `/cutting-table/${table.code}`;
const bench = async () => (await house.data(`${path()}/bench`).expect(200)).body;
const cut = (fields: Record<string, string>) => house.submit(`${path()}/bench`, fields);
const cutNow = async (keep = true) => {
  const { now } = await bench();
  return cut({ lays: now.layIds, ...(keep ? { keep_rest: 'yes' } : {}) }).expect(303);
};
const sumOf = (rows: readonly number[]) => rows.reduce((sum, n) => sum + n, 0);

function entriesOfLast() {
  const { db } = house.book;
  const rows = house.book.all(db.selectFrom('entry').selectAll().orderBy('id'));
  return rows.filter(({ request_key: key }) => key === rows.at(-1)?.request_key);
}

function holds(): Record<string, number> {
  const rows = house.book.all(house.book.db.selectFrom('hold').selectAll());
  return Object.fromEntries(rows.map((row) => [row.tier_id, row.held_ticks]));
}

const check = () => expect(checkBook(house.book).findings).toEqual([]);

describe('the bench, lay by lay', () => {
  it('shows the lay now in large figures: what to pull, where to slit, and no typing', async () => {
    const data = await bench();
    expect(data).toMatchObject({ lays: 2, cut: 0, out: [], closed: '' });
    expect(data.now).toMatchObject({
      plies: 1,
      count: 'Lay 1 of 2',
      rest: '',
      lay: { length: '32 cm', lead: '', slits: ['49 cm', '98 cm'], crossCuts: [], flaws: 0 },
    });
    const page = await house.page(`${path()}/bench`).expect(200);
    const main = page.text.slice(page.text.indexOf('data-hand'), page.text.indexOf('<template'));
    expect(main.match(/<button|class="button/g)).toHaveLength(3);
    expect(main).not.toMatch(/<input type="text"/);
    expect(main).toContain('Pull 32 cm off');
  });

  it('enters a shared lay as a cut for each tier, whose lengths and costs add up', async () => {
    await cutNow();
    const made = entriesOfLast();
    expect(made.map(({ kind }) => kind)).toContain('cut');
    const cuts = made.filter(({ kind }) => kind === 'cut');
    // By area, two strips to one: two thirds of 32 cm, less the tick that each tier gets at least.
    expect(sumOf(cuts.map(({ length_ticks: ticks }) => ticks))).toBe(-cm(32));
    expect(cuts.map(({ tier_id: id, strips }) => [id, strips])).toEqual([
      [table.tierId, 2],
      [other, 1],
    ]);
    expect(sumOf(cuts.map(({ cost_minor: cost }) => cost))).toBe(-320);
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(968), cost: 9680 });
    // What is held for lay 2 stays.
    expect(holds()).toEqual({ [table.tierId]: cm(16), [other]: cm(16) });
    check();
  });

  it('keeps the rest of a shared lay as a remnant of its own width, at its share of the cost', async () => {
    await cutNow();
    const { now } = await bench();
    expect(now).toMatchObject({ count: 'Lay 2 of 2', rest: '49 cm wide, 32 cm long' });
    const done = await cutNow();
    const page = await house.page(done.headers.location ?? '').expect(200);
    const code = /kept: (R\d+) \(49 cm wide, 32 cm long\)/.exec(page.text)?.[1] ?? '';
    // A third of a lay that costs 320: 106.67, rounded down; two thirds are left for the strips, 107 each.
    expect(balanceOf(house, code)).toMatchObject({ onHand: cm(32), width: cm(49), cost: 106 });
    const kept = entriesOfLast().filter(({ kind }) => kind === 'joined');
    const cuts = entriesOfLast().filter(({ kind }) => kind === 'cut');
    const net = cuts.map(
      ({ id, cost_minor: cost }) =>
        -cost - sumOf(kept.filter(({ pair_id: pair }) => pair === id).map((row) => row.cost_minor)),
    );
    expect(net).toEqual([107, 107]);
    expect(holds()).toEqual({});
    expect(await bench()).toMatchObject({ now: null, cut: 2, lays: 2 });
    check();
  });

  it('enters the same tick once', async () => {
    const { now } = await bench();
    const key = newKey();
    await cut({ lays: now.layIds, request_key: key }).expect(303);
    const before = entries(house);
    await cut({ lays: now.layIds, request_key: key }).expect(303);
    expect(entries(house)).toBe(before);
    const late = await house.send(`${path()}/bench`, { lays: now.layIds }).expect(409);
    expect(late.body.error.message).toMatch(/^Lay 1 was cut already by /);
    expect(entries(house)).toBe(before);
  });

  it('says how many are cut where a later lay was cut first, since its number does not', async () => {
    await cut({ lays: String(ids[1]) }).expect(303);
    expect((await bench()).now.count).toBe('Lay 1 of 2; 1 cut');
  });

  it('says after an undo what is left now, not what was left before it', async () => {
    const done = await cutNow();
    expect((await house.page(done.headers.location ?? '')).text).toContain(`9.68 m of ${bolt.code} is left.`);
    const key = entriesOfLast()[0]?.request_key ?? '';
    const undone = await house.submit('/undo', { undoes: key }).expect(303);
    const told = (await house.page(undone.headers.location ?? '')).text;
    expect(told).toContain('Undone: Lay 1 cut from 0.32 m');
    expect(told).toContain(`10 m of ${bolt.code} is left.`);
    expect(told).not.toContain('9.68 m');
  });

  it('undoes a lay with all that was kept of it', async () => {
    await cutNow();
    const before = { bolt: balanceOf(house, bolt.code), holds: holds() };
    await cutNow();
    const key = entriesOfLast()[0]?.request_key ?? '';
    await house.submit('/undo', { undoes: key }).expect(303);
    expect({ bolt: balanceOf(house, bolt.code), holds: holds() }).toEqual(before);
    expect((await bench()).now).toMatchObject({ count: 'Lay 2 of 2' });
    check();
    await cutNow();
    expect((await bench()).cut).toBe(2);
    check();
  });
});

describe('a lay where something else happened', () => {
  const layData = async (i: number) => (await house.data(`${path()}/lays/${ids[i]}`).expect(200)).body;

  it('takes what was really used, and gives less back', async () => {
    const { fields } = await layData(0);
    expect(fields.length.value).toBe('0.32');
    const refused = await house.submit(`${path()}/lays/${ids[0]}`, { length: '31 cm' }).expect(422);
    expect(refused.text).toContain('The strips of this lay need 0.32 m.');
    expect(refused.text).toContain('value="31 cm"');
    await house.submit(`${path()}/lays/${ids[0]}`, { length: '40 cm' }).expect(303);
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(960), cost: 9600 });
    expect(holds()).toEqual({ [table.tierId]: cm(16), [other]: cm(16) });
    expect((await bench()).now).toMatchObject({ count: 'Lay 2 of 2', lay: { lead: '' } });
    check();
  });

  it('lets the last lay fall out where so much was used that nothing is left for it', async () => {
    await house.submit(`${path()}/lays/${ids[0]}`, { length: '9.8 m' }).expect(303);
    const data = await bench();
    expect(data.now).toBeNull();
    expect(data.out).toEqual([
      { number: 2, piece: bolt.code, why: expect.stringContaining('no longer held') },
    ]);
    const page = await house.page(`${path()}/bench`).expect(200);
    expect(page.text).toContain('Plan what is left again');
    await cut({ lays: String(ids[1]) }).expect(409);
    check();
  });

  it('keeps only the rests that are ticked', async () => {
    const { rests } = await layData(1);
    expect(rests).toEqual([{ key: `0.${cm(98)}`, label: '49 cm wide, 32 cm long', keep: true }]);
    await house.submit(`${path()}/lays/${ids[1]}`, { length: '32 cm' }).expect(303);
    expect(entriesOfLast().some(({ kind }) => kind === 'joined')).toBe(false);
  });
});

describe('a flaw that is found at the table', () => {
  const mark = (fields: Record<string, string>) =>
    house.submit(`/shelf/pieces/${bolt.code}/flaws`, { back: table.code, ...fields }).expect(303);

  it('moves lays behind it, and what is cut off first goes with the lay', async () => {
    const marked = await mark({ from: '20 cm', to: '25 cm', what: 'slub' });
    expect(marked.headers.location).toMatch(new RegExp(`^${path()}/bench`));
    const { now } = await bench();
    expect(now.lay).toMatchObject({ lead: '25 cm', taken: '0.57 m' });
    await cutNow();
    expect(balanceOf(house, bolt.code)).toMatchObject({ onHand: cm(943), cost: 9430 });
    expect(holds()).toEqual({ [table.tierId]: cm(16), [other]: cm(16) });
    expect(readFlawsOf(house.book, bolt.id)).toEqual([]);
    check();
  });

  it('does not move a lay whose strips lie beside it, and is known of the remnant', async () => {
    await cutNow();
    await mark({ from: '10 cm', to: '12 cm', left: '110 cm', right: '112 cm', what: 'hole' });
    expect((await bench()).now.lay).toMatchObject({ lead: '', flaws: 1 });
    await cutNow();
    const remnant = entriesOfLast().find(({ kind }) => kind === 'joined')?.piece_id ?? 0;
    expect(readFlawsOf(house.book, remnant)).toMatchObject([
      { fromTicks: cm(10), toTicks: cm(12), leftTicks: cm(12), rightTicks: cm(14), what: 'hole' },
    ]);
    check();
  });

  it('makes lays fall out that no longer fit, and so does a narrower width', async () => {
    await mark({ from: '1 cm', to: '9.9 m' });
    expect((await bench()).out).toMatchObject([
      { number: 1, why: `A flaw of ${bolt.code} is in its way.` },
      { number: 2, why: `A flaw of ${bolt.code} is in its way.` },
    ]);
    const [flaw] = readFlawsOf(house.book, bolt.id);
    await house.submit(`/shelf/pieces/${bolt.code}/flaws/${flaw?.id}/strikes`, {}).expect(303);
    expect((await bench()).out).toEqual([]);
    const measured = await house.submit(`/shelf/pieces/${bolt.code}/widths`, { width: '120' }).expect(303);
    const told = (await house.page(measured.headers.location ?? '')).text;
    expect(told).toContain('120 cm wide in use now');
    expect(told).toContain(`A lay of ${table.code} falls out.`);
    expect((await bench()).out).toMatchObject([{ number: 1, why: expect.stringContaining('147 cm across') }]);
    expect((await bench()).now).toMatchObject({ count: 'Lay 2 of 2' });
    check();
  });
});
