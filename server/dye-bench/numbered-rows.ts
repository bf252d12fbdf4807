import { z } from 'zod';
import { placeField, rowsField, withPlaces } from '../kit/fields.ts';
import { askedAs } from '../kit/form-drawing.ts';
import type { Typed } from '../kit/typed.ts';
import type { Problem } from '../refusal.ts';

/** Rows of a list at most, unless its form says otherwise. */
const MOST_ROWS = 20;

type RowFields = Readonly<Record<string, z.ZodType>>;

/** What a row says, and its place in the form. */
type NumberedRow<F extends RowFields> = { readonly [Name in keyof F]: z.output<F[Name]> } & {
  readonly place: number;
};

type ListOptions = Omit<Parameters<typeof rowsField>[1], 'prepare' | 'max'> & { readonly max?: number };

/**
 * Rows that know their place in the form, so that what is found later is told at the right field. `check` looks at a
 * row as a whole.
 */
export function numberedRows<F extends RowFields, T = NumberedRow<F>>(
  fields: F,
  {
    check,
    ...options
  }: ListOptions & { readonly check?: (row: NumberedRow<F>, context: z.RefinementCtx) => T },
) {
  const read = z.strictObject({ ...fields, place: placeField() });
  const row = check ? read.transform((said, context) => check(said as NumberedRow<F>, context)) : read;
  const list = rowsField(row as unknown as z.ZodType<T>, { max: MOST_ROWS, ...options, prepare: withPlaces });
  const { rows, spare, mostRows } = list;
  return askedAs(list, { rowFields: fields, rows, spare, mostRows });
}

/** What was typed without the fields left blank, so that a list ends with its last filled row. */
export function filledIn(typed: Typed): Typed {
  return Object.fromEntries(Object.entries(typed).filter(([, text]) => text !== ''));
}

const FIELDS: Readonly<Record<string, string>> = {
  dyeClass: 'dye_class',
  liquorRatioMilli: 'liquor_ratio',
  temperatureC: 'temperature',
  holdMinutes: 'hold',
  pH: 'ph_from',
};

interface Placed {
  readonly place: number;
}

/** What `checkRecipe` found, told at the field of the form where it was typed. */
export function atField(
  { field, message }: Problem,
  form: { readonly dyes: readonly Placed[]; readonly auxiliaries: readonly Placed[] },
): Problem {
  const [list = '', place = '', part = ''] = field.split('.');
  if (place === '') return { field: FIELDS[field] ?? field, message };
  const rows = list === 'dyes' ? form.dyes : form.auxiliaries;
  const row = rows[Number(place)]?.place ?? place;
  const name = {
    owfMilli: list === 'dyes' ? 'owf' : 'amount',
    mgPerLitre: 'amount',
    form: 'what',
    kind: 'what',
  }[part];
  return { field: `${list}.${row}.${name ?? part}`, message };
}
