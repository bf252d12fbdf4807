// Long because it is one list: every way in which a need may change.
import fc from 'fast-check';
import { keepPlan, knownPlan } from '../../../server/cut-plans/answers.ts';
import type { Tx } from '../../../server/database/book.ts';
import { readGarment } from '../../../server/garments/garment/records.ts';
import { partOfKind } from '../../../server/garments/parts/all.ts';
import { keptPartSchema } from '../../../server/garments/parts/kept-form.ts';
import { addPart, changePart, putBackPart, takeOutPart } from '../../../server/garments/parts/kept-verbs.ts';
import { undoRequest } from '../../../server/ledger/undo.ts';
import {
  bringBackFromDye,
  cutLength,
  holdLength,
  receivePiece,
  recountPiece,
  releaseLength,
  sendPieceToDye,
  splitPiece,
  writeOffLength,
} from '../../../server/ledger/verbs.ts';
import { Refusal } from '../../../server/refusal.ts';
import { addReading, plainReading } from '../../../server/shelf/colour/readings.ts';
import { needsAfresh } from '../../../server/short/queries.ts';
import { readForm } from '../../../server/web/post.ts';
import { SCREEN_VIEWING } from '../../../src/colour/colour-reading.ts';
import { firstEffort } from '../../../src/cut-plan/effort.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { makeBatch } from '../ledger/dyeing.ts';
import { length, makeBolt, makeLot, makeStock, makeTier, newKey, type TestBook } from '../support.ts';

/** One request: what it does, and three numbers that choose what it does it to and how much. */
export type Step = readonly [verb: Verb, one: number, other: number, much: number];
export type Verb = keyof typeof VERBS;

const WIDTH = length('147 cm');

interface Place {
  readonly lotIds: readonly number[];
  readonly tierIds: readonly number[];
  readonly batch: { readonly batchId: number; readonly lotId: number };
  readonly clothId: number;
  readonly shadeId: number;
}

/** A workroom of two cloths, three shades (one undyed), three open garments, some cloth and an order. */
export function makeWorkroom({ write }: TestBook): Place {
  return write((tx) => {
    const stock = makeStock(tx);
    const other = makeStock(tx);
    const ground = makeStock(tx, { ground: true });
    const lots = [
      stock.lotId,
      makeLot(tx, stock.clothId, stock.shadeId),
      other.lotId,
      makeLot(tx, stock.clothId, other.shadeId),
      makeLot(tx, stock.clothId, ground.shadeId),
    ];
    const tierIds = [makeTier(tx, stock), makeTier(tx, stock), makeTier(tx, other)];
    for (const [place, lotId] of lots.entries()) makeBolt(tx, lotId, `${60 + 40 * place} cm`);
    tx.run(
      tx.db
        .updateTable('colour_block')
        .set({ lots: 'meet' })
        .where('tier_id', '=', tierIds[0] ?? 0),
    );
    return { lotIds: lots, tierIds, batch: makeBatch(tx, stock), ...stock };
  });
}

interface Asked {
  readonly place: Place;
  readonly one: number;
  readonly other: number;
  /** 1 to 100 */
  readonly much: number;
}

function pick<T>(of: readonly T[], number: number): T {
  const picked = of[number % of.length];
  if (picked === undefined) throw new Refusal('conflict', 'nothing to choose from');
  return picked;
}

function pieceOf(tx: Tx, number: number): number {
  const rows = tx.all(tx.db.selectFrom('piece').select('id').where('on_hand_ticks', '>', 0).orderBy('id'));
  return pick(rows, number).id;
}

function lotRow(tx: Tx, lotId: number) {
  const row = tx.first(tx.db.selectFrom('lot').selectAll().where('id', '=', lotId));
  if (!row) throw new Error('no such lot');
  return row;
}

function start(tx: Tx, batchId: number, pieceId: number, lengthTicks: number): void {
  sendPieceToDye(tx, pieceId, batchId, { lengthTicks, typed: '' });
  tx.run(tx.db.updateTable('batch').set({ card: '{}' }).where('id', '=', batchId));
}

const cm = (much: number) => ({ lengthTicks: much * TICKS_PER.cm, typed: `${much} cm` });

function garmentOf(tx: Tx, tierId: number): number {
  const row = tx.first(tx.db.selectFrom('tier').select('garment_id').where('id', '=', tierId));
  return row?.garment_id ?? 0;
}

/** What may be done: through the verbs where there are some, else by the row that they write. */
const VERBS = {
  receive: (tx: Tx, { place, one, much }: Asked) => {
    const piece = { kind: 'bolt', lotId: pick(place.lotIds, one), usableWidthTicks: WIDTH } as const;
    receivePiece(tx, { ...piece, placeId: null, ...cm(3 * much), costMinor: 0 });
  },
  cut: (tx: Tx, { place, one, other, much }: Asked) => {
    const asked = { ...cm(much), tierId: pick(place.tierIds, other), strips: 1 + (much % 2) };
    const widthTicks = length('30 cm');
    const leftover = { lengthTicks: asked.lengthTicks, widthTicks, placeId: null };
    cutLength(tx, pieceOf(tx, one), much % 3 === 0 ? { ...asked, leftover } : asked);
  },
  hold: (tx: Tx, { place, one, other, much }: Asked) =>
    holdLength(tx, pieceOf(tx, one), pick(place.tierIds, other), cm(much)),
  release: (tx: Tx, { one, much }: Asked) => {
    const holds = tx.all(
      tx.db
        .selectFrom('hold')
        .select(['piece_id', 'tier_id', 'held_ticks'])
        .where('held_ticks', '>', 0)
        .where('tier_id', 'is not', null)
        .$narrowType<{ tier_id: number }>()
        .orderBy('piece_id'),
    );
    const { piece_id, tier_id, held_ticks } = pick(holds, one);
    const lengthTicks = Math.min(held_ticks, much * TICKS_PER.cm);
    releaseLength(tx, piece_id, tier_id, { lengthTicks, typed: 'some' });
  },
  split: (tx: Tx, { one, much }: Asked) => splitPiece(tx, pieceOf(tx, one), cm(much)),
  recount: (tx: Tx, { one, much }: Asked) => recountPiece(tx, pieceOf(tx, one), cm(2 * much)),
  'write off': (tx: Tx, { one, much }: Asked) =>
    writeOffLength(tx, pieceOf(tx, one), { ...cm(much), why: 'spoiled' }),
  undo: (tx: Tx, { one }: Asked) => {
    const keys = tx.all(tx.db.selectFrom('entry').select('request_key as key').distinct());
    undoRequest(tx, pick(keys, one).key);
  },
  dye: (tx: Tx, { place, one, much }: Asked) => {
    const pieceId = pieceOf(tx, one);
    const sentId = sendPieceToDye(tx, pieceId, place.batch.batchId, cm(much));
    if (much % 2 === 0) {
      const back = { lotId: place.batch.lotId, measuredTicks: (much * TICKS_PER.cm) / 2, typed: 'half' };
      bringBackFromDye(tx, sentId, { ...back, usableWidthTicks: WIDTH, placeId: null });
    }
  },
  'plan a batch': (tx: Tx, { place, one, much }: Asked) => {
    const { batchId } = makeBatch(tx, place);
    const pieceId = pieceOf(tx, one);
    const lengthTicks = Math.ceil(much / 4) * TICKS_PER.cm;
    const row = { batch_id: batchId, piece_id: pieceId, length_ticks: lengthTicks, typed: '' };
    tx.run(tx.db.insertInto('batch_piece').values(row));
    if (much % 2 > 0) start(tx, batchId, pieceId, lengthTicks);
  },
  'cancel a batch': (tx: Tx, { one, much }: Asked) => {
    const batches = tx.all(tx.db.selectFrom('batch').select('id').orderBy('id'));
    const set =
      much % 2
        ? { cancelled_at: tx.at, cancelled_by: tx.personId }
        : { cancelled_at: null, cancelled_by: null };
    tx.run(tx.db.updateTable('batch').set(set).where('id', '=', pick(batches, one).id));
  },
  'start a batch': (tx: Tx, { one }: Asked) => {
    const wanted = tx.all(
      tx.db
        .selectFrom('batch_piece')
        .innerJoin('batch', 'batch.id', 'batch_piece.batch_id')
        .innerJoin('piece', 'piece.id', 'batch_piece.piece_id')
        .select(['batch.id', 'batch_piece.piece_id', 'batch_piece.length_ticks as lengthTicks'])
        .where('batch.card', 'is', null)
        .whereRef('piece.on_hand_ticks', '>', 'batch_piece.length_ticks')
        .orderBy('batch.id'),
    );
    const { id, piece_id, lengthTicks } = pick(wanted, one);
    start(tx, id, piece_id, lengthTicks);
  },
  'bring a batch back': (tx: Tx, { one, much }: Asked) => {
    const sent = tx.all(
      tx.db
        .selectFrom('entry')
        .innerJoin('batch', 'batch.id', 'entry.batch_id')
        .innerJoin('lot', 'lot.batch_id', 'batch.id')
        .select(['entry.id', 'entry.length_ticks', 'lot.id as lotId'])
        .where('entry.kind', '=', 'sent-to-dye')
        .where('batch.card', 'is not', null)
        .where('entry.id', 'not in', (back) =>
          back
            .selectFrom('entry')
            .select('pair_id')
            .where('pair_id', 'is not', null)
            .$castTo<{ pair_id: number }>(),
        )
        .orderBy('entry.id'),
    );
    const { id, length_ticks, lotId } = pick(sent, one);
    const measured = { measuredTicks: Math.ceil((-length_ticks * much) / 100), typed: 'less' };
    bringBackFromDye(tx, id, { lotId, ...measured, usableWidthTicks: WIDTH, placeId: null });
  },
  width: (tx: Tx, { one, much }: Asked) => {
    const pieceId = pieceOf(tx, one);
    const was = tx.first(tx.db.selectFrom('piece').select('usable_width_ticks').where('id', '=', pieceId));
    const width = { width_ticks: (60 + much) * TICKS_PER.cm, was_ticks: was?.usable_width_ticks ?? 0 };
    tx.run(
      tx.db
        .insertInto('piece_width')
        .values({ piece_id: pieceId, ...width, at: tx.at, person_id: tx.personId }),
    );
    tx.run(
      tx.db.updateTable('piece').set({ usable_width_ticks: width.width_ticks }).where('id', '=', pieceId),
    );
  },
  flaw: (tx: Tx, { one, much }: Asked) => {
    const span = {
      from_ticks: 10 * TICKS_PER.cm,
      to_ticks: 12 * TICKS_PER.cm,
      left_ticks: 0,
      right_ticks: WIDTH,
    };
    const last = tx.first(tx.db.selectFrom('entry').select('id').orderBy('id', 'desc').limit(1));
    const mark = { what: 'a pull', at: tx.at, person_id: tx.personId, after_entry_id: last?.id ?? 0 };
    if (much % 3 === 0) tx.run(tx.db.updateTable('piece_flaw').set({ struck_at: tx.at, struck_by: 1 }));
    else tx.run(tx.db.insertInto('piece_flaw').values({ piece_id: pieceOf(tx, one), ...span, ...mark }));
  },
  'code of a lot': (tx: Tx, { place, one }: Asked) =>
    tx.run(tx.db.updateTable('lot').set({ code: newKey() }).where('id', '=', pick(place.lotIds, one))),
  'colour of a lot': (tx: Tx, { place, one, much }: Asked) => {
    const lab = { l: much / 10, a: 0, b: 0 };
    const reading = plainReading({ lab, how: 'instrument', state: 'dry', viewing: SCREEN_VIEWING });
    addReading(tx, { lotId: pick(place.lotIds, one) }, reading);
  },
  'two lots seen': (tx: Tx, { place, one, much }: Asked) => {
    const [first = 0, second = 0] = place.lotIds;
    const verdict = pick(['may meet', 'look', 'apart'] as const, much);
    tx.run(
      tx.db.insertInto('pair_judgement').values({
        ...{ lot_id: one % 2 ? first : second, to_lot_id: one % 2 ? second : first },
        ...{ swatch_id: null, to_swatch_id: null, to_shade_id: null, how: 'eye', verdict },
        ...{ delta_centi: null, uncertainty_centi: null, diff_l: null, diff_a: null, diff_b: null },
        ...{ light: 'daylight', state: 'dry', note: '', at: tx.at, person_id: 1, request_key: tx.requestKey },
      }),
    );
  },
  'change a tier': (tx: Tx, { place, other, much }: Asked) => {
    const change =
      much % 2 ? { depth_ticks: (10 + much) * TICKS_PER.cm } : { fullness_milli: 1000 + 20 * much };
    tx.run(tx.db.updateTable('tier').set(change).where('id', '=', pick(place.tierIds, other)));
  },
  'cloth of a tier': (tx: Tx, { place, one, other }: Asked) => {
    const { cloth_id } = lotRow(tx, pick(place.lotIds, one));
    tx.run(tx.db.updateTable('tier').set({ cloth_id }).where('id', '=', pick(place.tierIds, other)));
  },
  'shade of a tier': (tx: Tx, { place, one, other, much }: Asked) => {
    const { shade_id } = lotRow(tx, pick(place.lotIds, one));
    const block = { shade_id, lots: pick(['one', 'meet', 'any'] as const, much) };
    tx.run(tx.db.updateTable('colour_block').set(block).where('tier_id', '=', pick(place.tierIds, other)));
  },
  'a part': (tx: Tx, { place, one, other, much }: Asked) => {
    const tierId = pick(place.tierIds, other);
    const tier = tx.first(tx.db.selectFrom('tier').select('garment_id').where('id', '=', tierId));
    const code = tx.first(
      tx.db
        .selectFrom('garment')
        .select('code')
        .where('id', '=', tier?.garment_id ?? 0),
    )?.code;
    const [garment, part] = [readGarment(tx, code ?? ''), partOfKind('layer')];
    const typed = {
      cut_depth: String(10 + much),
      widths: String(1 + (one % 3)),
      name: 'Lining',
      pieces: '1',
    };
    const form = readForm(keptPartSchema(tx, part, 'cm'), typed);
    const kept = garment.parts[0];
    if (!kept) addPart(tx, garment.code, { part, unit: 'cm', typed, form });
    else if (much % 3 > 0) changePart(tx, garment.code, kept.id, { part, unit: 'cm', typed, form });
    else (kept.takenOutAt === null ? takeOutPart : putBackPart)(tx, garment.code, kept.id);
  },
  'size that was cut': (tx: Tx, { place, other, much }: Asked) => {
    const tierId = pick(place.tierIds, other);
    const tier = tx.first(tx.db.selectFrom('tier').select('cloth_id').where('id', '=', tierId));
    const last = tx.first(tx.db.selectFrom('entry').select('id').orderBy('id', 'desc').limit(1));
    const size = { cut_depth_ticks: much * TICKS_PER.cm, strip_length_ticks: TICKS_PER.m };
    tx.run(
      tx.db
        .insertInto('tier_size')
        .values({ tier_id: tierId, cloth_id: tier?.cloth_id ?? 0, after_entry_id: last?.id ?? 0, ...size }),
    );
  },
  girth: (tx: Tx, { place, other, much }: Asked) =>
    tx.run(
      tx.db
        .updateTable('girth')
        .set({ girth_ticks: (70 + much) * TICKS_PER.cm })
        .where('garment_id', '=', garmentOf(tx, pick(place.tierIds, other)))
        .where('drop_ticks', '=', 0),
    ),
  'due day': (tx: Tx, { place, other, much }: Asked) =>
    tx.run(
      tx.db
        .updateTable('garment')
        .set({ due_on: `2026-04-${String(1 + (much % 28)).padStart(2, '0')}`, meet_centi_delta_e: 10 * much })
        .where('id', '=', garmentOf(tx, pick(place.tierIds, other))),
    ),
  finish: (tx: Tx, { place, other, much }: Asked) =>
    tx.run(
      tx.db
        .updateTable('garment')
        .set({ finished_at: much % 3 === 0 ? tx.at : null })
        .where('id', '=', garmentOf(tx, pick(place.tierIds, other))),
    ),
  'new garment': (tx: Tx, { place, one }: Asked) => {
    const { cloth_id: clothId, shade_id: shadeId, id: lotId } = lotRow(tx, pick(place.lotIds, one));
    makeTier(tx, { clothId, shadeId, lotId });
  },
  order: (tx: Tx, { place, one, much }: Asked) => {
    const { cloth_id, shade_id } = lotRow(tx, pick(place.lotIds, one));
    const supplier = tx.run(tx.db.insertInto('supplier').values({ name: `Supplier ${newKey()}` })).lastId;
    const sent_at = much % 2 ? tx.at : null;
    const order = { code: newKey(), supplier_id: supplier, drafted_at: tx.at, sent_at };
    const { lastId: order_id } = tx.run(tx.db.insertInto('order').values(order));
    const length_ticks = much * TICKS_PER.m;
    const line = { order_id, cloth_id, shade_id, length_ticks, price_minor: null, price_ticks: null };
    tx.run(tx.db.insertInto('order_line').values({ ...line, typed: '{}' }));
  },
  'state of an order': (tx: Tx, { one, much }: Asked) => {
    const orders = tx.all(tx.db.selectFrom('order').selectAll().orderBy('id'));
    const { id, sent_at } = pick(orders, one);
    const set =
      sent_at === null
        ? { sent_at: tx.at }
        : pick([{ closed_at: tx.at }, { closed_at: null }, { expected_on: '2026-03-09' }] as const, much);
    tx.run(tx.db.updateTable('order').set(set).where('id', '=', id));
  },
  'hold a plan': (tx: Tx, { place, one, other, much }: Asked) => {
    const tierId = pick(place.tierIds, other);
    const pieceId = pieceOf(tx, one);
    const piece = tx.first(tx.db.selectFrom('piece').select('lot_id').where('id', '=', pieceId));
    const { cloth_id, shade_id } = lotRow(tx, piece?.lot_id ?? 0);
    const length_ticks = much * TICKS_PER.cm;
    const { lastId: plan_id } = tx.run(
      tx.db.insertInto('cut_plan').values({
        garment_id: garmentOf(tx, tierId),
        cloth_id,
        shade_id,
        held_key: tx.requestKey,
        given_up_key: null,
        job_hash: 'a'.repeat(64),
        wish: 'least length',
        short_strips: 0,
        charged_ticks: 0,
        charged_area: 0,
        bound_area: 0,
        bound_over: 'all lots',
      }),
    );
    const lay = {
      plan_id,
      position: 1,
      piece_id: pieceId,
      from_ticks: 0,
      length_ticks,
      slit_into: '[]',
      cut_key: null,
    };
    const { lastId: lay_id } = tx.run(tx.db.insertInto('cut_lay').values(lay));
    tx.run(tx.db.insertInto('cut_lay_tier').values({ lay_id, tier_id: tierId, strips: 1, length_ticks }));
    holdLength(tx, pieceId, tierId, cm(much));
  },
  'give up a plan': (tx: Tx, { one }: Asked) => {
    const plans = tx.all(tx.db.selectFrom('cut_plan').select('id').where('given_up_key', 'is', null));
    const set = { given_up_key: tx.requestKey };
    tx.run(tx.db.updateTable('cut_plan').set(set).where('id', '=', pick(plans, one).id));
  },
  'name of a person': (tx: Tx) => tx.run(tx.db.updateTable('person').set({ name: `Maker ${newKey()}` })),
  'name of a supplier': (tx: Tx) =>
    tx.run(
      tx.db
        .updateTable('supplier')
        .set({ name: `Supplier ${newKey()}` })
        .where('id', '=', 1),
    ),
  'cloth as a whole': (tx: Tx, { place, one, much }: Asked) => {
    const { cloth_id } = lotRow(tx, pick(place.lotIds, one));
    const set = { usable_width_ticks: (40 + much) * TICKS_PER.cm };
    tx.run(tx.db.updateTable('cloth').set(set).where('id', '=', cloth_id));
  },
  'shade as a whole': (tx: Tx, { place, one, much }: Asked) => {
    const { shade_id } = lotRow(tx, pick(place.lotIds, one));
    tx.run(
      tx.db
        .updateTable('shade')
        .set({ name: `Shade ${newKey()} ${much}` })
        .where('id', '=', shade_id),
    );
  },
  'useful remnant': (tx: Tx, { much }: Asked) =>
    tx.run(tx.db.updateTable('workroom').set({ useful_remnant_ticks: much * TICKS_PER.cm })),
} as const;

/** Carries out a step, and gives its verb with how it ended. */
export function take(opened: TestBook, place: Place, [verb, one, other, much]: Step): string {
  try {
    opened.write((tx) => VERBS[verb](tx, { place, one, other, much }));
    return `${verb}: done`;
  } catch (error) {
    // What no verb stands before, the file's own guards refuse.
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (error instanceof Refusal || code.startsWith('SQLITE_CONSTRAINT')) return `${verb}: refused`;
    throw error;
  }
}

/** The planner finds a plan of the first need that only the hand rule has told of. Nothing is written. */
export function plan({ book }: TestBook): boolean {
  const shares = needsAfresh(book).lines.flatMap((line) => line.shares);
  const job = shares.find(({ short }) => short.by === 'hand rule' && !knownPlan(short.job))?.short.job;
  if (!job) return false;
  keepPlan(job, { plan: planCuts(job, firstEffort()), stopped: '', seconds: null });
  return true;
}

export const VERB_NAMES = Object.keys(VERBS) as Verb[];

/** Some steps with these verbs. */
export function steps(verbs: readonly Verb[]): fc.Arbitrary<readonly Step[]> {
  return fc.array(
    fc.tuple(fc.constantFrom(...verbs), fc.nat(60), fc.nat(20), fc.integer({ min: 1, max: 100 })),
    { minLength: 1, maxLength: 4 },
  );
}
