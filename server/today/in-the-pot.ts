import { showLength } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { sayLengthCount } from '../dye-bench/batch/plan.ts';
import {
  readInPotIds,
  readPlannedIds,
  readPlannedLengths,
  readSentLengths,
} from '../dye-bench/batch/store.ts';
import { shadeChip } from '../kit/chip.ts';
import { batchPath } from '../kit/paths.ts';
import { showDay, showMoment } from '../kit/when.ts';
import type { Asker } from '../web/house.ts';
import { nearness } from './days.ts';

const MOST = 6;

export type AtTheBench = ReturnType<typeof readAtTheBench>;

/** Batches that are being dyed, the first started first, and those that wait, the soonest wanted first. */
export function readAtTheBench(
  reader: Reader,
  asker: Asker,
  moment: { readonly now: string; readonly today: string },
) {
  const [potIds, plannedIds] = [readInPotIds(reader), readPlannedIds(reader)];
  const rows = readRows(reader, [...potIds.slice(0, MOST), ...plannedIds.slice(0, MOST)]);
  const chosen = (ids: readonly number[]) =>
    ids.slice(0, MOST).flatMap((id) => rows.find((row) => row.id === id) ?? []);
  return {
    pot: chosen(potIds).map((row) => shapeInPot(reader, row, asker, moment.now)),
    planned: chosen(plannedIds).map((row) => shapePlanned(reader, row, asker, moment.today)),
    more: Math.max(0, potIds.length - MOST) + Math.max(0, plannedIds.length - MOST),
  };
}

type Row = ReturnType<typeof readRows>[number];

const batchRows = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('batch')
    .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
    .innerJoin('shade', 'shade.id', 'recipe.shade_id')
    .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
    .select(['batch.id', 'batch.code', 'batch.due_on', 'vessel.name as vessel', 'recipe.name as recipe'])
    .select(['recipe.version', 'recipe.hold_minutes', 'recipe.temperature_c'])
    .select(['shade.name', 'shade.lab_l', 'shade.lab_a', 'shade.lab_b'])
    .where('batch.id', 'in', inList(ids)),
);

function readRows(reader: Reader, ids: readonly number[]) {
  if (ids.length === 0) return [];
  return reader.all(batchRows(ids));
}

function shapeInPot(reader: Reader, row: Row, asker: Asker, now: string) {
  const out = readSentLengths(reader, row.id).filter(({ back }) => back === null);
  const pieces = new Set(out.map(({ pieceCode }) => pieceCode)).size;
  const [first] = out;
  return {
    ...shapeRow(row, out, asker),
    // A length that is shared out to several baths is one length still.
    pieces: sayLengthCount(pieces),
    since: first ? showMoment(first.at) : '',
    who: first?.person ?? '',
    /** how long ago it was started: "1 h 20 min" */
    lasted: first ? sayLasting(first.at, now) : '',
    /** what the recipe asks for: "60 min at 98 °C" */
    wanted: `${row.hold_minutes} min at ${row.temperature_c} °C`,
  };
}

function shapePlanned(reader: Reader, row: Row, asker: Asker, today: string) {
  const near = nearness(row.due_on, today);
  return {
    ...shapeRow(row, readPlannedLengths(reader, row.id), asker),
    due: row.due_on === null ? '' : showDay(row.due_on),
    when: near.words,
    overdue: near.past,
  };
}

function shapeRow(row: Row, lengths: readonly { readonly lengthTicks: number }[], asker: Asker) {
  const total = lengths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  return {
    code: row.code,
    href: batchPath(row.code),
    chip: shadeChip(row),
    recipe: row.version === 1 ? row.recipe : `${row.recipe}, version ${row.version}`,
    vessel: row.vessel,
    length: showLength(total, asker.units, 'near'),
    pieces: sayLengthCount(lengths.length),
  };
}

/** "25 min", "1 h 20 min", "3 days": as exact as somebody at the pot wants it. */
function sayLasting(from: string, to: string): string {
  const minutes = Math.max(0, Math.floor((Date.parse(to) - Date.parse(from)) / 60_000));
  if (minutes < 60) return `${minutes} min`;
  if (minutes < 48 * 60) return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
  return `${Math.floor(minutes / 1440)} days`;
}
