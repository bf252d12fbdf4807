/** How strong a lot of dye is beside another, by two swatches that are alike in all but that lot. */

import { kOverS } from '../colour/kubelka-munk.ts';
import type { Lab } from '../colour/lab.ts';
import { reflectancesOf } from '../colour/reflectance.ts';

/** Beyond these two lots of one dye are not told apart by strength: something else differs. */
export const STRENGTH_LIMITS_BP = { least: 2500, most: 40_000 } as const;

/**
 * The strength of the lot of `sample` in hundredths of a percent of that of `standard`: K/S by K/S, which is common practice
 * where swatches of one dye have one depth, taken of that of X, Y and Z from which the dye takes most (our rule: without a
 * spectrum). Null where it comes out beyond `STRENGTH_LIMITS_BP`, or where the standard is as good as white.
 */
export function strengthBySwatches(standard: Lab, sample: Lab): number | null {
  const [before, after] = [reflectancesOf(standard).map(kOverS), reflectancesOf(sample).map(kOverS)];
  const most = Math.max(...before);
  if (most <= 0) return null;
  const bp = Math.round(((after[before.indexOf(most)] ?? 0) / most) * 10_000);
  return bp < STRENGTH_LIMITS_BP.least || bp > STRENGTH_LIMITS_BP.most ? null : bp;
}
