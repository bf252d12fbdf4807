import { strengthBySwatches } from '../../../src/dye/strength.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { swatchPath } from '../../kit/paths.ts';
import { readResults } from './store.ts';

/** A strength that two swatches tell, to be typed for a lot. */
export interface FoundStrength {
  readonly strength: string;
  /** "Lot 25-9 against lot 24-1" */
  readonly lots: string;
  readonly swatches: readonly { readonly name: string; readonly href: string }[];
}

/**
 * How strong each further lot of a dye is beside the first of which a swatch was measured: by swatches of this dye alone, of
 * one cloth, depth and liquor ratio, the last dry colour of each. The newest first.
 */
export function foundStrengths(reader: Reader, dye: string): FoundStrength[] {
  const measured = readMeasured(reader, dye);
  return measured
    .flatMap((sample, at): FoundStrength[] => {
      const standard = measured.find((each) => isAlike(each, sample));
      const earlier = measured
        .slice(0, at)
        .some((each) => each.dyeLot === sample.dyeLot && isAlike(each, sample));
      if (!standard || standard.dyeLot === sample.dyeLot || earlier) return [];
      const bp = strengthBySwatches(standard.lab, sample.lab);
      if (bp === null) return [];
      return [
        {
          strength: showPercent(bp),
          lots: `Lot ${sample.dyeLot} against lot ${standard.dyeLot}`,
          swatches: [sample, standard].map(({ name, href }) => ({ name, href })),
        },
      ];
    })
    .toReversed();
}

type Measured = ReturnType<typeof readMeasured>[number];

function isAlike(one: Measured, other: Measured): boolean {
  return one.clothId === other.clothId && one.depth === other.depth && one.ratio === other.ratio;
}

/** Swatches of a dye alone whose lot is known and whose dry colour was measured, the oldest first. */
function readMeasured(reader: Reader, dye: string) {
  const { db } = reader;
  const rows = reader.all(
    db
      .selectFrom('swatch')
      .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
      .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
      .innerJoin('swatch_dye_lot', 'swatch_dye_lot.job_id', 'swatch_job.id')
      .innerJoin('recipe_dye', 'recipe_dye.recipe_id', 'swatch.recipe_id')
      .select(['swatch.id', 'swatch.position', 'swatch.depth_owf_milli as depth', 'swatch_job.code'])
      .select(['swatch_job.lab_ratio_milli as ratio', 'lot.cloth_id as clothId'])
      .select('swatch_dye_lot.dye_lot as dyeLot')
      .select((of) => of.fn.countAll<number>().as('dyes'))
      .where('swatch_dye_lot.name', '=', dye)
      .groupBy('swatch.id')
      .having((of) => of.and([of(of.fn.countAll(), '=', 1), of(of.fn.max('recipe_dye.name'), '=', dye)]))
      .orderBy('swatch.id'),
  );
  const results = readResults(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.flatMap((row) => {
    const seen = results.findLast(
      ({ swatchId, lab, state }) => swatchId === row.id && lab && state === 'dry',
    );
    const name = `${row.code}.${row.position}`;
    return seen?.lab ? [{ ...row, name, href: swatchPath(row.code), lab: seen.lab }] : [];
  });
}
