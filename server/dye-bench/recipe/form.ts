import { z } from 'zod';
import { AUXILIARIES, type AuxiliaryKind, auxiliaryForm } from '../../../src/dye/auxiliaries.ts';
import { readLiquorRatio, readOwf } from '../../../src/dye/bench-figures.ts';
import { DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { capital, FIBRE_CODES } from '../../../src/dye/fibre.ts';
import { RECIPE_LIMITS } from '../../../src/dye/recipe.ts';
import {
  type AuxiliaryDose,
  doseOfVolume,
  type MeasuredDose,
  readAdditionOrVolume,
  readPh,
  readRamp,
  readTemperature,
} from '../../../src/dye/recipe-figures.ts';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import type { Choice } from '../../kit/choices.ts';
import {
  choiceField,
  field,
  optionalText,
  percentField,
  rowsField,
  textField,
  tickField,
  wholeField,
} from '../../kit/fields.ts';

/** Dyes and auxiliaries a recipe has at most. */
export const MOST_RECIPE_ROWS = 20;
/** Half the cloth: no cloth that can be used shrinks more. */
const MOST_SHRINKAGE_BP = 5000;

/** What every recipe says, whether it is new or a new version. `shade` reads the shade wanted. */
function recipeFields<S extends z.ZodType<number>>(shade: S) {
  const dye = z.strictObject({
    row: rowNumber(),
    name: textField({ max: 120, label: 'The name of the dye' }),
    owf: readingField(readOwf),
  });
  const auxiliary = z
    .strictObject({
      row: rowNumber(),
      what: readingField(readWhat),
      name: optionalText({ max: 120 }),
      amount: readingField(readAdditionOrVolume),
      label: tickField(),
    })
    .transform((row, context) => ({ ...row, amount: doseIn(row.what, row.amount, context) }));
  return {
    shade_id: shade,
    fibre: choiceField(FIBRE_CODES, 'the fibre'),
    dye_class: choiceField(DYE_CLASSES, 'the class of dye'),
    depth: optionalText({ max: 20 }),
    method: optionalText({ max: 120 }),
    dyes: numberedRows(dye, { min: 1, what: 'dyes' }),
    auxiliaries: numberedRows(auxiliary, { min: 0, what: 'auxiliaries' }),
    liquor_ratio: readingField(readLiquorRatio),
    liquor_ratio_label: tickField(),
    temperature: readingField(readTemperature),
    temperature_label: tickField(),
    hold: wholeField({ min: 1, max: RECIPE_LIMITS.longestHoldMinutes }),
    hold_label: tickField(),
    ph_from: optionalReading(readPh),
    ph_to: optionalReading(readPh),
    ph_label: tickField(),
    heat_rate: optionalReading(readRamp),
    cool_rate: optionalReading(readRamp),
    rates_label: tickField(),
    shrinkage: percentField({ maxBp: MOST_SHRINKAGE_BP }),
    note: optionalText({ max: 2000, lines: true }),
  };
}

export function versionForm<S extends z.ZodType<number>>(shade: S) {
  return z.strictObject(recipeFields(shade));
}

export function newRecipeForm<S extends z.ZodType<number>>(shade: S) {
  return z.strictObject({
    name: textField({ max: 120, label: 'The name of the recipe' }),
    ...recipeFields(shade),
  });
}

export type RecipeForm = z.output<ReturnType<typeof versionForm<z.ZodType<number>>>>;

/** Each auxiliary in each form it is sold in, as "kind/form": the label says which form is in the shop. */
export const WHAT_CHOICES: readonly Choice[] = AUXILIARIES.flatMap(({ kind, name, forms }) =>
  forms.map((form) => ({
    value: `${kind}/${form.code}`,
    label: capital(forms.length === 1 ? name : form.name),
  })),
);

interface What {
  readonly kind: AuxiliaryKind;
  readonly form: string;
}

export function readWhat(typed: string): Reading<What> {
  const [kind = '', form = ''] = typed.split('/');
  const auxiliary = AUXILIARIES.find((each) => each.kind === kind);
  if (!auxiliary || !auxiliaryForm(auxiliary.kind, form)) {
    return refused('Choose the auxiliary, in the form that its label names.');
  }
  return { ok: true, value: { kind: auxiliary.kind, form }, echo: typed, exact: true };
}

/** The dose that an amount in mL is of this form; what is no liquid cannot be measured so. */
export function doseIn(
  { kind, form }: What,
  amount: AuxiliaryDose | MeasuredDose,
  context: z.RefinementCtx,
): AuxiliaryDose {
  if ('amount' in amount) return amount;
  const found = auxiliaryForm(kind, form);
  if (found?.densityMgPerMl !== undefined) return doseOfVolume(amount, found.densityMgPerMl);
  const message = 'The density of this is not known, so it is weighed: enter 5 g/L or 2 %.';
  context.addIssue({ code: 'custom', path: ['amount'], message });
  return z.NEVER;
}

/** A field that is read by one of the readers of src; its reason is the problem. */
export function readingField<T>(read: (typed: string) => Reading<T>) {
  return field((typed, refuse): T => {
    const reading = read(typed);
    return reading.ok ? reading.value : refuse(reading.reason);
  });
}

export function optionalReading<T>(read: (typed: string) => Reading<T>) {
  return field((typed, refuse): T | null => {
    if (typed.trim() === '') return null;
    const reading = read(typed);
    return reading.ok ? reading.value : refuse(reading.reason);
  });
}

/** Rows that know their place in the form, so that what is found later is told at the right field. */
export function numberedRows<T>(row: z.ZodType<T>, options: { min: number; what: string; max?: number }) {
  const number = (raw: unknown) =>
    Array.isArray(raw) ? Array.from(raw, (given: unknown, place) => numbered(given, place)) : raw;
  return z
    .unknown()
    .optional()
    .transform(number)
    .pipe(rowsField(row, { max: MOST_RECIPE_ROWS, ...options }));
}

function numbered(given: unknown, place: number): unknown {
  if (typeof given !== 'object' || given === null) return given;
  const blank = Object.values(given).every((item) => typeof item === 'string' && item.trim() === '');
  return blank ? given : { ...given, row: String(place) };
}

export function rowNumber() {
  return field((typed) => Number(typed));
}
