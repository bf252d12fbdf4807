import { type LengthUnit, readLength } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Typed } from './typed.ts';
import { lengthUnit, sizeUnit } from './units.ts';

/** A bare number takes the unit it was typed under, so that it reads the same for whoever opens it next. */
export function withUnit(typed: string, unit: LengthUnit): string {
  const other = readLength(typed, unit === 'yd' ? 'ft' : 'yd');
  const own = readLength(typed, unit);
  return own.ok && other.ok && own.value !== other.value ? `${typed} ${unit}` : typed;
}

/** What was typed in a form, each number with its unit: `lengths` and `sizes` match the names of such fields. */
export function withUnits(
  typed: Typed,
  units: Units,
  fields: { readonly lengths: RegExp; readonly sizes: RegExp },
): Record<string, string> {
  const kept = Object.entries(typed).filter(([name, text]) => text !== '' && name !== 'request_key');
  return Object.fromEntries(
    kept.map(([name, text]) => {
      if (fields.sizes.test(name)) return [name, withUnit(text, sizeUnit(units))];
      return [name, fields.lengths.test(name) ? withUnit(text, lengthUnit(units)) : text];
    }),
  );
}
