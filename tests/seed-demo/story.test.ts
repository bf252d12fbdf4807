import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seedDemo } from '../../seed-demo/seed.ts';
import type { Book } from '../../server/database/book.ts';
import { readAtThePot } from '../../server/dye-bench/pot/log-verbs.ts';
import { readSeries } from '../../server/dye-bench/series/store.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { KIND_WORDS } from '../../server/ledger/words.ts';
import { readOpenOrders, readOrders } from '../../server/orders/order/queries.ts';
import { readNeeds, readShort } from '../../server/short/queries.ts';
import { yd } from '../lengths.ts';
import { makeStock, openTestBook, type TestBook } from '../server/support.ts';
import { NOON, openDemo } from './demo.ts';

let demo: TestBook;
let book: Book;
beforeAll(async () => {
  demo = await openDemo();
  book = demo.book;
});
afterAll(() => demo.close());

const TABLES = [
  'workroom',
  'person',
  'supplier',
  'place',
  'cloth',
  'cloth_fibre',
  'shade',
  'lot',
  'piece',
  'garment',
  'girth',
  'tier',
  'tier_size',
  'garment_version',
  'colour_block',
  'order',
  'order_line',
  'receipt',
  'vessel',
  'recipe',
  'recipe_dye',
  'recipe_auxiliary',
  'batch',
  'batch_piece',
  'entry',
  'hold',
  'request',
] as const;

const rowsOf = (of: Book, table: (typeof TABLES)[number]) => of.all(of.db.selectFrom(table).selectAll());

describe('the book of the demo', () => {
  it('is proved by the same check as any other', () => {
    const { findings, read } = checkBook(book);
    expect(findings).toEqual([]);
    expect(read.entries).toBeGreaterThanOrEqual(70);
  });

  it('is the same for the same day, row by row', async () => {
    const again = await openTestBook(() => NOON);
    seedDemo(again.book, NOON);
    for (const table of TABLES) expect(rowsOf(again.book, table)).toEqual(rowsOf(book, table));
    again.close();
  });

  it('is told once: a book that holds a cloth is left as it is', async () => {
    const before = rowsOf(book, 'request').length;
    seedDemo(book, NOON);
    expect(rowsOf(book, 'request')).toHaveLength(before);
    const own = await openTestBook();
    own.write((tx) => makeStock(tx));
    seedDemo(own.book, NOON);
    expect(rowsOf(own.book, 'cloth')).toHaveLength(1);
    expect(rowsOf(own.book, 'workroom')).toMatchObject([{ invented: 0 }]);
    own.close();
  });

  it.each([
    ['noon', NOON],
    ['just after midnight', new Date(2026, 2, 2, 0, 5)],
    ['the last minute of a day', new Date(2026, 2, 2, 23, 59)],
    ['the day after the clocks went forward', new Date(2026, 2, 30, 8, 0)],
  ])('happened in order and before now, at %s', async (_, now) => {
    const { book: told, close } = await openDemo(now);
    const instants = told
      .all(told.db.selectFrom('request').select(['at', 'key']).orderBy('key'))
      .map(({ at }) => at);
    expect(instants).toEqual([...instants].sort());
    expect(instants.at(-1)?.localeCompare(now.toISOString())).toBe(-1);
    close();
  });
});

describe('what the demo shows', () => {
  it('is a workroom of a size to look around in', () => {
    expect(rowsOf(book, 'cloth').length).toBeGreaterThanOrEqual(6);
    expect(rowsOf(book, 'piece').filter((piece) => piece.on_hand_ticks > 0).length).toBeGreaterThanOrEqual(
      30,
    );
    expect(rowsOf(book, 'shade').filter((shade) => shade.lab_l !== null).length).toBeGreaterThanOrEqual(12);
    expect(rowsOf(book, 'shade').filter((shade) => shade.ground === 1).length).toBeGreaterThanOrEqual(1);
    expect(rowsOf(book, 'supplier')).toHaveLength(6);
    expect(rowsOf(book, 'person').map((person) => person.length_system)).toEqual([
      null,
      null,
      null,
      'imperial',
    ]);
    const rows = rowsOf(book, 'tier').filter((tier) => tier.garment_id === 2);
    expect(rows.filter((row) => row.garment_part_id === null)).toHaveLength(5);
    // Each part has a row beside the tiers for what is cut for it, and each further size of the band.
    expect(rows.filter((row) => row.garment_part_id !== null)).toHaveLength(9);
    expect(rowsOf(book, 'tier').filter((tier) => tier.on_tier_id !== null)).toHaveLength(13);
  });

  it('has entries of all kinds', () => {
    const kinds = new Set(rowsOf(book, 'entry').map(({ kind }) => kind));
    expect([...kinds].sort()).toEqual(Object.keys(KIND_WORDS).sort());
  });

  it('has orders in every state of their road, one of them late', () => {
    expect(readOrders(book, { beforeId: null, count: 50 }).map(({ code, state }) => [code, state])).toEqual([
      ['P8', 'sent'],
      ['P7', 'draft'],
      ['P6', 'draft'],
      ['P5', 'sent'],
      ['P4', 'part'],
      ['P3', 'sent'],
      ['P2', 'part'],
      ['P1', 'received'],
    ]);
    const late = readOpenOrders(book).filter(
      ({ expectedOn }) => expectedOn !== null && expectedOn < '2026-03-02',
    );
    expect(late.map(({ code }) => code)).toEqual(['P2']);
  });

  it('is short of seven shades, for three garments', () => {
    const short = readShort(book).map(({ shade, shortStrips }) => [shade.name, shortStrips]);
    expect(short).toEqual([
      ['Buoy red', 1],
      ['Harbour ink', 2],
      ['Ember', 3],
      ['Dusk violet', 3],
      ['Spume', 15],
      ['Slack water', 102],
      ['Low water', 131],
    ]);
  });

  it('is a series of five depths over three undyed lots, logged step by step, judged and cut for five tiers', () => {
    const [row] = book.all(book.db.selectFrom('series').select('code'));
    const { steps } = readSeries(book, row?.code ?? '');
    expect(steps.map(({ depthOwfMilli }) => depthOwfMilli)).toEqual([100, 200, 400, 800, 1600]);
    const lots = new Set<string>();
    const taken: [number, number][] = [];
    let sentTicks = 0;
    for (const { batchCode } of steps) {
      const pot = readAtThePot(book, batchCode ?? '');
      for (const { clock, rows } of pot.baths) {
        expect(clock.steps.filter(({ actual }) => actual?.toMs == null)).toEqual([]);
        expect(rows.filter(({ kind }) => kind === 'temperature' || kind === 'pH')).toHaveLength(5);
        taken.push([clock.begunMs ?? 0, clock.steps.at(-1)?.actual?.fromMs ?? 0]);
      }
      for (const { lot, lengthTicks } of pot.batch.card?.pieces ?? []) {
        lots.add(lot);
        sentTicks += lengthTicks;
      }
      const verdicts = book.db
        .selectFrom('batch_log')
        .select('what')
        .where('batch_id', '=', pot.batch.id)
        .where('kind', '=', 'result');
      expect(book.all(verdicts)).toEqual([{ what: 'accepted' }]);
    }
    expect(lots.size).toBe(3);
    expect(sentTicks).toBeGreaterThan(40 * 160_000);
    // One pot holds one bath at a time: the next begins after the cloth of the one before is taken out to dry.
    for (const [at, [begunMs]] of taken.entries()) expect(begunMs).toBeGreaterThan(taken[at - 1]?.[1] ?? 0);
    const { lines } = readNeeds(book);
    const tiers = lines.filter(({ shade }) => shade.name.startsWith('Smoke '));
    expect(tiers.filter(({ shortStrips }) => shortStrips > 0)).toEqual([]);
  });

  it('is a great skirt of ten ruffled tiers in three shades, bought, dyed and cut in part, short in every way', async () => {
    const of = { garmentCode: 'G5', whole: true };
    const { worked, lines } = readNeeds(book, of);
    const great = worked.find(({ garment }) => garment.code === 'G5');
    const tiers = great?.garment.tiers ?? [];
    expect(tiers.filter(({ name }) => /^Tier \d+$/.test(name))).toHaveLength(10);
    expect(tiers.filter(({ hangs }) => hangs === 'edge')).toHaveLength(10);
    // Strips times their cut depth, full widths each: what it takes of cloth.
    const metres = (great?.needs ?? [])
      .flatMap(({ demands }) => demands)
      .reduce((sum, { count, depthTicks }) => sum + (count * depthTicks) / 160_000, 0);
    expect(metres).toBeGreaterThan(85);
    expect(metres).toBeLessThan(105);
    const reasons = lines.flatMap(({ shares }) =>
      shares.flatMap(({ short }) => short.reasons.map(({ kind }) => kind)),
    );
    expect(reasons).toEqual(
      expect.arrayContaining(['nothing free', 'too narrow', 'other lots', 'too short']),
    );
    const kinds = book.all(
      book.db
        .selectFrom('garment_part')
        .innerJoin('garment', 'garment.id', 'garment_part.garment_id')
        .select('garment_part.kind')
        .where('garment.code', '=', 'G5'),
    );
    expect(kinds.map(({ kind }) => kind)).toEqual([
      'closing',
      'cage',
      'layer',
      'pleats',
      'flounce',
      'trim',
      'gathering',
    ]);
  });

  it('is marked as invented all over', () => {
    expect(rowsOf(book, 'workroom')).toMatchObject([{ invented: 1 }]);
    for (const { name } of rowsOf(book, 'recipe_dye')) expect(name).toMatch(/ \(invented\)$/);
    for (const { note } of rowsOf(book, 'recipe')) expect(note).toContain('invented');
    for (const { note } of rowsOf(book, 'supplier')) expect(note).toMatch(/^Invented\./);
    for (const { note } of rowsOf(book, 'garment')) expect(note).toMatch(/^Invented\./);
    for (const { article } of rowsOf(book, 'cloth')) expect(article).toMatch(/^invented /);
  });
});

describe('balances of the demo, worked out by hand', () => {
  const m = (metres: number) => Math.round(metres * 160_000);

  function balanceOf(cloth: string, shade: string, millLot: string) {
    return book.all(
      book.db
        .selectFrom('piece')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
        .innerJoin('shade', 'shade.id', 'lot.shade_id')
        .select(['piece.on_hand_ticks as onHand', 'piece.held_ticks as held', 'piece.cost_minor as cost'])
        .where('cloth.name', '=', cloth)
        .where('shade.name', '=', shade)
        .where('lot.mill_lot', '=', millLot)
        .orderBy('piece.id'),
    );
  }

  it('Harbour ink: 1.9 m less 3 strips in two drops of 40.5 cm; 94 cm held', () => {
    const [piece] = balanceOf('Nylon organza 150', 'Harbour ink', 'N-2164');
    expect(piece).toMatchObject({ onHand: m(1.09), held: m(0.94) });
  });

  it('Foam tulle: 40 yd less 8 strips of 11.5 cm; four more are planned and held', () => {
    const [piece] = balanceOf('Polyester tulle 137', 'Foam', 'T-41');
    expect(piece).toMatchObject({ onHand: yd('40') - m(0.92), held: m(0.46) });
  });

  it('Buoy red: 2.1 m for 16.59 less 1.55 m of stain (12.25) and a strip of 42.5 cm', () => {
    const [piece] = balanceOf('Viscose chiffon 140', 'Buoy red', '888');
    // 16.59 × 1.55 / 2.1 = 12.245 → 12.25; of the 4.34 left 0.425 / 0.55 = 3.3536 → 3.35.
    expect(piece).toEqual({ onHand: m(0.125), held: 0, cost: 99 });
  });

  it('Deep tide: 1.95 m back from dye, less a drop of 36.5 cm and two of 40.5 cm; of the last, 75 × 40.5 cm is kept', () => {
    const dyed = balanceOf('Nylon organza 150', 'Deep tide', '');
    expect(dyed.map(({ onHand }) => onHand)).toEqual([m(1.81), m(0.775), m(0.405)]);
  });
});
