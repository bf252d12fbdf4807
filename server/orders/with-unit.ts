import { type LengthUnit, readLength } from '../../src/length.ts';

/** A bare number takes the unit it was typed under, so that it reads the same for whoever opens it next. */
export function withUnit(typed: string, unit: LengthUnit): string {
  const other = readLength(typed, unit === 'mm' ? 'yd' : 'mm');
  const own = readLength(typed, unit);
  return own.ok && other.ok && own.value !== other.value ? `${typed} ${unit}` : typed;
}
