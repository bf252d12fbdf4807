import { z } from 'zod';
import { equalRuns, type Stack, stackLays } from '../../../src/cut-plan/plies.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { readNames } from '../../garments/garment/names.ts';
import { nameOnPlan, stripRowsOf } from '../../garments/garment/strip-rows.ts';
import { readShapedRows } from '../../garments/garment/worked.ts';
import { address } from '../../kit/address.ts';
import { textField, tickField } from '../../kit/fields.ts';
import { grouped } from '../../kit/grouped.ts';
import { cutSheetPath, layBenchPath, layPath, piecePath, planPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf, listed } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { pulseAddress } from '../../ledger/pulse.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeGarmentHead } from '../tier/head.ts';
import { cutOneLay } from './cutting.ts';
import {
  type GarmentAtTable,
  isToCut,
  type LayAtTable,
  layOfPiece,
  type PlanAtTable,
  readGarmentAtTable,
} from './held-lays.ts';
import { endLays, endsAfter, sayEnds } from './piece-end.ts';
import { sayStack, shapeFold } from './table-ways.ts';
import { type LayNames, shapeLay } from './view.ts';

/** The bench of a garment: the lay to cut now, or the equal lays that are stacked in plies. */
export function layBenchPage(reader: Reader, code: string, asker: Asker) {
  const table = readGarmentAtTable(reader, code, asker.units);
  const all = table.plans.flatMap(({ lays }) => lays);
  const [now = null, ...then] = table.closed === '' ? shapeTurns(reader, table, asker) : [];
  const data = {
    ...shapeLaysHead(table),
    pulse: pulseAddress(reader, { garment: table.garment.code }),
    now,
    /** what comes after it, for a device that goes on while the book does not answer */
    then,
    lays: all.length,
    cut: all.filter(({ lay }) => lay.state === 'cut').length,
    /** lays that cannot be cut as planned any more */
    out: all
      .filter(({ fallsOut }) => fallsOut !== '')
      .map(({ lay, piece, fallsOut }) => ({ number: lay.position, piece: piece.code, why: fallsOut })),
  };
  return {
    view: 'cutting-table/lay/bench',
    data,
    title: `Cut ${table.garment.name}`,
    room: 'cutting-table',
  } satisfies Page;
}

/** What the pages of a garment's lays say above their matter. */
export function shapeLaysHead({ garment, closed }: GarmentAtTable) {
  return {
    garment: shapeGarmentHead(garment),
    benchHref: layBenchPath(garment.code),
    sheetHref: cutSheetPath(garment.code),
    planHref: planPath(garment.code),
    /** why nothing can be cut now; '' where it can */
    closed,
  };
}

/** The names on the pages of a garment's lays; a tier keeps one label on all of them. */
export function layNames(reader: Reader, { garment, plans }: GarmentAtTable, asker: Asker): LayNames {
  const names = readNames(
    reader,
    plans.map(({ plan }) => plan.clothId),
    plans.map(({ plan }) => plan.shadeId),
  );
  return {
    names,
    tiers: new Map(stripRowsOf(garment).map((row) => [row.id, { label: row.label, name: nameOnPlan(row) }])),
    shaped: readShapedRows(reader, garment),
    usefulTicks: readWorkroom(reader).usefulRemnantTicks,
    units: asker.units,
  };
}

/** The lays of a plan that are still to be cut, in the stacks that take least time. */
function stacksToCut({ lays, table }: PlanAtTable, usefulTicks: number): TurnStack[] {
  const toCut = lays.filter(isToCut);
  const own = toCut.map((at) => layOfPiece(at, usefulTicks));
  return stackLays(own, table.rules, table.rates).map((cut) => ({
    cut,
    lays: cut.lays.flatMap((place) => toCut[place] ?? []),
  }));
}

interface TurnStack {
  readonly cut: Stack;
  readonly lays: readonly LayAtTable[];
}

/** The lays from `first` on that follow each other and are slit alike, in the order of cutting. */
function equalFrom({ lays }: PlanAtTable, first: LayAtTable, usefulTicks: number): LayAtTable[] {
  const toCut = lays.filter(isToCut);
  const from = toCut.slice(toCut.indexOf(first), toCut.indexOf(first) + MOST_AT_ONCE);
  const [run] = equalRuns(from.map((at) => layOfPiece(at, usefulTicks)));
  return from.slice(0, run?.length ?? 0);
}

/** More lays than this nobody cuts before looking at the table again. */
const MOST_AT_ONCE = 60;
/** A page of more turns would be slow to come over weak Wi-Fi. */
const MOST_TURNS = 24;

/** The turns that are left, in the order of cutting: each a lay, or a stack of equal ones. */
function shapeTurns(reader: Reader, table: GarmentAtTable, asker: Asker) {
  const all = table.plans.flatMap(({ lays }) => lays);
  const naming = layNames(reader, table, asker);
  const before: LayAtTable[] = [];
  const stacks = table.plans.flatMap((plan) =>
    stacksToCut(plan, naming.usefulTicks).map((stack) => ({ plan, stack })),
  );
  return stacks.slice(0, MOST_TURNS).flatMap(({ plan, stack }) => {
    const turn = shapeTurn({ table, plan, stack, naming }, all, before);
    before.push(...stack.lays);
    return turn ?? [];
  });
}

export type LayTurn = NonNullable<ReturnType<typeof shapeTurn>>;

interface AtTurn {
  readonly table: GarmentAtTable;
  readonly plan: PlanAtTable;
  readonly stack: TurnStack;
  readonly naming: LayNames;
}

/** One turn, once all lays `before` it are cut as planned. */
function shapeTurn(
  { table, plan, stack, naming }: AtTurn,
  all: readonly LayAtTable[],
  before: readonly LayAtTable[],
) {
  const [first] = stack.lays;
  if (!first) return null;
  const { units } = naming;
  const { code } = table.garment;
  const view = shapeLay(first, plan.plan, naming, stack.cut.folded?.foldLinesTicks);
  const kept = view.rests.filter(({ keep }) => keep);
  const pieces = new Set(stack.lays.map(({ piece }) => piece.id));
  const sofar = [...before, ...stack.lays].filter(({ piece }) => pieces.has(piece.id));
  const equal = equalFrom(plan, first, naming.usefulTicks);
  return {
    requestKey: mintKey(),
    action: layBenchPath(code),
    /** "Lay 3 of Plum skirt, from B12" */
    work: `${sayNumbers(stack.lays)} of ${table.garment.name}, from ${listed([...new Set(stack.lays.map(({ piece }) => piece.code))])}`,
    /** the numbers of the lays that one tick cuts, for the form */
    layIds: stack.lays.map(({ lay }) => lay.id).join(' '),
    equal: equal.length > stack.lays.length ? shapeEqual(equal, before, naming) : null,
    chip: { ...naming.names.chip(plan.plan.shadeId), href: '' },
    cloth: naming.names.cloth(plan.plan.clothId),
    plies: stack.cut.plies,
    /** how many lengths lie on each other */
    lengths: stack.lays.length,
    /** "4 plies: 2 folds; 8 strips at a stroke"; '' where one length lies flat */
    stacked: sayStack(stack.cut),
    fold: shapeFold(stack.cut, units),
    /** "Lay 3 of 12", "Lays 3 to 6 of 12: 4 plies, cut at once" */
    count: sayCount(stack, all, before.length),
    lay: view,
    /** how many of the cut lengths come off which piece */
    pulls: [...grouped(stack.lays, ({ piece }) => piece.code)].map(([piece, cutLengths]) => ({
      piece,
      cutLengths: cutLengths.length,
    })),
    strokes: stack.cut.strokes,
    /** rests that are kept by one tick; '' where none is worth keeping */
    rest: kept.map(({ size }) => size).join('; '),
    /** offcuts at the end of pieces whose last lays these are, "0.06 m of B12"; '' for none */
    ends: sayEnds(endsAfter(sofar, naming.usefulTicks), units),
    usefulFrom: showLength(naming.usefulTicks, units, 'up'),
    otherwiseHref: layPath(code, first.lay.id),
    flawHref: address(`${piecePath(first.piece.code)}/flaws`, { back: code }),
  };
}

/** Equal lays that follow each other, for one tap: all of them, or so many. */
function shapeEqual(equal: readonly LayAtTable[], before: readonly LayAtTable[], naming: LayNames) {
  const ids = equal.map(({ lay }) => String(lay.id));
  const pieces = new Set(equal.map(({ piece }) => piece.id));
  const sofar = [...before, ...equal].filter(({ piece }) => pieces.has(piece.id));
  return {
    requestKey: mintKey(),
    someKey: mintKey(),
    count: equal.length,
    layIds: ids.join(' '),
    /** fewer of them, from the first on */
    some: ids.slice(1, -1).map((_, place) => ({
      value: ids.slice(0, place + 2).join(' '),
      label: `${place + 2} of ${equal.length}`,
    })),
    /** offcuts at the end of pieces whose last lays these are; '' for none */
    ends: sayEnds(endsAfter(sofar, naming.usefulTicks), naming.units),
    /** how many of the cut lengths come off which piece: "8 off B1, 4 off B2" */
    pulls: [...grouped(equal, ({ piece }) => piece.code)]
      .map(([piece, of]) => `${of.length} off ${piece}`)
      .join(', '),
  };
}

/** "Lay 3 of 12"; where later lays were cut first its number does not tell how many are cut: "Lay 3 of 12; 7 cut". */
function sayCount(
  { lays: stack, cut: { plies } }: TurnStack,
  all: readonly LayAtTable[],
  before: number,
): string {
  const numbers = stack.map(({ lay }) => lay.position);
  const done = before + all.filter(({ lay }) => lay.state === 'cut').length;
  const out = all.filter(({ fallsOut }) => fallsOut !== '').length;
  const inTurn = numbers.every((number, i) => number === done + out + 1 + i);
  const of = ` of ${all.length}${inTurn ? '' : `; ${done} cut`}`;
  const which = `${sayNumbers(stack)}${of}`;
  return plies === 1 ? which : `${which}: ${countOf(plies, 'ply', 'plies')}, cut at once`;
}

/** "Lay 3", "Lays 3 to 6", "Lays 3, 5 and 8". */
function sayNumbers(stack: readonly LayAtTable[]): string {
  const numbers = stack.map(({ lay }) => lay.position);
  const [first = 0] = numbers;
  if (numbers.length === 1) return `Lay ${first}`;
  const isRun = numbers.every((number, i) => number === first + i);
  return `Lays ${isRun ? `${first} to ${numbers.at(-1)}` : listed(numbers.map(String))}`;
}

export function layBenchForm() {
  return z.strictObject({
    lays: textField({ max: 1200, label: 'Which lays' }),
    keep_rest: tickField(),
    waste_end: tickField(),
  });
}

/** Cuts the lays that were shown, as planned: all their entries in one go. */
export function cutAtBench(
  tx: Tx,
  code: string,
  form: z.output<ReturnType<typeof layBenchForm>>,
  asker: Asker,
): Answer {
  const ids = form.lays.split(' ');
  if (!ids.every((id) => /^[1-9][0-9]{0,14}$/.test(id))) throw unknown('such lay');
  const along = new Map<number, number>();
  const said: string[] = [];
  for (const id of ids) {
    const asked = {
      layId: Number(id),
      used: null,
      placeId: null,
      keeps: (_rest: unknown, byDefault: boolean) => form.keep_rest && byDefault,
    };
    const done = cutOneLay(tx, code, asked, along, asker);
    const { id: pieceId } = done.at.piece;
    along.set(pieceId, (along.get(pieceId) ?? 0) + done.takenTicks);
    said.push(done.said);
  }
  return {
    location: layBenchPath(code),
    ...endLays(tx, along.keys(), {
      said: said.join(' '),
      wasteEnd: form.waste_end,
      units: asker.units,
    }),
  };
}
