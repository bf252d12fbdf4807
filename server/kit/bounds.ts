import { type LengthUnit, TICKS_PER } from '../../src/quantity/length.ts';

/** What a quantity may be, in what is stored, and how such a bound is worded. */
export interface Bounds {
  readonly min?: number;
  readonly max?: number;
  readonly sayBound?: (value: number) => string;
}

/** What is wrong with a quantity that lies beyond its bounds and what to enter; null where it lies within. */
export function sayOutOfBounds(
  value: number,
  { what, min, max, sayBound }: Bounds & { readonly what?: string },
): string | null {
  if (min !== undefined && value < min) {
    const least = min <= 1 || !sayBound ? 'more than 0' : `${sayBound(min)} or more`;
    return `The ${what} is too small: enter ${least}.`;
  }
  if (max !== undefined && value > max) {
    return `The ${what} is too large: enter ${sayBound ? `${sayBound(max)} or less` : 'a smaller figure'}.`;
  }
  return null;
}

/** Words lengths in the unit of their field, to three decimals: "1.475 m". */
export function sayLengthIn(unit: LengthUnit): (ticks: number) => string {
  return (ticks) => `${Number((ticks / TICKS_PER[unit]).toFixed(3))} ${unit}`;
}
