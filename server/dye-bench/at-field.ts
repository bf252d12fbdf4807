import type { Problem } from '../refusal.ts';

interface Row {
  readonly row: number;
}

const FIELDS: Readonly<Record<string, string>> = {
  dyeClass: 'dye_class',
  liquorRatioMilli: 'liquor_ratio',
  temperatureC: 'temperature',
  holdMinutes: 'hold',
  pH: 'ph_from',
};

/** What `checkRecipe` found, told at the field of the form where it was typed. */
export function atField(
  { field, message }: Problem,
  form: { readonly dyes: readonly Row[]; readonly auxiliaries: readonly Row[] },
): Problem {
  const [list = '', place = '', part = ''] = field.split('.');
  if (place === '') return { field: FIELDS[field] ?? field, message };
  const rows = list === 'dyes' ? form.dyes : form.auxiliaries;
  const row = rows[Number(place)]?.row ?? place;
  const name = {
    owfMilli: list === 'dyes' ? 'owf' : 'amount',
    mgPerLitre: 'amount',
    form: 'what',
    kind: 'what',
  }[part];
  return { field: `${list}.${row}.${name ?? part}`, message };
}
