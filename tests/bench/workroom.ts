import type { Answer, Book, Tx } from '../../server/database/book.ts';
import { cutLength, holdLength, receivePiece } from '../../server/ledger/verbs.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';

// Workrooms of every size for the benchmarks: invented, seeded, and written through the same guards as by hand.

export interface WorkroomSize {
  readonly cloths: number;
  readonly shades: number;
  /** pieces on the shelf */
  readonly pieces: number;
  /** pieces that were received and cut to the end long ago, five entries each */
  readonly gone: number;
  readonly openGarments: number;
  readonly finishedGarments: number;
}

const TIERS = 8;
const PIECES_A_LOT = 6;
const CUTS_OF_GONE = 4;
const GIRTHS = [0, 40, 80, 110].map((drop) => ({ drop: String(drop), girth: String(70 + 3 * drop) }));
const WIDTH_TICKS = 147 * TICKS_PER.cm;

/** A sequence of numbers from 0 up to 1 that is the same for the same seed (a linear congruential generator). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Carries out `work` as one request of its own. */
export function writeIn<T>(book: Book, key: string, work: (tx: Tx) => T): T {
  const kept: { value?: T } = {};
  book.write({ key: `bench-${key}`, asked: null, personId: 1 }, (tx): Answer => {
    kept.value = work(tx);
    return { location: '/', said: 'Done.' };
  });
  return kept.value as T;
}

/** Sends a form to the program as a script does. */
export type Send = (url: string, fields: object) => Promise<unknown>;

/** Fills a new book. Everything in it follows from the size and the seed. */
export async function fillWorkroom(book: Book, send: Send, size: WorkroomSize, seed = 1): Promise<void> {
  const random = seeded(seed);
  const whole = (from: number, to: number) => from + Math.floor(random() * (to - from + 1));
  const { clothIds, shadeIds } = writeIn(book, 'cloths', (tx) => ({
    clothIds: Array.from({ length: size.cloths }, (_, place) => addCloth(tx, place)),
    shadeIds: Array.from({ length: size.shades }, (_, place) => addShade(tx, place)),
  }));
  const pick = (ids: readonly number[]) => ids[whole(0, ids.length - 1)] ?? 0;
  const count = size.openGarments + size.finishedGarments;
  for (let place = 0; place < count; place += 1) {
    const tiers = Array.from({ length: TIERS }, (_, tier) => ({
      drop: String(5 + tier * 10),
      depth: '20',
      fullness: '2.5',
      cloth_id: String(pick(clothIds)),
      shade_id: String(pick(shadeIds.slice(1))),
    }));
    const due = new Date(Date.UTC(2026, 3, 1 + (place % 90))).toJSON().slice(0, 10);
    await send('/garments/new', { name: `Skirt ${place + 1}`, due_on: due, girths: GIRTHS, tiers });
  }
  const tiers = book.all(
    book.db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select(['tier.id', 'garment.id as garmentId'])
      .orderBy('tier.id'),
  );
  const oldTiers = tiers.filter(({ garmentId }) => garmentId <= size.finishedGarments).map(({ id }) => id);
  const openTiers = tiers.filter(({ garmentId }) => garmentId > size.finishedGarments).map(({ id }) => id);
  const cutTiers = oldTiers.length > 0 ? oldTiers : openTiers;
  let lotId = 0;
  const receive = (tx: Tx, place: number, metres: number) => {
    if (place % PIECES_A_LOT === 0) lotId = addLot(tx, pick(clothIds), pick(shadeIds));
    const lengthTicks = metres * TICKS_PER.m;
    const piece = { kind: 'bolt', lotId, usableWidthTicks: WIDTH_TICKS, placeId: null } as const;
    return receivePiece(tx, { ...piece, lengthTicks, typed: `${metres} m`, costMinor: 100 * metres }).id;
  };
  inParts(size.gone, (from, to) =>
    writeIn(book, `gone-${from}`, (tx) => {
      for (let place = from; place < to; place += 1) {
        const id = receive(tx, place, CUTS_OF_GONE);
        for (let cut = 0; cut < CUTS_OF_GONE; cut += 1) {
          const lengthTicks = TICKS_PER.m;
          cutLength(tx, id, { lengthTicks, typed: '1 m', tierId: pick(cutTiers), strips: 4 });
        }
      }
    }),
  );
  inParts(size.pieces, (from, to) =>
    writeIn(book, `pieces-${from}`, (tx) => {
      for (let place = from; place < to; place += 1) {
        const id = receive(tx, place, whole(1, 50));
        const asked = { lengthTicks: TICKS_PER.m / 2, typed: '50 cm' };
        if (place % 9 === 0 && openTiers.length > 0) holdLength(tx, id, pick(openTiers), asked);
      }
    }),
  );
}

/** Those that were made first are finished; what was cut for them is gone. */
export function finishFirst(book: Book, count: number): void {
  writeIn(book, 'finished', (tx) =>
    tx.run(tx.db.updateTable('garment').set({ finished_at: tx.at }).where('id', '<=', count)),
  );
}

function inParts(count: number, part: (from: number, to: number) => void): void {
  const size = 2000;
  for (let from = 0; from < count; from += size) part(from, Math.min(count, from + size));
}

function addCloth(tx: Tx, place: number): number {
  const widths = { width_ticks: 150 * TICKS_PER.cm, usable_width_ticks: WIDTH_TICKS };
  const cloth = {
    name: `Organza ${place + 1}`,
    construction: 'organza',
    mass_per_area_mg_m2: 30_000,
  } as const;
  return tx.run(tx.db.insertInto('cloth').values({ ...cloth, ...widths, supplier_id: null })).lastId;
}

function addShade(tx: Tx, place: number): number {
  const colour = {
    lab_l: 20 + (place % 60),
    lab_a: (place % 40) - 20,
    lab_b: (place % 30) - 15,
    lab_how: 'typed',
  } as const;
  return tx.run(
    tx.db.insertInto('shade').values({ name: `Shade ${place + 1}`, ground: place === 0 ? 1 : 0, ...colour }),
  ).lastId;
}

function addLot(tx: Tx, clothId: number, shadeId: number): number {
  const seq =
    tx.first(tx.db.selectFrom('lot').select((of) => of.fn.countAll<number>().as('count')))?.count ?? 0;
  const lot = { code: `L${seq + 1}`, cloth_id: clothId, shade_id: shadeId, origin: 'mill' } as const;
  return tx.run(tx.db.insertInto('lot').values({ ...lot, supplier_id: null, batch_id: null })).lastId;
}
