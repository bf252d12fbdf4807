import type BetterSqlite3 from 'better-sqlite3';
import type { Book } from '../../server/database/book.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';

// Workrooms of every size for the benchmarks: invented and seeded. Garments come in by the program's form; the years of
// work on them by statements past every guard of the file, as so many of them that forms would take hours, and in bulk
// where they are ten million: then `check` proves what the guards would have.

export interface WorkroomSize {
  readonly entries: number;
  readonly openGarments: number;
  readonly cloths: number;
  readonly shades: number;
  readonly places: number;
  /** past no guard, and indexed afterwards */
  readonly inBulk?: true;
}

export const SIZES: Readonly<Record<string, WorkroomSize>> = {
  '5k': { entries: 5_000, openGarments: 5, cloths: 8, shades: 12, places: 8 },
  '100k': { entries: 100_000, openGarments: 15, cloths: 24, shades: 60, places: 30 },
  '1m': { entries: 1_000_000, openGarments: 40, cloths: 40, shades: 120, places: 60 },
  '10m': { entries: 10_000_000, openGarments: 100, cloths: 60, shades: 160, places: 90, inBulk: true },
};

const ENTRIES_A_PIECE_ON_HAND = 80;
const ENTRIES_A_FINISHED_GARMENT = 800;
const PIECES_A_DELIVERY = 10;
const CUTS_OF_GONE = 8;
const TIERS = 8;
const PRICE_A_METRE = 300;
const FIRST_DAY = Date.UTC(2016, 2, 1);
const LAST_DAY = Date.UTC(2026, 2, 1);
const GIRTHS = [0, 40, 80, 110].map((drop) => ({ drop: String(drop), girth: String(70 + 3 * drop) }));
const WIDTH_TICKS = 147 * TICKS_PER.cm;
const REQUESTS_A_COMMIT = 5000;

/** A sequence of numbers from 0 up to 1 that is the same for the same seed (a linear congruential generator). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Sends a form to the program as a script does. */
export type Send = (url: string, fields: object) => Promise<unknown>;

interface Tier {
  readonly id: number;
  readonly clothId: number;
  readonly shadeId: number;
}

/** Fills a new book. Everything in it follows from the size and the seed. */
export async function fillWorkroom(book: Book, send: Send, size: WorkroomSize, seed = 1): Promise<void> {
  const random = seeded(seed);
  // Squared, so that a few cloths and shades are most of the shelf, as in a workroom.
  const pick = (count: number, first = 1) => first + Math.floor(random() ** 2 * (count - first + 1));
  const { connection } = book;
  addNames(connection, size);
  for (let place = 0; place < size.openGarments; place += 1) {
    const tiers = Array.from({ length: TIERS }, (_, tier) => ({
      drop: String(5 + tier * 10),
      depth: '20',
      fullness: '2.5',
      cloth_id: String(pick(size.cloths)),
      shade_id: String(pick(size.shades, 2)),
    }));
    const due = new Date(LAST_DAY + (31 + (place % 90)) * 86_400_000).toJSON().slice(0, 10);
    await send('/garments/new', { name: `Skirt ${place + 1}`, due_on: due, girths: GIRTHS, tiers });
  }
  const openTiers = readTiers(connection);
  const finished = Math.ceil(size.entries / ENTRIES_A_FINISHED_GARMENT);
  const oldTiers = addFinished(connection, finished, () => [pick(size.cloths), pick(size.shades, 2)]);
  const onHand = Math.ceil(size.entries / ENTRIES_A_PIECE_ON_HAND);
  const putGuardsBack = size.inBulk ? putGuardsAside(connection) : null;
  const ledger = new PastLedger(connection, size.entries);
  let deliveries = 0;
  let shelved = 0;
  while (ledger.entries < size.entries) {
    deliveries += 1;
    // What lies on the shelf came in the last tenth of the time.
    const stays = shelved < onHand && ledger.entries > 0.9 * size.entries;
    // Every other such delivery is of what an open garment needs.
    const wanted = stays && deliveries % 2 === 0 ? openTiers[deliveries % openTiers.length] : undefined;
    const [clothId, shadeId] = wanted
      ? [wanted.clothId, wanted.shadeId]
      : [pick(size.cloths), pick(size.shades)];
    const metres = stays ? 4 + Math.floor(random() * 40) : CUTS_OF_GONE;
    const pieceIds = ledger.deliver({ clothId, shadeId, placeId: pick(size.places), metres });
    if (stays) {
      shelved += PIECES_A_DELIVERY;
      if (wanted) ledger.hold(pieceIds[0] ?? 0, wanted.id, 1);
      if (wanted) ledger.cut(pieceIds[1] ?? 0, wanted.id, 1);
      continue;
    }
    for (const pieceId of pieceIds) {
      const tierId = oldTiers[Math.floor(random() * oldTiers.length)] ?? 0;
      for (let cut = 0; cut < CUTS_OF_GONE; cut += 1) {
        if (cut % 4 === 0) ledger.hold(pieceId, tierId, 1);
        ledger.cut(pieceId, tierId, 1, cut % 4 === 0);
      }
    }
  }
  ledger.close();
  putGuardsBack?.();
}

/**
 * Puts triggers, indexes and journal aside, and the requests where their keys need no order yet. What is given puts all
 * back: the requests by their keys, the balances as the entries say, the indexes at one go.
 */
function putGuardsAside(connection: BetterSqlite3.Database): () => void {
  const aside = connection
    .prepare<[], { type: string; name: string; sql: string }>(
      `SELECT type, name, sql FROM sqlite_schema
      WHERE type IN ('trigger', 'index') AND sql IS NOT NULL ORDER BY type, rowid`,
    )
    .all();
  const columns = connection.pragma('table_info(request)') as { name: string }[];
  for (const pragma of ['foreign_keys = OFF', 'journal_mode = OFF', 'cache_size = -500000'])
    connection.pragma(pragma);
  for (const { type, name } of aside) connection.exec(`DROP ${type} "${name}"`);
  // A table of the connection's own goes before the file's of the same name.
  connection.exec(`CREATE TEMP TABLE request (${columns.map(({ name }) => name)})`);
  return () => {
    connection.exec(`INSERT INTO main.request SELECT * FROM temp.request ORDER BY key;
      DROP TABLE temp.request;
      UPDATE piece SET on_hand_ticks = sums.length, held_ticks = sums.held, cost_minor = sums.cost
      FROM (SELECT piece_id, sum(length_ticks) AS length, sum(held_ticks) AS held, sum(cost_minor) AS cost
        FROM entry GROUP BY piece_id) AS sums WHERE sums.piece_id = piece.id;
      DELETE FROM hold;
      INSERT INTO hold (piece_id, tier_id, other_use_id, held_ticks)
      SELECT piece_id, tier_id, other_use_id, sum(held_ticks) FROM entry WHERE held_ticks <> 0
      GROUP BY piece_id, tier_id, other_use_id HAVING sum(held_ticks) <> 0;`);
    // Indexes first: a trigger may ask by one.
    for (const { sql } of aside) connection.exec(sql);
    for (const pragma of ['journal_mode = WAL', 'foreign_keys = ON']) connection.pragma(pragma);
  };
}

/** The past of a shelf: each request commits its entries as a form would, many of them in one transaction. */
class PastLedger {
  entries = 0;
  readonly #connection: BetterSqlite3.Database;
  readonly #expected: number;
  readonly #statements;
  #requests = 0;
  #lots = 0;
  #pieces = 0;

  constructor(connection: BetterSqlite3.Database, expected: number) {
    this.#connection = connection;
    this.#expected = expected;
    this.#statements = {
      request: connection.prepare(
        'INSERT INTO request (key, asked_hash, at, person_id, answer) VALUES (?, ?, ?, 1, ?)',
      ),
      receipt: connection.prepare('INSERT INTO receipt (supplier_id, at, person_id) VALUES (1, ?, 1)'),
      lot: connection.prepare(`INSERT INTO lot (code, cloth_id, shade_id, origin, mill_lot, supplier_id)
        VALUES (?, ?, ?, 'mill', ?, 1)`),
      piece: connection.prepare(`INSERT INTO piece (code, kind, lot_id, usable_width_ticks, place_id)
        VALUES (?, 'bolt', ?, ?, ?)`),
      entry: connection.prepare(`INSERT INTO entry
        (piece_id, kind, length_ticks, held_ticks, cost_minor, at, person_id, typed, request_key, tier_id, strips, receipt_id)
        VALUES (?, ?, ?, ?, ?, ?, 1, ?, ?, ?, ?, ?)`),
    };
    connection.exec('BEGIN IMMEDIATE');
  }

  /** Ten bolts of a lot of their own, `metres` long each. */
  deliver(of: { clothId: number; shadeId: number; placeId: number; metres: number }): number[] {
    const { receipt, lot, piece, entry } = this.#statements;
    const { at, key } = this.#begin();
    const receiptId = Number(receipt.run(at).lastInsertRowid);
    this.#lots += 1;
    const lotId = lot.run(`L${this.#lots}`, of.clothId, of.shadeId, `M-${this.#lots}`).lastInsertRowid;
    const [ticks, cost, typed] = [of.metres * TICKS_PER.m, of.metres * PRICE_A_METRE, `${of.metres} m`];
    const ids = Array.from({ length: PIECES_A_DELIVERY }, () => {
      this.#pieces += 1;
      const id = Number(piece.run(`B${this.#pieces}`, lotId, WIDTH_TICKS, of.placeId).lastInsertRowid);
      entry.run(id, 'received', ticks, 0, cost, at, typed, key, null, null, receiptId);
      return id;
    });
    this.#end({ at, key, entries: ids.length, said: `${ids.length} pieces received.` });
    return ids;
  }

  hold(pieceId: number, tierId: number, metres: number): void {
    const { at, key } = this.#begin();
    const ticks = metres * TICKS_PER.m;
    this.#statements.entry.run(pieceId, 'held', 0, ticks, 0, at, `${metres} m`, key, tierId, null, null);
    this.#end({ at, key, entries: 1, said: `${metres} m held.` });
  }

  cut(pieceId: number, tierId: number, metres: number, held = false): void {
    const { at, key } = this.#begin();
    const ticks = -metres * TICKS_PER.m;
    const cost = -metres * PRICE_A_METRE;
    this.#statements.entry.run(pieceId, 'cut', ticks, held ? ticks : 0, cost, at, '', key, tierId, 4, null);
    this.#end({ at, key, entries: 1, said: `4 strips cut from ${metres} m.` });
  }

  close(): void {
    this.#connection.exec('COMMIT');
  }

  #begin() {
    this.#requests += 1;
    const share = Math.min(1, this.entries / this.#expected);
    const at = new Date(FIRST_DAY + share * (LAST_DAY - FIRST_DAY)).toJSON();
    // Keys are random as the program's are, so that they lie scattered over the table.
    const scattered = (Math.imul(this.#requests, 0x9e3779b1) >>> 0).toString(16).padStart(8, '0');
    return { at, key: `${scattered}-past-${this.#requests}` };
  }

  #end({ at, key, entries, said }: { at: string; key: string; entries: number; said: string }): void {
    const location = `/shelf/pieces/B${this.#pieces}`;
    this.#statements.request.run(key, '0'.repeat(64), at, JSON.stringify({ location, said }));
    this.entries += entries;
    if (this.#requests % REQUESTS_A_COMMIT === 0) this.#connection.exec('COMMIT; BEGIN IMMEDIATE');
  }
}

function addNames(connection: BetterSqlite3.Database, size: WorkroomSize): void {
  const supplier = connection.prepare('INSERT INTO supplier (name, lead_days) VALUES (?, ?)');
  const cloth = connection.prepare(`INSERT INTO cloth
    (name, construction, width_ticks, usable_width_ticks, mass_per_area_mg_m2, supplier_id)
    VALUES (?, 'organza', ?, ?, 30000, 1)`);
  const fibre = connection.prepare(`INSERT INTO cloth_fibre VALUES (?, 'nylon', 10000)`);
  const shade = connection.prepare(`INSERT INTO shade (name, ground, lab_l, lab_a, lab_b, lab_how)
    VALUES (?, ?, ?, ?, ?, 'typed')`);
  const place = connection.prepare('INSERT INTO place (name) VALUES (?)');
  const offer = connection.prepare(`INSERT INTO offer
    (supplier_id, cloth_id, lead_days, from_on, currency, step_ticks, least_ticks, withdrawn, typed, at, person_id)
    VALUES (?, ?, 7, '2026-01-05', 'EUR', ?, ?, 0, '{}', '2026-01-05T08:00:00.000Z', 1)`);
  const price = connection.prepare(`INSERT INTO offer_price VALUES (?, 'length', 0, ?, ?)`);
  connection.transaction(() => {
    for (const number of [1, 2, 3]) supplier.run(`Supplier ${number}`, 3 + number);
    for (let number = 1; number <= size.cloths; number += 1) {
      const { lastInsertRowid: id } = cloth.run(`Organza ${number}`, 150 * TICKS_PER.cm, WIDTH_TICKS);
      fibre.run(id);
      for (const supplierId of [1, 2]) {
        const terms = [supplierId, id, TICKS_PER.m, TICKS_PER.m];
        price.run(offer.run(...terms).lastInsertRowid, 400 + 10 * supplierId + number, TICKS_PER.m);
      }
    }
    for (let number = 0; number < size.shades; number += 1) {
      const lab = [20 + (number % 60), (number % 40) - 20, (number % 30) - 15];
      shade.run(`Shade ${number + 1}`, number === 0 ? 1 : 0, ...lab);
    }
    for (let number = 1; number <= size.places; number += 1) place.run(`Rack ${number}`);
  })();
}

function readTiers(connection: BetterSqlite3.Database): Tier[] {
  return connection
    .prepare<[], Tier>(
      `SELECT tier.id, coalesce(block.cloth_id, tier.cloth_id) AS clothId, block.shade_id AS shadeId
      FROM tier JOIN colour_block AS block ON block.tier_id = tier.id ORDER BY tier.id`,
    )
    .all();
}

/** Finished garments: the first one over and over, in other cloths and shades. The ids of their tiers. */
function addFinished(
  connection: BetterSqlite3.Database,
  count: number,
  cloths: () => readonly [clothId: number, shadeId: number],
): number[] {
  const copyRow = (table: string, others: Readonly<Record<string, string>>) => {
    const columns = connection
      .prepare<[], { name: string }>(`SELECT name FROM pragma_table_info('${table}')`)
      .all()
      .map(({ name }) => name)
      .filter((name) => others[name] !== 'none');
    const values = columns.map((name) => others[name] ?? name);
    return `INSERT INTO ${table} (${columns}) SELECT ${values} FROM ${table}`;
  };
  const garment = connection.prepare(
    `${copyRow('garment', { id: 'none', code: '?', name: '?', finished_at: '?' })} WHERE id = 1`,
  );
  const girths = connection.prepare(`${copyRow('girth', { garment_id: '?' })} WHERE garment_id = 1`);
  const tier = connection.prepare(
    `${copyRow('tier', { id: 'none', garment_id: '?', cloth_id: '?' })} WHERE id = ?`,
  );
  const block = connection.prepare(
    `${copyRow('colour_block', { tier_id: '?', shade_id: '?' })} WHERE tier_id = ?`,
  );
  const first = readTiers(connection).slice(0, TIERS);
  const tierIds: number[] = [];
  connection.transaction(() => {
    for (let place = 0; place < count; place += 1) {
      const day = new Date(FIRST_DAY + ((place + 1) / count) * (LAST_DAY - FIRST_DAY)).toJSON();
      const garmentId = garment.run(`F${place + 1}`, `Past skirt ${place + 1}`, day).lastInsertRowid;
      girths.run(garmentId);
      for (const { id } of first) {
        const [clothId, shadeId] = cloths();
        const tierId = Number(tier.run(garmentId, clothId, id).lastInsertRowid);
        block.run(tierId, shadeId, id);
        tierIds.push(tierId);
      }
    }
  })();
  return tierIds;
}
