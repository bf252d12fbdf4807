import { showLength, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { address, queryNumber } from '../kit/address.ts';
import { shadeChip } from '../kit/chip.ts';
import { PAGE_ROWS } from '../kit/paging.ts';
import { batchPath } from '../kit/paths.ts';
import { dayOf, showDay, showMoment } from '../kit/when.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readDoneIds, readInPotIds, readPlannedIds } from './batch/store.ts';
import { hasBegun } from './pot/bath-state.ts';
import { readAtThePot } from './pot/log-verbs.ts';
import { clockOf } from './pot/step.ts';
import { readLotsWithoutSwatch } from './swatch/approved.ts';
import { readVesselsInUse } from './vessels/store.ts';

/** Planned batches and those in the pot that are shown; there are hardly ever as many. */
const MOST_OPEN = 100;
/** Of so many in the pot it is told where each bath stands. */
const MOST_POTS = 12;

/** The dye bench: batches in the pot, planned, and done lately (`?before=` goes further back). */
export function dyeBenchPage(reader: Reader, asker: Asker, now: string, query: unknown) {
  const before = queryNumber(query, 'before');
  const [potIds, plannedIds] = [readInPotIds(reader), readPlannedIds(reader)];
  const doneIds = readDoneIds(reader, { before, limit: PAGE_ROWS + 1 });
  const shown = doneIds.slice(0, PAGE_ROWS);
  const today = dayOf(now);
  const moments = readMoments(reader, [...potIds.slice(0, MOST_OPEN), ...shown]);
  const verdicts = readVerdicts(reader, shown);
  const planned = readRows(reader, plannedIds.slice(0, MOST_OPEN), asker.units);
  const withoutSwatch = readLotsWithoutSwatch(
    reader,
    planned.map(({ code }) => code),
  );
  const rowsOf = (ids: readonly number[]) => readRows(reader, ids, asker.units);
  const data = {
    inPot: rowsOf(potIds.slice(0, MOST_OPEN)).map(({ id, dueOn: _, ...row }, place) => ({
      ...row,
      since: showMoment(moments.get(id)?.sent ?? now),
      bench: `${row.href}/bench`,
      /** where each bath stands; none beyond the first few batches */
      steps: place < MOST_POTS ? sayPots(reader, row.code) : [],
    })),
    planned: planned.map(({ id: _, dueOn, ...row }) => ({
      ...row,
      /** lots without an approved swatch by the recipe, and where one is dyed */
      withoutSwatch: withoutSwatch.get(row.code) ?? [],
      due: dueOn === null ? '' : showDay(dueOn),
      overdue: dueOn !== null && dueOn < today,
    })),
    done: rowsOf(shown).map(({ id, dueOn: _, ...row }) => ({
      ...row,
      finished: showMoment(moments.get(id)?.back ?? now),
      /** '' where the shade was not judged */
      verdict: verdicts.get(id) ?? '',
    })),
    counts: { inPot: potIds.length, planned: plannedIds.length },
    /** the next done batches further back, and the way to the newest from there; null where there is none */
    earlier: doneIds.length > PAGE_ROWS ? address('/dye-bench', { before: shown.at(-1) ?? null }) : null,
    newest: before === null ? null : '/dye-bench',
    /** what must be there before a batch can be planned */
    missing: readMissing(reader),
  };
  return { view: 'dye-bench/overview', data, title: 'Dye bench', room: 'dye-bench' } satisfies Page;
}

/** The rows of these batches, in the order of the numbers given. */
function readRows(reader: Reader, ids: readonly number[], units: Units) {
  if (ids.length === 0) return [];
  const rows = reader.all(
    reader.db
      .selectFrom('batch')
      .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
      .innerJoin('shade', 'shade.id', 'recipe.shade_id')
      .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
      .innerJoin('batch_piece', 'batch_piece.batch_id', 'batch.id')
      .select(['batch.id', 'batch.code', 'batch.due_on', 'vessel.name as vessel'])
      .select(['recipe.name as recipe', 'recipe.version'])
      .select(['shade.name', 'shade.lab_l', 'shade.lab_a', 'shade.lab_b'])
      .select((of) => [
        of.fn.countAll<number>().as('lengths'),
        of.fn.sum<number>('batch_piece.length_ticks').as('ticks'),
      ])
      .where('batch.id', 'in', [...ids])
      .groupBy('batch.id'),
  );
  return ids.flatMap((id) => {
    const row = rows.find((each) => each.id === id);
    if (!row) return [];
    return {
      id,
      dueOn: row.due_on,
      code: row.code,
      href: batchPath(row.code),
      chip: shadeChip(row),
      recipe: `${row.recipe}, version ${row.version}`,
      vessel: row.vessel,
      lengths: row.lengths,
      length: showLength(row.ticks, units, 'near'),
    };
  });
}

/** When the lengths of these batches were last sent and last came back. */
function readMoments(reader: Reader, ids: readonly number[]) {
  if (ids.length === 0) return new Map<number, { sent: string; back: string }>();
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .select(['batch_id', 'kind'])
      .select((of) => of.fn.max('at').as('at'))
      .where('batch_id', 'in', [...ids])
      .where('kind', 'in', ['sent-to-dye', 'back-from-dye'])
      .groupBy(['batch_id', 'kind']),
  );
  const at = (id: number, kind: string) =>
    rows.find((row) => row.batch_id === id && row.kind === kind)?.at ?? '';
  return new Map(ids.map((id) => [id, { sent: at(id, 'sent-to-dye'), back: at(id, 'back-from-dye') }]));
}

function readMissing(reader: Reader) {
  const found: { href: string; text: string }[] = [];
  if (!reader.first(reader.db.selectFrom('recipe').select('id').limit(1))) {
    found.push({ href: '/dye-bench/recipes/new', text: 'Write down a recipe' });
  }
  if (readVesselsInUse(reader).length === 0) {
    found.push({ href: '/dye-bench/vessels', text: 'Add a vessel' });
  }
  const ground = reader.first(
    reader.db
      .selectFrom('shade')
      .innerJoin('lot', 'lot.shade_id', 'shade.id')
      .select('shade.id')
      .where('shade.ground', '=', 1)
      .limit(1),
  );
  if (!ground) found.push({ href: '/shelf/receive', text: 'Receive undyed cloth' });
  return found;
}

/** Where each bath of a batch in the pot stands: "Bath 1: Hold 98 °C, until 15:22". */
function sayPots(reader: Reader, code: string): string[] {
  const { baths } = readAtThePot(reader, code);
  return baths.map((state) => {
    const name = baths.length === 1 ? '' : `Bath ${state.number}: `;
    const { now, untilMs } = state.clock;
    if (!hasBegun(state)) return `${name}not begun`;
    if (!now) return `${name}all steps done`;
    return `${name}${now.step.title}${untilMs === null ? '' : `, until ${clockOf(untilMs)}`}`;
  });
}

/** How the shades of these batches were judged last, by number. */
function readVerdicts(reader: Reader, ids: readonly number[]): ReadonlyMap<number, string> {
  if (ids.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('batch_log')
      .leftJoin('batch_log as undone', 'undone.undoes_id', 'batch_log.id')
      .select(['batch_log.batch_id as id', 'batch_log.what'])
      .where('batch_log.kind', '=', 'result')
      .where('batch_log.batch_id', 'in', [...ids])
      .where('undone.id', 'is', null)
      .orderBy('batch_log.id'),
  );
  return new Map(rows.map(({ id, what }) => [id, what]));
}
