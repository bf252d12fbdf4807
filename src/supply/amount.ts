import type { Rounding } from '../quantity/figure-show.ts';
import { readLength } from '../quantity/length.ts';
import { showLength, type Units } from '../quantity/length-show.ts';
import { readMass, showMass } from '../quantity/mass.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import { readVolumeUl, showVolumeUl } from '../quantity/volume.ts';
import { readWhole } from '../quantity/whole.ts';

/** What amounts of a supply count. */
export const MEASURES = ['mass', 'volume', 'length', 'count'] as const;
export type SupplyMeasure = (typeof MEASURES)[number];

/** The most of any one supply, in whatever its amounts count. */
export const MOST_OF_SUPPLY = 1_000_000_000_000;

/** The unit that a bare number takes: "g", "mL", "m" or "yd", "pieces". */
export function unitOfMeasure(measure: SupplyMeasure, units: Units): string {
  if (measure === 'length') return units.system === 'metric' ? 'm' : 'yd';
  return { mass: 'g', volume: 'mL', count: 'pieces' }[measure];
}

/**
 * Reads an amount of a supply: milligrams of a mass, microlitres of a volume, ticks of 1/160 mm of a length, whole pieces
 * of a count; nought or more. A bare number takes the unit of `unitOfMeasure`. Refused is what the measure refuses.
 */
export function readSupplyAmount(typed: string, measure: SupplyMeasure, units: Units): Reading<number> {
  switch (measure) {
    case 'mass':
      return readMass(typed, 'g');
    case 'volume':
      return readVolumeUl(typed, 'ml');
    case 'length':
      return readLength(typed, units.system === 'metric' ? 'm' : 'yd');
    case 'count': {
      const bare = typed.trim().replace(/ ?(pieces?|pcs?\.?)$/i, '');
      return bare === '' ? refused('Enter a number of pieces, such as 24.') : readWhole(bare);
    }
  }
}

/** An amount as people read it: "12.35 g", "250 mL", "3.5 m", "24 pieces"; signs and rounding are those of each measure. */
export function showSupplyAmount(
  amount: number,
  measure: SupplyMeasure,
  units: Units,
  round: Rounding,
): string {
  switch (measure) {
    case 'mass':
      return showMass(amount, 'metric', round);
    case 'volume':
      return showVolumeUl(amount, round);
    case 'length':
      return showLength(amount, units, round);
    case 'count':
      return `${String(amount).replace('-', '−')} ${Math.abs(amount) === 1 ? 'piece' : 'pieces'}`;
  }
}
