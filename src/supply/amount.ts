import { exactly, type Rounding, showDecimal } from '../quantity/figure-show.ts';
import { readLength } from '../quantity/length.ts';
import { showLength, type Units } from '../quantity/length-show.ts';
import { readMass, showMass } from '../quantity/mass.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import { readVolumeUl, showVolumeUl } from '../quantity/volume.ts';
import { readWhole } from '../quantity/whole.ts';
import { writeLength } from '../quantity/written-length.ts';

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

/** An amount written so that `readSupplyAmount` gives the same: "12.35 g", "250 mL", "24". For forms filled in beforehand. */
export function writeSupplyAmount(amount: number, measure: SupplyMeasure, units: Units): string {
  switch (measure) {
    // After three decimals the dot could part thousands.
    case 'mass':
      return amount % 10 === 0 ? `${showDecimal(exactly(amount), 3)} g` : `${amount} mg`;
    case 'volume':
      return `${showDecimal(exactly(amount) * 10n, 4)}${amount % 10 === 0 ? '' : '0'} mL`;
    case 'length':
      return writeLength(amount, units);
    case 'count':
      return String(amount);
  }
}
