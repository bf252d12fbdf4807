import { strokesOf } from '../../../src/cut-plan/folds.ts';
import { equalRuns, stackLays } from '../../../src/cut-plan/plies.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { drawTape, type TapePicture } from '../quick/picture.ts';
import { layNames, shapeLaysHead } from './bench.ts';
import { isToCut, type LayAtTable, layOfPiece, type PlanAtTable, readGarmentAtTable } from './held-lays.ts';
import { sayStack, sayTableMinutes, shapeFold, tableMinutes } from './table-ways.ts';
import { type LayNames, shapeLay } from './view.ts';

/** All that is still to be cut for a garment, to be worked from on paper where no device is at hand. */
export function cutSheetPage(reader: Reader, code: string, asker: Asker) {
  const table = readGarmentAtTable(reader, code, asker.units);
  const naming = layNames(reader, table, asker);
  const named = new Set(
    table.plans.flatMap(({ lays }) => lays.flatMap(({ lay }) => lay.parts.map(({ tierId }) => tierId))),
  );
  const data = {
    ...shapeLaysHead(table),
    tiers: [...naming.tiers].filter(([id]) => named.has(id)).map(([, { name }]) => name),
    plans: table.plans.map((plan) => shapePlan(plan, naming)),
  };
  return {
    view: 'cutting-table/lay/cut-sheet',
    data,
    title: `Cut sheet of ${table.garment.name}`,
    room: 'cutting-table',
  } satisfies Page;
}

function shapePlan(plan: PlanAtTable, naming: LayNames) {
  const toCut = plan.lays.filter(isToCut);
  const longest = Math.max(1, ...toCut.map(({ piece }) => piece.on_hand_ticks));
  const pieces = [...grouped(toCut, ({ piece }) => piece.id).values()].map((lays) =>
    shapePiece(plan, lays, longest, naming),
  );
  const rows = pieces.flatMap(({ rows: of }) => of);
  const own = toCut.map((at) => layOfPiece(at, naming.usefulTicks));
  return {
    chip: { ...naming.names.chip(plan.plan.shadeId), href: '' },
    cloth: naming.names.cloth(plan.plan.clothId),
    by: plan.plan.by,
    lays: plan.lays.length,
    cutLays: plan.lays.filter(({ lay }) => lay.state === 'cut').length,
    plyLimit: plan.table.rules.plyLimit,
    /** lays still to be cut: each is a cut length to pull */
    cutLengths: toCut.length,
    /** strokes of the knife, with equal lengths stacked and folded as takes least, and one by one */
    strokes: rows.reduce((sum, row) => sum + row.strokes, 0),
    strokesOneByOne: own.reduce((sum, lay) => sum + strokesOf(lay).strokes, 0),
    /** what that takes at the table */
    minutes: sayTableMinutes(tableMinutes(own, plan.table)),
    pieces,
    out: plan.lays
      .filter(({ fallsOut }) => fallsOut !== '')
      .map(({ lay, fallsOut }) => `Lay ${lay.position}. ${fallsOut}`),
  };
}

/** A piece with the lays that come off it, from its free end. */
function shapePiece(plan: PlanAtTable, lays: readonly LayAtTable[], longestTicks: number, naming: LayNames) {
  const [first] = lays;
  if (!first) throw new Error('a piece of a sheet has lays');
  const { units } = naming;
  const { piece } = first;
  const takes = lays.reduce((sum, { leadTicks, lay }) => sum + leadTicks + lay.lengthTicks, 0);
  return {
    code: piece.code,
    place: piece.place_name ?? '',
    lot: piece.lot_code,
    onHand: showLength(piece.on_hand_ticks, units, 'down'),
    width: showSize(piece.usable_width_ticks, units, 'down'),
    takes: showLength(takes, units, 'up'),
    left: showLength(piece.on_hand_ticks - takes, units, 'down'),
    tape: drawPiece(lays, takes, longestTicks, units),
    rows: rowsOf(plan, lays, naming),
  };
}

/** Lays that follow each other and are cut alike. */
function rowsOf({ plan, table }: PlanAtTable, lays: readonly LayAtTable[], naming: LayNames) {
  const own = lays.map((at) => layOfPiece(at, naming.usefulTicks));
  return equalRuns(own).map((places) => {
    const alike = places.flatMap((place) => lays[place] ?? []);
    const [first] = alike;
    if (!first) throw new Error('a run has lays');
    const stacks = stackLays(
      places.flatMap((place) => own[place] ?? []),
      table.rules,
      table.rates,
    );
    return {
      numbers: alike.map(({ lay }) => lay.position),
      /** each stack of them by itself where there are several plies; none where they are cut one by one, lying flat */
      stacks: stacks.every(({ plies }) => plies === 1)
        ? []
        : stacks.map((stack) => ({
            numbers: stack.lays.map((place) => alike[place]?.lay.position ?? 0),
            said: sayStack(stack),
            fold: shapeFold(stack, naming.units),
            strokes: stack.strokes,
          })),
      strokes: stacks.reduce((sum, { strokes }) => sum + strokes, 0),
      lay: shapeLay(first, plan, naming, stacks[0]?.folded?.foldLinesTicks),
    };
  });
}

/** The piece as a tape, with its lays where they will be cut. */
function drawPiece(
  lays: readonly LayAtTable[],
  usedTicks: number,
  longestTicks: number,
  units: Units,
): TapePicture {
  let at = 0;
  const drawn = lays.map(({ lay, leadTicks }) => {
    const fromTicks = at + leadTicks;
    at = fromTicks + lay.lengthTicks;
    return { pieceId: lay.pieceId, copy: 0, fromTicks, heightTicks: lay.lengthTicks, columns: [] };
  });
  const [first] = lays;
  if (!first) throw new Error('a tape has lays');
  const { piece, leadTicks } = first;
  const lengthTicks = piece.on_hand_ticks;
  const use = {
    pieceId: piece.id,
    copy: 0,
    lotId: piece.lot_id,
    widthTicks: piece.usable_width_ticks,
    lengthTicks,
    usedTicks,
    chargedTicks: usedTicks,
    leftTicks: lengthTicks - usedTicks,
  };
  // The flaws of the first lay are those of the whole piece, counted from where that lay begins.
  const flaws = first.flaws.map((flaw) => ({
    ...flaw,
    fromTicks: flaw.fromTicks + leadTicks,
    toTicks: flaw.toTicks + leadTicks,
  }));
  return drawTape(use, drawn, flaws, longestTicks, units);
}
