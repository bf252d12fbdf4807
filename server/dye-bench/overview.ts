import { showLength, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { address, queryNumber } from '../kit/address.ts';
import { type Chip, shadeChip } from '../kit/chip.ts';
import { PAGE_ROWS } from '../kit/paging.ts';
import { batchPath } from '../kit/paths.ts';
import { dayOf, showDay, showMoment } from '../kit/when.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readDoneIds, readInPotIds, readPlannedIds } from './batch/store.ts';
import { readVerdicts, sayPots } from './overview-words.ts';
import { readVessels } from './vessels/vessels.ts';

/** Planned batches and those in the pot that are shown; there are hardly ever as many. */
const MOST_OPEN = 100;
/** Of so many in the pot it is told where each bath stands. */
const MOST_POTS = 12;

export interface DyeBenchData {
  readonly inPot: readonly (BatchRow & {
    readonly since: string;
    readonly bench: string;
    /** where each bath stands; none beyond the first few batches */
    readonly steps: readonly string[];
  })[];
  readonly planned: readonly (BatchRow & { readonly due: string; readonly overdue: boolean })[];
  /** `verdict` is '' where the shade was not judged */
  readonly done: readonly (BatchRow & { readonly finished: string; readonly verdict: string })[];
  readonly counts: { readonly inPot: number; readonly planned: number };
  /** the next done batches further back, and the way to the newest from there; null where there is none */
  readonly earlier: string | null;
  readonly newest: string | null;
  /** what must be there before a batch can be planned */
  readonly missing: readonly { readonly href: string; readonly text: string }[];
}

interface BatchRow {
  readonly code: string;
  readonly href: string;
  readonly chip: Chip;
  readonly recipe: string;
  readonly vessel: string;
  readonly lengths: number;
  readonly length: string;
}

/** The dye bench: batches in the pot, planned, and done lately (`?before=` goes further back). */
export function dyeBenchPage(reader: Reader, asker: Asker, now: string, query: unknown): Page {
  const before = queryNumber(query, 'before');
  const [potIds, plannedIds] = [readInPotIds(reader), readPlannedIds(reader)];
  const doneIds = readDoneIds(reader, { before, limit: PAGE_ROWS + 1 });
  const shown = doneIds.slice(0, PAGE_ROWS);
  const today = dayOf(now);
  const moments = readMoments(reader, [...potIds.slice(0, MOST_OPEN), ...shown]);
  const verdicts = readVerdicts(reader, shown);
  const rowsOf = (ids: readonly number[]) => readRows(reader, ids, asker.units);
  const data: DyeBenchData = {
    inPot: rowsOf(potIds.slice(0, MOST_OPEN)).map(({ id, dueOn: _, ...row }, place) => ({
      ...row,
      since: showMoment(moments.get(id)?.sent ?? now),
      bench: `${row.href}/bench`,
      steps: place < MOST_POTS ? sayPots(reader, row.code) : [],
    })),
    planned: rowsOf(plannedIds.slice(0, MOST_OPEN)).map(({ id: _, dueOn, ...row }) => ({
      ...row,
      due: dueOn === null ? '' : showDay(dueOn),
      overdue: dueOn !== null && dueOn < today,
    })),
    done: rowsOf(shown).map(({ id, dueOn: _, ...row }) => ({
      ...row,
      finished: showMoment(moments.get(id)?.back ?? now),
      verdict: verdicts.get(id) ?? '',
    })),
    counts: { inPot: potIds.length, planned: plannedIds.length },
    earlier: doneIds.length > PAGE_ROWS ? address('/dye-bench', { before: shown.at(-1) ?? null }) : null,
    newest: before === null ? null : '/dye-bench',
    missing: missing(reader),
  };
  return { view: 'dye-bench/overview', data, title: 'Dye bench', room: 'dye-bench' };
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

function missing(reader: Reader): DyeBenchData['missing'] {
  const found: { href: string; text: string }[] = [];
  if (!reader.first(reader.db.selectFrom('recipe').select('id').limit(1))) {
    found.push({ href: '/dye-bench/recipes/new', text: 'Write down a recipe' });
  }
  if (!readVessels(reader).some(({ gone }) => gone === '')) {
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
