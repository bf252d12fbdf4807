import { z } from 'zod';
import { stackLays } from '../../../src/cut-plan/plies.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { letterOf, readNames } from '../../garments/garment/names.ts';
import { address } from '../../kit/address.ts';
import { textField, tickField } from '../../kit/fields.ts';
import { grouped } from '../../kit/grouped.ts';
import { cutSheetPath, layBenchPath, layPath, piecePath, planPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf, listed } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
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
import { type LayNames, shapeLay } from './view.ts';

/** The bench of a garment: the lay to cut now, or the equal lays that are stacked in plies. */
export function layBenchPage(reader: Reader, code: string, asker: Asker) {
  const table = readGarmentAtTable(reader, code, asker.units);
  const all = table.plans.flatMap(({ lays }) => lays);
  const next = table.closed === '' ? table.plans.find(({ lays }) => lays.some(isToCut)) : undefined;
  const data = {
    ...shapeLaysHead(table),
    now: next ? shapeNow(reader, table, next, all, asker) : null,
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

/** The names on the pages of a garment's lays; a tier keeps one letter on all of them. */
export function layNames(reader: Reader, { garment, plans }: GarmentAtTable, asker: Asker): LayNames {
  const names = readNames(
    reader,
    plans.map(({ plan }) => plan.clothId),
    plans.map(({ plan }) => plan.shadeId),
  );
  return {
    names,
    tiers: new Map(garment.tiers.map(({ id, name }, i) => [id, { letter: letterOf(i), name }])),
    usefulTicks: readWorkroom(reader).usefulRemnantTicks,
    units: asker.units,
  };
}

/** The lays of a plan that are still to be cut, in the stacks that its cloth may be cut in. */
function stacksToCut({ lays, plyLimit }: PlanAtTable) {
  const toCut = lays.filter(isToCut);
  const stacks = stackLays(toCut.map(layOfPiece), plyLimit);
  return stacks.map(({ lays: places, strokes }) => ({
    strokes,
    lays: toCut.filter((_, place) => places.includes(place)),
  }));
}

function shapeNow(
  reader: Reader,
  table: GarmentAtTable,
  plan: PlanAtTable,
  all: readonly LayAtTable[],
  asker: Asker,
) {
  const [stack] = stacksToCut(plan);
  const first = stack?.lays[0];
  if (!stack || !first) return null;
  const naming = layNames(reader, table, asker);
  const { code } = table.garment;
  const view = shapeLay(first, plan.plan, naming);
  const kept = view.rests.filter(({ keep }) => keep);
  return {
    requestKey: mintKey(),
    action: layBenchPath(code),
    /** the numbers of the lays that one tick cuts, for the form */
    layIds: stack.lays.map(({ lay }) => lay.id).join(' '),
    chip: { ...naming.names.chip(plan.plan.shadeId), href: '' },
    cloth: naming.names.cloth(plan.plan.clothId),
    plies: stack.lays.length,
    /** "Lay 3 of 12", "Lays 3 to 6 of 12, 4 plies" */
    count: sayCount(stack.lays, all),
    lay: view,
    /** how many of the drops come off which piece */
    pulls: [...grouped(stack.lays, ({ piece }) => piece.code)].map(([piece, drops]) => ({
      piece,
      drops: drops.length,
    })),
    strokes: stack.strokes,
    /** rests that are kept by one tick; '' where none is worth keeping */
    rest: kept.map(({ size }) => size).join('; '),
    /** offcuts at the end of pieces whose last lays these are, "0.06 m of B12"; '' for none */
    ends: sayEnds(endsAfter(stack.lays, naming.usefulTicks), asker.units),
    usefulFrom: showLength(naming.usefulTicks, asker.units, 'up'),
    otherwiseHref: layPath(code, first.lay.id),
    flawHref: address(`${piecePath(first.piece.code)}/flaws`, { back: code }),
  };
}

/** "Lay 3 of 12"; where later lays were cut first its number does not tell how many are cut: "Lay 3 of 12; 7 cut". */
function sayCount(stack: readonly LayAtTable[], all: readonly LayAtTable[]): string {
  const numbers = stack.map(({ lay }) => lay.position);
  const cut = all.filter(({ lay }) => lay.state === 'cut').length;
  const out = all.filter(({ fallsOut }) => fallsOut !== '').length;
  const inTurn = numbers.every((number, i) => number === cut + out + 1 + i);
  const of = ` of ${all.length}${inTurn ? '' : `; ${cut} cut`}`;
  const [first = 0] = numbers;
  if (numbers.length === 1) return `Lay ${first}${of}`;
  const which = numbers.every((number, i) => number === first + i)
    ? `${first} to ${numbers.at(-1)}`
    : listed(numbers.map(String));
  return `Lays ${which}${of}: ${countOf(numbers.length, 'ply', 'plies')}, cut at once`;
}

export function layBenchForm() {
  return z.strictObject({
    lays: textField({ max: 400, label: 'Which lays' }),
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
