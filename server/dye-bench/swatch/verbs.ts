import { showOwf } from '../../../src/dye/bench-figures.ts';
import { depthOwfMilli, RECIPE_LIMITS } from '../../../src/dye/recipe.ts';
import { type Answer, nextId, type Tx } from '../../database/book.ts';
import { swatchPath } from '../../kit/paths.ts';
import { wordFor } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { invalid, type Problem, refuseAny } from '../../refusal.ts';
import { addReading, plainReading } from '../../shelf/colour/readings.ts';
import { readDyes } from '../dyes/store.ts';
import { checkInWater } from '../recipe/check.ts';
import { readRecipe } from '../recipe/store.ts';
import { workOutSwatches } from './amounts.ts';
import { MOST_SWATCHES, type SwatchJobForm, type SwatchResultForm } from './form.ts';
import { readSwatchJob, type SwatchJob } from './store.ts';

type AskedSwatches = SwatchJobForm['swatches'];

/** Swatches to dye: a recipe and the depth of all its dyes together, in thousandths of a percent. */
export interface SwatchToDye {
  readonly recipeId: number;
  readonly depthOwfMilli: number;
}

/** What a job is besides its swatches. Masses are mg, ratios thousandths. */
export interface NewSwatchJob {
  readonly lotId: number;
  readonly massMg: number;
  readonly labRatioMilli: number;
  readonly bulkRatioMilli: number;
  readonly note: string;
  /** dye lots that are not those of the tubs on the list */
  readonly lots: ReadonlyMap<string, string>;
}

/**
 * Writes swatches down that are to be dyed of one lot from the same stocks. @throws {Refusal} invalid, where a recipe
 * does not dye the cloth or the amounts cannot be measured
 */
export function planSwatches(tx: Tx, form: SwatchJobForm): Answer {
  const { code, job } = insertJob(
    tx,
    {
      lotId: form.lot_id,
      massMg: form.mass,
      labRatioMilli: form.lab_ratio,
      bulkRatioMilli: form.bulk_ratio,
      note: form.note,
      lots: new Map(form.lots.map(({ name, lot }) => [name, lot])),
    },
    askedOf(tx, form.swatches),
  );
  refuseWhatFails(tx, job, form.swatches);
  const count = job.swatches.length;
  return {
    location: swatchPath(code),
    said: `${code} is planned: ${wordFor(count, 'one swatch', `${count} swatches`)} of ${job.cloth.name}, lot ${job.lot.code}.`,
  };
}

/** More swatches in a job, such as after one was adjusted; they take the next numbers. */
export function addSwatches(tx: Tx, code: string, asked: AskedSwatches): Answer {
  const before = readSwatchJob(tx, code);
  if (before.swatches.length + asked.length > MOST_SWATCHES)
    throw invalid('swatches', `A job has ${MOST_SWATCHES} swatches at most: plan another.`);
  insertSwatches(tx, before.id, askedOf(tx, asked), before.swatches.length);
  const job = readSwatchJob(tx, code);
  refuseWhatFails(tx, job, asked);
  keepDyeLots(tx, job, new Map());
  const added = asked.length;
  return {
    location: swatchPath(code),
    said: `${wordFor(added, 'One swatch is', `${added} swatches are`)} added to ${code}.`,
  };
}

/** Writes a job down as it is, without looking whether it can be dyed. */
export function insertJob(
  tx: Tx,
  made: NewSwatchJob,
  swatches: readonly SwatchToDye[],
): { readonly code: string; readonly job: SwatchJob } {
  const code = `W${nextId(tx, 'swatch_job')}`;
  const { lastId } = tx.run(
    tx.db.insertInto('swatch_job').values({
      code,
      lot_id: made.lotId,
      mass_mg: made.massMg,
      lab_ratio_milli: made.labRatioMilli,
      bulk_ratio_milli: made.bulkRatioMilli,
      note: made.note,
      planned_at: tx.at,
      person_id: tx.personId,
    }),
  );
  insertSwatches(tx, lastId, swatches, 0);
  const job = readSwatchJob(tx, code);
  keepDyeLots(tx, job, made.lots);
  return { code, job };
}

function insertSwatches(tx: Tx, jobId: number, swatches: readonly SwatchToDye[], before: number): void {
  for (const [at, { recipeId, depthOwfMilli: depth_owf_milli }] of swatches.entries()) {
    const values = { job_id: jobId, position: before + at + 1, recipe_id: recipeId, depth_owf_milli };
    tx.run(tx.db.insertInto('swatch').values(values));
  }
}

function askedOf(tx: Tx, asked: AskedSwatches): SwatchToDye[] {
  const most = RECIPE_LIMITS.dyeOwfMilli;
  refuseAny(
    asked.flatMap(({ depth, place }) =>
      depth === null || (depth > 0 && depth <= most)
        ? []
        : [{ field: `swatches.${place}.depth`, message: `Write a depth above 0, up to ${showOwf(most)}.` }],
    ),
  );
  return asked.map(({ recipe_id: recipeId, depth }) => ({
    recipeId,
    depthOwfMilli: depth ?? depthOwfMilli(readRecipe(tx, recipeId).recipe),
  }));
}

/** The lot of each dye: as it was said, else that of the tub on the list. What is known already stays. */
function keepDyeLots(tx: Tx, { id, swatches, dyeLots }: SwatchJob, said: ReadonlyMap<string, string>): void {
  const tubs = new Map(readDyes(tx).map(({ name, lot }) => [name, lot]));
  const names = new Set(swatches.flatMap(({ recipe }) => recipe.dyes.map(({ name }) => name)));
  for (const name of names) {
    const lot = said.get(name) ?? tubs.get(name) ?? '';
    if (lot === '' || dyeLots.has(name)) continue;
    tx.run(tx.db.insertInto('swatch_dye_lot').values({ job_id: id, name, dye_lot: lot }));
  }
}

/** Refuses, at its row, what does not dye the cloth or cannot be measured. */
function refuseWhatFails(tx: Tx, job: SwatchJob, asked: AskedSwatches): void {
  const { cloth, massMg, swatches } = job;
  const fresh = swatches.slice(swatches.length - asked.length);
  const problems = fresh.flatMap(({ stored }, at): Problem[] => {
    if (cloth.content.length === 0) return [];
    return checkInWater(tx, stored.recipe, cloth.content).problems.map(({ message }) => ({
      field: `swatches.${asked[at]?.place ?? at}.recipe_id`,
      message: `${cloth.name}: ${message}`,
    }));
  });
  refuseAny(problems);
  const { balanceMg } = readWorkroom(tx);
  const worked = workOutSwatches(swatches, { massMg, content: cloth.content, balanceMg });
  if (!worked.ok) refuseAny([{ field: 'swatches', message: worked.reason }]);
}

/** What somebody saw of a swatch; the last verdict counts, and earlier ones stay to be read. */
export function judgeSwatch(tx: Tx, code: string, form: SwatchResultForm): Answer {
  const job = readSwatchJob(tx, code);
  const { colour, swatch_id, ...seen } = form;
  const how = form.seen_by === 'photo' ? 'photo card' : form.seen_by;
  const swatch = job.swatches.find(({ id }) => id === swatch_id);
  tx.run(
    tx.db.insertInto('swatch_result').values({
      swatch_id,
      ...seen,
      reading_id:
        colour && addReading(tx, { swatchId: swatch_id }, plainReading({ ...form, how, ...colour })),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  const name = swatch?.name ?? code;
  return { location: swatchPath(code), said: sayJudged(name, form) };
}

function sayJudged(name: string, { verdict, state }: SwatchResultForm): string {
  if (verdict === null) return `What was seen of ${name} is kept; it is not decided yet.`;
  if (verdict === 'adjusted') return `${name} is to be adjusted: add the next swatch below.`;
  if (verdict === 'approved' && state === 'wet')
    return `${name} is approved wet: look at it dry before the cloth goes in.`;
  return `${name} is ${verdict}.`;
}
