import { type Compilable, sql } from 'kysely';
import { Book, type Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { countsAs } from '../../ledger/joined-lots.ts';

/** What lies on the shelf of a lot. Lengths in ticks of 1/160 mm; free is what nobody holds. */
export interface LotSums {
  readonly lotId: number;
  /** the lot that it counts as: itself, or the one that it was judged to be one with */
  readonly countsAsId: number;
  readonly clothId: number;
  readonly shadeId: number;
  readonly pieces: number;
  readonly freePieces: number;
  readonly longestFree: number;
  readonly free: number;
  readonly longestOnHand: number;
  readonly onHand: number;
}

/** Lots that have something on hand, in the order of the shelf, and what is asked of all of them together. */
export interface LotsInOrder {
  readonly lots: readonly LotSums[];
  readonly byShade: ReadonlyMap<number, readonly LotSums[]>;
  readonly byCloth: ReadonlyMap<number, readonly LotSums[]>;
  readonly byLot: ReadonlyMap<number, LotSums>;
}

type Order = 'shade' | 'cloth';

const KEPT = new WeakMap<Book, KeptLots>();

/** What is kept of a book; null within a write, whose changes are nobody's yet. */
function keptLotsOf(reader: Reader): KeptLots | null {
  if (!(reader instanceof Book) || reader.connection.inTransaction) return null;
  const kept = KEPT.get(reader) ?? new KeptLots(reader);
  KEPT.set(reader, kept);
  return kept;
}

/** All lots of the shelf in its order by shade or by cloth, kept from one request to the next. */
export function lotsInOrder(reader: Reader, by: Order): LotsInOrder {
  return keptLotsOf(reader)?.read(by) ?? lotsAfresh(reader, by);
}

/** The same, read and added up from nothing. */
export function lotsAfresh(reader: Reader, by: Order): LotsInOrder {
  return inOrder(reader.all(sumsOfAll()), readRanks(reader), by);
}

/** Puts some lots in the order of the shelf. */
export function putInOrder(reader: Reader, lots: readonly LotSums[], by: Order): LotsInOrder {
  return inOrder(lots, keptLotsOf(reader)?.ranks ?? readRanks(reader), by);
}

/** Sums by lot of whatever pieces a query has. */
export function selectLotSums(db: Reader['db']) {
  return db
    .selectFrom('piece')
    .select([
      'piece.lot_id as lotId',
      sql<number>`count(*)`.as('pieces'),
      sql<number>`sum(piece.on_hand_ticks > piece.held_ticks)`.as('freePieces'),
      sql<number>`max(piece.on_hand_ticks - piece.held_ticks)`.as('longestFree'),
      sql<number>`sum(piece.on_hand_ticks - piece.held_ticks)`.as('free'),
      sql<number>`max(piece.on_hand_ticks)`.as('longestOnHand'),
      sql<number>`sum(piece.on_hand_ticks)`.as('onHand'),
    ])
    .groupBy('piece.lot_id');
}

/** Sums by lot, with the cloth and the shade that each is of. */
export function withLots(db: Reader['db'], sums: ReturnType<typeof selectLotSums>): Compilable<LotSums> {
  return db
    .selectFrom(sums.as('sums'))
    .innerJoin('lot', 'lot.id', 'sums.lotId')
    .selectAll('sums')
    .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId', countsAs().as('countsAsId')]);
}

const sumsOfAll = prepared((db) => withLots(db, selectLotSums(db).where('piece.on_hand_ticks', '>', 0)));
const sumsOfLots = prepared((db, ids: Param<readonly number[]>) =>
  withLots(
    db,
    selectLotSums(db).where('piece.lot_id', 'in', inList(ids)).where('piece.on_hand_ticks', '>', 0),
  ),
);
const shadesByName = prepared((db) => db.selectFrom('shade').select('id').orderBy('name'));
const clothsByName = prepared((db) => db.selectFrom('cloth').select('id').orderBy('name'));

/** At what place of all names each shade and each cloth stands: the file's order, not the program's. */
interface Ranks {
  readonly shades: ReadonlyMap<number, number>;
  readonly cloths: ReadonlyMap<number, number>;
}

function readRanks(reader: Reader): Ranks {
  const ranksOf = (rows: readonly { readonly id: number }[]) =>
    new Map(rows.map(({ id }, rank) => [id, rank]));
  return { shades: ranksOf(reader.all(shadesByName())), cloths: ranksOf(reader.all(clothsByName())) };
}

function inOrder(lots: readonly LotSums[], { shades, cloths }: Ranks, by: Order): LotsInOrder {
  const shade = ({ shadeId }: LotSums) => shades.get(shadeId) ?? 0;
  const cloth = ({ clothId }: LotSums) => cloths.get(clothId) ?? 0;
  const [first, second] = by === 'shade' ? [shade, cloth] : [cloth, shade];
  const sorted = lots.toSorted((a, b) => first(a) - first(b) || second(a) - second(b) || a.lotId - b.lotId);
  return {
    lots: sorted,
    byShade: grouped(sorted, ({ shadeId }) => shadeId),
    byCloth: grouped(sorted, ({ clothId }) => clothId),
    byLot: new Map(sorted.map((lot) => [lot.lotId, lot])),
  };
}

/**
 * Keeps, on one connection, what lies on the shelf of each lot. Triggers note the lots that a write touches within the
 * very transaction that writes, and only those are added up again.
 */
class KeptLots {
  readonly #book: Book;
  readonly #touched: () => number[];
  readonly #clear: () => void;
  readonly #lots = new Map<number, LotSums>();
  readonly #inOrder = new Map<Order, LotsInOrder>();
  #ranks: Ranks | null = null;

  constructor(book: Book) {
    this.#book = book;
    book.connection.exec(NOTES);
    const touched = book.connection
      .prepare<[], number>('SELECT DISTINCT lot_id FROM temp.touched_lot')
      .pluck();
    const clear = book.connection.prepare('DELETE FROM temp.touched_lot');
    this.#touched = () => touched.all();
    this.#clear = () => void clear.run();
  }

  read(by: Order): LotsInOrder {
    const { ranks } = this;
    const known = this.#inOrder.get(by) ?? inOrder([...this.#lots.values()], ranks, by);
    this.#inOrder.set(by, known);
    return known;
  }

  get ranks(): Ranks {
    const touched = this.#touched();
    if (this.#ranks !== null && touched.length === 0) return this.#ranks;
    const ranks = this.#ranks !== null && !touched.includes(NAMES) ? this.#ranks : readRanks(this.#book);
    const sums = this.#book.all(this.#ranks === null ? sumsOfAll() : sumsOfLots(touched));
    // What was touched is forgotten only when it has been read.
    this.#clear();
    this.#inOrder.clear();
    for (const id of touched) this.#lots.delete(id);
    for (const lot of sums) this.#lots.set(lot.lotId, lot);
    this.#ranks = ranks;
    return ranks;
  }
}

/** Stands among the lots for the names of shades and cloths; no lot has the number. */
const NAMES = 0;

const touch = (lotId: string | number) => `INSERT INTO touched_lot SELECT ${lotId};`;

/** A piece comes with nothing on hand, carries the sums of its entries and holds, and stays of its lot. */
export const TOUCHES_A_LOT: readonly (readonly [event: string, table: string, notes: string])[] = [
  ['UPDATE OF on_hand_ticks, held_ticks', 'piece', touch('NEW.lot_id')],
  ['UPDATE', 'lot', touch('NEW.id')],
  ['INSERT', 'shade', touch(NAMES)],
  ['UPDATE OF name', 'shade', touch(NAMES)],
  ['INSERT', 'cloth', touch(NAMES)],
  ['UPDATE OF name', 'cloth', touch(NAMES)],
];

const NOTES = `CREATE TEMP TABLE IF NOT EXISTS touched_lot (lot_id INTEGER);
${TOUCHES_A_LOT.map(
  ([event, table, notes]) =>
    `CREATE TEMP TRIGGER IF NOT EXISTS touched_lot_by_${table}_${event.slice(0, 6).toLowerCase()}
    AFTER ${event} ON main.${table} BEGIN ${notes} END;`,
).join('\n')}`;
