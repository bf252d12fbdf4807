import { type ColourReading, sayViewing } from '../../../src/colour/colour-reading.ts';
import { type Lab, labToScreen, sayLabTenths, screenShows } from '../../../src/colour/lab.ts';
import { coloursOfLot } from '../../../src/colour/lot-colour.ts';
import { showOwf } from '../../../src/dye/bench-figures.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { batchPath, swatchPath } from '../../kit/paths.ts';
import { dayOf, showDay } from '../../kit/when.ts';
import { readReadingsOfSwatches } from '../../shelf/colour/readings.ts';
import { lastVerdict, readResults } from '../swatch/store.ts';

/** A swatch of the book: one that was dyed to try a recipe, or one that was kept of a batch. */
export interface BookedSwatch {
  /** "W3.2", "D4 after dyeing" */
  readonly code: string;
  readonly href: string;
  /** what it is of: the code of its job or batch */
  readonly of: string;
  readonly shade: string;
  readonly cloth: string;
  /** "Kelp on nylon, 2 % owf" */
  readonly recipe: string;
  readonly day: string;
  /** what was made of it: "approved"; '' where nobody judged it */
  readonly verdict: string;
  readonly lab: Lab | null;
  /** "L* 52.3, a* −12.5, b* 0.0 (D65, 10°)"; '' where it was not read */
  readonly colour: string;
  readonly screen: string | null;
  readonly offScreen: boolean;
  /** where it or its photograph lies, and what else was written down */
  readonly note: string;
}

/** So many of each kind are in the book, the newest. */
export const MOST_BOOKED = 400;

const dyedSwatches = prepared((db, most: Param<number>) =>
  db
    .selectFrom('swatch')
    .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
    .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
    .innerJoin('shade', 'shade.id', 'recipe.shade_id')
    .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .select([
      'swatch.id',
      'swatch.position',
      'swatch.depth_owf_milli',
      'swatch_job.code',
      'swatch_job.planned_at',
      'recipe.name as recipe',
      'shade.name as shade',
      'cloth.name as cloth',
    ])
    .orderBy('swatch.id', 'desc')
    .limit(most),
);

const batchSwatches = prepared((db, most: Param<number>) =>
  db
    .selectFrom('batch_log')
    .innerJoin('batch', 'batch.id', 'batch_log.batch_id')
    .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
    .innerJoin('shade', 'shade.id', 'recipe.shade_id')
    .selectAll('batch_log')
    .select(['batch.code', 'recipe.name as recipe', 'shade.name as shade'])
    .where('batch_log.kind', '=', 'swatch')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('batch_log as undoing')
            .select('undoing.id')
            .whereRef('undoing.undoes_id', '=', 'batch_log.id'),
        ),
      ),
    )
    .orderBy('batch_log.id', 'desc')
    .limit(most),
);

const clothsOfBatches = prepared((db) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .select(['lot.batch_id', 'cloth.name'])
    .where('lot.batch_id', 'is not', null)
    .distinct(),
);

/** All swatches of the workroom, the newest first. */
export function readBookedSwatches(reader: Reader): BookedSwatch[] {
  return [...readDyed(reader), ...readOfBatches(reader)].sort((one, other) =>
    other.day.localeCompare(one.day),
  );
}

function readDyed(reader: Reader): BookedSwatch[] {
  const rows = reader.all(dyedSwatches(MOST_BOOKED));
  const ids = rows.map(({ id }) => id);
  const readings = grouped(readReadingsOfSwatches(reader, ids), ({ swatchId }) => swatchId ?? 0);
  const results = grouped(readResults(reader, ids), ({ swatchId }) => swatchId);
  return rows.map((row) => {
    const seen = results.get(row.id) ?? [];
    return {
      code: `${row.code}.${row.position}`,
      href: swatchPath(row.code),
      of: row.code,
      shade: row.shade,
      cloth: row.cloth,
      recipe: `${row.recipe}, ${showOwf(row.depth_owf_milli)}`,
      day: dayOf(row.planned_at),
      verdict: lastVerdict(seen)?.verdict ?? '',
      ...shapeColour(coloursOfLot(readings.get(row.id) ?? [])[0] ?? null),
      note: seen.at(-1)?.note ?? '',
    };
  });
}

function readOfBatches(reader: Reader): BookedSwatch[] {
  const rows = reader.all(batchSwatches(MOST_BOOKED));
  const cloths = grouped(rows.length === 0 ? [] : reader.all(clothsOfBatches()), (row) => row.batch_id ?? 0);
  return rows.map((row) => {
    const { lab_l: l, lab_a: a, lab_b: b } = row;
    const lab = l === null || a === null || b === null ? null : { l, a, b };
    const viewing = { illuminant: row.lab_illuminant, observer: row.lab_observer };
    return {
      code: `${row.code} ${row.what} dyeing`,
      href: `${batchPath(row.code)}/record`,
      of: row.code,
      shade: row.shade,
      cloth: (cloths.get(row.batch_id) ?? []).map(({ name }) => name).join(', '),
      recipe: row.recipe,
      day: dayOf(row.at),
      verdict: '',
      ...shapeColour(lab && { lab, ...viewing }),
      note: row.note,
    };
  });
}

function shapeColour(colour: Pick<ColourReading, 'lab' | 'illuminant' | 'observer'> | null) {
  if (!colour) return { lab: null, colour: '', screen: null, offScreen: false };
  const { lab } = colour;
  return {
    lab,
    colour: `${sayLabTenths(lab)} (${sayViewing(colour)})`,
    screen: labToScreen(lab),
    offScreen: !screenShows(lab),
  };
}

/** "12 Mar 2026". */
export const sayDay = (swatch: BookedSwatch) => showDay(swatch.day);
