import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';

/** A price for so much of something: `minor` units of money for each `perMg` milligrams. */
export interface PricePerMass {
  readonly minor: number;
  readonly perMg: number;
}

/** One thing that goes into a pot, and its price where it is known. */
export interface PricedAmount {
  readonly name: string;
  readonly massMg: number;
  readonly price: PricePerMass | null;
}

export interface DyeingCost {
  readonly lines: readonly { readonly name: string; readonly costMinor: number | null }[];
  /** null where fuel has no price */
  readonly energyMinor: number | null;
  /** of all that has a price */
  readonly totalMinor: number;
  /** what has no price */
  readonly unknown: readonly string[];
}

const KJ_PER_KWH = 3600;

/**
 * What a batch's dyes, auxiliaries and heat cost, in minor units; each line is rounded once, a half up. Heat is `kj`
 * at so many minor units a kilowatt-hour. What has no price is named and not guessed. Throws RangeError on negatives.
 */
export function dyeingCost(
  amounts: readonly PricedAmount[],
  heat: { readonly kj: number; readonly minorPerKwh: number | null },
): DyeingCost {
  if (heat.kj < 0 || amounts.some(({ massMg }) => massMg < 0))
    throw new RangeError('nothing that is used is negative');
  const lines = amounts.map(({ name, massMg, price }) => ({
    name,
    costMinor:
      price === null
        ? null
        : stored(divideRounded(exactly(massMg) * exactly(price.minor), exactly(price.perMg), 'near')),
  }));
  const energyMinor =
    heat.minorPerKwh === null ? null : Math.round((heat.kj / KJ_PER_KWH) * heat.minorPerKwh);
  const known = lines.reduce((sum, { costMinor }) => sum + (costMinor ?? 0), 0);
  return {
    lines,
    energyMinor,
    totalMinor: known + (energyMinor ?? 0),
    unknown: [
      ...lines.filter(({ costMinor }) => costMinor === null).map(({ name }) => name),
      ...(energyMinor === null && heat.kj > 0 ? ['fuel'] : []),
    ],
  };
}

const MINUTES_A_WORKING_DAY = 8 * 60;

/** What so many minutes of work cost at a price for an hour, in minor units, a half up. Throws RangeError on negatives. */
export function workCost(minutes: number, minorPerHour: number): number {
  if (minutes < 0 || minorPerHour < 0) throw new RangeError('no time and no price is negative');
  return Math.round((minutes * minorPerHour) / 60);
}

/**
 * The working days that baths one after the other take, at eight hours a day, the drying of the last one counted in; at
 * least one. With a swatch to be judged first it is one day more (our rule). Throws RangeError on negatives.
 */
export function dyeingDays(minutes: number, hasSwatch: boolean): number {
  if (minutes < 0) throw new RangeError('no time is negative');
  return Math.max(1, Math.ceil(minutes / MINUTES_A_WORKING_DAY)) + (hasSwatch ? 0 : 1);
}
