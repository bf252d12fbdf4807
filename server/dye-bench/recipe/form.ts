import { z } from 'zod';
import { auxiliaryForm } from '../../../src/dye/auxiliaries.ts';
import { readLiquorRatio, readOwf } from '../../../src/dye/bench-figures.ts';
import { DYE_CLASSES, type DyeClass } from '../../../src/dye/dye-class.ts';
import { capital, FIBRE_CODES, FIBRES, readFibreNames } from '../../../src/dye/fibre.ts';
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
import type { Reader } from '../../database/book.ts';
import { type ChosenAuxiliary, readWhat, WHAT_CHOICES } from '../../kit/auxiliary-choices.ts';
import {
  type Choice,
  chosenField,
  clothChoices,
  optionalChosen,
  shadeChoices,
  withBlank,
} from '../../kit/choices.ts';
import {
  choiceField,
  optionalReading,
  optionalText,
  percentField,
  readingField,
  textField,
  tickField,
  wholeField,
} from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { DYE_CLASS_CHOICES } from '../dyes/form.ts';
import { readDyes } from '../dyes/store.ts';
import { numberedRows } from '../numbered-rows.ts';
import { DEPTH_NAMES, offerFor, type SuggestedRecipe } from './offer.ts';

/** Half the cloth: no cloth that can be used shrinks more. */
const MOST_SHRINKAGE_BP = 5000;
const LIST_ROWS = { rows: 3, spare: 1 };

export const FIBRE_OPTIONS = FIBRES.map(({ code, name }) => ({ value: code, label: capital(name) }));
export const DEPTH_CHOICES = DEPTH_NAMES.map((value) => ({ value, label: capital(value) }));

/** The shade and the fibre that a recipe is for, which its versions keep. */
function forWhatFields(reader: Reader) {
  return {
    shade_id: asked(chosenField(shadeChoices(reader), 'the shade wanted'), {
      label: 'Shade wanted',
      kind: 'select',
      options: withBlank(dyedShadeChoices(reader), 'Choose a shade'),
    }),
    fibre: choiceField(FIBRE_CODES, 'the fibre', {
      label: 'Fibre',
      options: withBlank(FIBRE_OPTIONS, 'Choose a fibre'),
    }),
  };
}

/** How a recipe, a batch and a quick bath ask for what else is in the bath. */
export const ALSO_ASKS = {
  label: 'Thread, trim or lining in the bath',
  size: 'mid',
  hint: 'Their fibres, such as cotton, elastane: the bath must suit these too.',
} as const;

/** What a version of a recipe may change, asked for with what is offered for what is typed and for its fibre. */
function recipeFields(reader: Reader, typed: Typed, offer: SuggestedRecipe) {
  const hint = (name: string) => offer.hints[name] ?? '';
  return {
    dye_class: choiceField(DYE_CLASSES, 'the class of dye', {
      label: 'Class of dye',
      options: withBlank(DYE_CLASS_CHOICES, 'The usual first choice'),
    }),
    depth: asked(optionalText({ max: 20 }), {
      label: 'Depth, for figures to start from',
      kind: 'select',
      options: DEPTH_CHOICES,
    }),
    method: methodField(offer.dyeClass, offer.methods, typed.method ?? ''),
    also: optionalReading(readFibreNames, ALSO_ASKS),
    dyes: numberedRows(
      {
        name: textField({
          max: 120,
          label: 'Dye',
          what: 'The name of the dye',
          suggest: dyeNames(reader, offer.dyeClass),
        }),
        owf: readingField(readOwf, { label: 'On fabric', unit: '%' }),
      },
      { ...LIST_ROWS, min: 1, what: 'dyes' },
    ),
    auxiliaries: numberedRows(
      {
        what: asked(readingField(readWhat), {
          label: 'What, in which form',
          kind: 'select',
          options: withBlank(WHAT_CHOICES, 'None'),
          filter: true,
        }),
        amount: readingField(readAdditionOrVolume, { label: 'Amount', size: 'mid', filter: true }),
        name: optionalText({ max: 120, label: 'Your own name' }),
        label: tickField({ label: 'from the maker’s label' }),
      },
      {
        ...LIST_ROWS,
        min: 0,
        what: 'auxiliaries',
        check: (row, context) => ({ ...row, amount: doseIn(row.what, row.amount, context) }),
      },
    ),
    liquor_ratio: readingField(readLiquorRatio, {
      size: 'mid',
      label: 'Liquor ratio',
      hint: hint('liquor_ratio') || 'Litres of bath to a kilogram of cloth: 1:20, or 20.',
    }),
    temperature: readingField(readTemperature, {
      label: 'Temperature',
      unit: '°C',
      hint: hint('temperature'),
    }),
    hold: wholeField({
      min: 1,
      max: RECIPE_LIMITS.longestHoldMinutes,
      label: 'Hold it for',
      unit: 'min',
      hint: hint('hold'),
    }),
    ph_from: optionalReading(readPh, { label: 'pH from', hint: hint('ph_from') }),
    ph_to: optionalReading(readPh, { label: 'pH to' }),
    liquor_ratio_label: fromLabel('Liquor ratio'),
    temperature_label: fromLabel('Temperature'),
    hold_label: fromLabel('Time'),
    ph_label: fromLabel('pH'),
    heat_rate: rampField('Heat by', hint('heat_rate')),
    cool_rate: rampField('Cool by', hint('cool_rate')),
    rates_label: fromLabel('Rates'),
    shrinkage: percentField({
      maxBp: MOST_SHRINKAGE_BP,
      label: 'Shrinkage to allow for',
      hint: hint('shrinkage') || 'Wash and dye a marked square of this cloth and measure it.',
    }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', rows: 3, size: 'long' }),
  };
}

export function versionForm(reader: Reader, typed: Typed = {}, offer = offerFor(typed)) {
  return z.strictObject(recipeFields(reader, typed, offer));
}

export function newRecipeForm(reader: Reader, typed: Typed = {}, offer = offerFor(typed)) {
  return z.strictObject({
    name: textField({ max: 120, label: 'Name of the recipe', what: 'The name of the recipe' }),
    ...forWhatFields(reader),
    ...recipeFields(reader, typed, offer),
  });
}

/** A copy is a new recipe that says which cloth it is for, where it is for one. */
export function copyRecipeForm(reader: Reader, typed: Typed = {}, offer = offerFor(typed)) {
  return newRecipeForm(reader, typed, offer).extend({
    cloth_id: optionalChosen(clothChoices(reader), 'a cloth', {
      label: 'Cloth it is for',
      blank: 'Any of this fibre',
    }),
  });
}

export type VersionForm = z.output<ReturnType<typeof versionForm>>;
export type NewRecipeForm = z.output<ReturnType<typeof newRecipeForm>>;
export type RecipeForm = Omit<NewRecipeForm, 'name'>;
export type CopyRecipeForm = z.output<ReturnType<typeof copyRecipeForm>>;

/** The shades that dyeing can give: all but the undyed grounds. */
export function dyedShadeChoices(reader: Reader): Choice[] {
  return reader
    .all(reader.db.selectFrom('shade').select(['id', 'name']).where('ground', '=', 0).orderBy('name'))
    .map(({ id, name }) => ({ value: String(id), label: name }));
}

/** The classes whose way of working stands on the label, and what that is called there. */
const METHOD_ASKS: Partial<Record<DyeClass, string>> = {
  reactive: 'Reactive group',
  vat: 'Family of vat dye',
  'acid-metal-complex': 'Metal to dye',
  disperse: 'Way of dyeing',
};

/**
 * How the dye is worked: of a reactive one its group is chosen. What is kept already and is no group of ours stays to
 * be chosen, or a new version would change it unseen.
 */
function methodField(dyeClass: DyeClass | null, methods: readonly string[], typed: string) {
  const read = optionalText({ max: 120, label: 'How it is worked', suggest: methods });
  const asks = dyeClass === null ? undefined : METHOD_ASKS[dyeClass];
  if (asks === undefined || methods.length < 2) return read;
  const kept = typed === '' || methods.includes(typed) ? methods : [...methods, typed];
  const groups = kept.map((method) => ({ value: method, label: capital(method) }));
  return asked(read, {
    label: asks,
    kind: 'select',
    options: withBlank(groups, 'Another, by the label'),
    required: false,
    hint: 'As the label says.',
  });
}

/** Names of the workroom's own dyes of this class, or of all classes before one is known. */
function dyeNames(reader: Reader, dyeClass: DyeClass | null): string[] {
  return readDyes(reader)
    .filter((dye) => dye.gone === '' && (dyeClass === null || dye.dyeClass === dyeClass))
    .map(({ name }) => name);
}

function fromLabel(what: string) {
  return tickField({ label: `${what} from the maker’s label` });
}

function rampField(label: string, hint: string) {
  return optionalReading(readRamp, { label, unit: '°C a minute', hint });
}

/** The dose that an amount in mL is of this form; what is no liquid cannot be measured so. */
export function doseIn(
  { kind, form }: ChosenAuxiliary,
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
