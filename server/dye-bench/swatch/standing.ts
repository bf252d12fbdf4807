import { showLiquorRatio } from '../../../src/dye/bench-figures.ts';
import type { Warning } from '../../../src/dye/dye-advice.ts';
import { depthOwfMilli } from '../../../src/dye/recipe.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { swatchPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { readDyes } from '../dyes/store.ts';
import type { StoredRecipe } from '../recipe/store.ts';
import { lastVerdict, readResults, readSwatchDyeLots, selectJobs } from './store.ts';

/** A lot that goes into a batch. */
export interface LotToDye {
  readonly lotId: number;
  readonly lotCode: string;
  readonly cloth: { readonly name: string };
}

/** How the swatch of a lot by a recipe stands, and what that leaves to beware of. */
export interface SwatchStanding {
  readonly lot: string;
  readonly said: string;
  readonly href: string;
  readonly approved: boolean;
  readonly warning: Warning | null;
}

/**
 * Whether each lot has an approved swatch by this recipe, at its depth, with the dye lots that are in the tubs. Without
 * one the cloth can be dyed all the same: it is a warning.
 */
export function swatchStandings(
  reader: Reader,
  stored: StoredRecipe,
  lots: readonly LotToDye[],
): SwatchStanding[] {
  const each = [...new Map(lots.map((lot) => [lot.lotId, lot])).values()];
  return each.map((lot) => standingOf(reader, stored, lot));
}

function standingOf(reader: Reader, stored: StoredRecipe, lot: LotToDye): SwatchStanding {
  const named = `${lot.cloth.name}, lot ${lot.lotCode}`;
  const swatches = readSwatchesOf(reader, stored, lot.lotId);
  const approved = swatches.findLast(({ verdict }) => verdict?.verdict === 'approved');
  if (approved?.verdict) {
    const { verdict, href } = approved;
    const said = `${approved.name} approved by ${verdict.person}, ${showDay(verdict.at.slice(0, 10))}, ${verdict.state}, in ${verdict.light}`;
    const doubts = doubtsAbout(reader, stored, approved);
    const warning = doubts.length === 0 ? null : warningOf(lot, `${named}: ${doubts.join(' ')}`);
    return { lot: named, said, href, approved: true, warning };
  }
  const last = swatches.at(-1);
  const said = last
    ? `${last.name} ${last.verdict ? last.verdict.verdict : 'not judged yet'}`
    : 'none by this recipe';
  const text = `No approved swatch of ${named}, by this recipe${last ? ` (${said})` : ''}. Dye one first: lots of cloth and of dye differ.`;
  return {
    lot: named,
    said,
    href: last ? last.href : address('/dye-bench/swatches/new', { recipe: stored.id, lot: lot.lotId }),
    approved: false,
    warning: warningOf(lot, text),
  };
}

function warningOf({ lotId }: LotToDye, text: string): Warning {
  return { id: `swatch-${lotId}`, text, source: 'common practice' };
}

const swatchesAtDepth = prepared((db, lotId: Param<number>, recipeId: Param<number>, depth: Param<number>) =>
  selectJobs(db)
    .innerJoin('swatch', 'swatch.job_id', 'swatch_job.id')
    .select(['swatch.id as swatch_id', 'swatch.position'])
    .where('swatch_job.lot_id', '=', lotId)
    .where('swatch.recipe_id', '=', recipeId)
    .where('swatch.depth_owf_milli', '=', depth)
    .orderBy('swatch.id'),
);

/** Swatches of a lot by this recipe at its own depth, the first dyed first. */
function readSwatchesOf(reader: Reader, stored: StoredRecipe, lotId: number) {
  const rows = reader.all(swatchesAtDepth(lotId, stored.id, depthOwfMilli(stored.recipe)));
  const results = readResults(
    reader,
    rows.map(({ swatch_id: id }) => id),
  );
  return rows.map((row) => ({
    jobId: row.id,
    name: `${row.code}.${row.position}`,
    href: swatchPath(row.code),
    labRatioMilli: row.lab_ratio_milli,
    verdict: lastVerdict(results.filter(({ swatchId }) => swatchId === row.swatch_id)),
  }));
}

type FoundSwatch = ReturnType<typeof readSwatchesOf>[number];

/** What an approved swatch leaves open: other dye lots, another liquor ratio, judged wet. */
function doubtsAbout(reader: Reader, { recipe }: StoredRecipe, swatch: FoundSwatch): string[] {
  const was = readSwatchDyeLots(reader, swatch.jobId);
  const tubs = new Map(readDyes(reader).map(({ name, lot }) => [name, lot]));
  const others = recipe.dyes.flatMap(({ name }) => {
    const [before, now] = [was.get(name) ?? '', tubs.get(name) ?? ''];
    return before === '' || now === '' || before === now
      ? []
      : [`${name} was lot ${before} and is lot ${now} now`];
  });
  const ratio = swatch.labRatioMilli !== recipe.liquorRatioMilli;
  return [
    ...(others.length === 0
      ? []
      : [`Swatch ${swatch.name} was dyed from another dye lot: ${others.join('; ')}. Dye a new swatch.`]),
    ...(ratio
      ? [
          `Swatch ${swatch.name} was dyed at ${showLiquorRatio(swatch.labRatioMilli)}, the recipe is ${showLiquorRatio(recipe.liquorRatioMilli)}: the depth may differ.`,
        ]
      : []),
    ...(swatch.verdict?.state === 'wet'
      ? [`Swatch ${swatch.name} was approved wet: look at it dry before the cloth goes in.`]
      : []),
  ];
}
