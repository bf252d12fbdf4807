import { z } from 'zod';
import { readLiquorRatio, readOwf } from '../../../src/dye/bench-figures.ts';
import { capital, FIBRE_CODES } from '../../../src/dye/fibre.ts';
import {
  FIXING_LIMITS,
  FIXINGS,
  LABEL_CLASS_NAMES,
  LABEL_CLASSES,
  readSeconds,
} from '../../../src/dye/label-class.ts';
import { RECIPE_LIMITS } from '../../../src/dye/recipe.ts';
import { readAdditionOrVolume, readPh, readTemperature } from '../../../src/dye/recipe-figures.ts';
import type { Reader } from '../../database/book.ts';
import { readWhat, WHAT_CHOICES } from '../../kit/auxiliary-choices.ts';
import { chosenField, optionalChoice, shadeChoices, withBlank } from '../../kit/choices.ts';
import {
  choiceField,
  optionalReading,
  optionalText,
  optionalWhole,
  percentField,
  readingField,
  textField,
  wholeField,
} from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { readDyes } from '../dyes/store.ts';
import { numberedRows } from '../numbered-rows.ts';
import { doseIn, FIBRE_OPTIONS } from '../recipe/form.ts';

const MOST_SHRINKAGE_BP = 5000;
const LIST_ROWS = { rows: 2, spare: 1 };
const FIXING_NAMES = { steam: 'Steam', 'dry heat': 'Oven or iron, dry heat', press: 'Heat press' } as const;
const FIXING_CHOICES = FIXINGS.map((value) => ({ value, label: FIXING_NAMES[value] }));

/** What a version by the label may change. */
function labelFields(reader: Reader) {
  const listed = readDyes(reader).filter(({ gone }) => gone === '');
  return {
    dye_class: choiceField(LABEL_CLASSES, 'what kind it is', {
      label: 'What kind',
      options: withBlank(
        LABEL_CLASSES.map((value) => ({ value, label: capital(LABEL_CLASS_NAMES[value]) })),
        'Choose',
      ),
    }),
    method: textField({ max: 120, label: 'Product, as its label names it', what: 'The product' }),
    dyes: numberedRows(
      {
        name: textField({
          max: 120,
          label: 'Dye or paint',
          what: 'The name',
          suggest: listed.map(({ name }) => name),
        }),
        owf: readingField(readOwf, { label: 'On fabric', unit: '%' }),
      },
      { ...LIST_ROWS, min: 0, what: 'dyes' },
    ),
    auxiliaries: numberedRows(
      {
        what: asked(readingField(readWhat), {
          label: 'What, in which form',
          kind: 'select',
          options: withBlank([...WHAT_CHOICES], 'None'),
          filter: true,
        }),
        amount: readingField(readAdditionOrVolume, { label: 'Amount', size: 'mid', filter: true }),
        name: optionalText({ max: 120, label: 'Name on its label' }),
      },
      {
        ...LIST_ROWS,
        min: 0,
        what: 'auxiliaries',
        check: (row, context) => ({ ...row, amount: doseIn(row.what, row.amount, context) }),
      },
    ),
    liquor_ratio: readingField(readLiquorRatio, {
      label: 'Bath, liquor or paste',
      hint: '1:20 for a bath; 1:1 for a paste or paper.',
    }),
    temperature: readingField(readTemperature, {
      label: 'Temperature of the bath, or of the room',
      unit: '°C',
    }),
    hold: wholeField({
      min: 1,
      max: RECIPE_LIMITS.longestHoldMinutes,
      label: 'Time in the bath, batching or drying',
      unit: 'min',
    }),
    ph_from: optionalReading(readPh, { label: 'pH from' }),
    ph_to: optionalReading(readPh, { label: 'pH to' }),
    fixing: optionalChoice(FIXING_CHOICES, 'how it is fixed', { label: 'Fixed by', blank: 'Nothing more' }),
    fixing_temperature: optionalWhole({
      min: FIXING_LIMITS.lowestC,
      max: FIXING_LIMITS.highestC,
      label: 'at',
      unit: '°C',
    }),
    fixing_time: optionalReading(readSeconds, { label: 'for', hint: '30 s, or 4 min 30 s.', size: 'short' }),
    shrinkage: percentField({
      maxBp: MOST_SHRINKAGE_BP,
      label: 'Shrinkage to allow for',
      hint: 'Test a marked square of this cloth first.',
    }),
    note: optionalText({
      max: 2000,
      lines: true,
      label: 'What the label says',
      rows: 5,
      size: 'long',
      hint: 'Word for word: order, doses, heat, times.',
    }),
  };
}

export function labelVersionForm(reader: Reader) {
  return z.strictObject(labelFields(reader));
}

export function labelRecipeForm(reader: Reader) {
  return z.strictObject({
    name: textField({ max: 120, label: 'Name of the recipe', what: 'The name of the recipe' }),
    shade_id: chosenField(shadeChoices(reader), 'the shade after it', {
      label: 'Shade after it',
      blank: 'Choose a shade',
    }),
    fibre: choiceField(FIBRE_CODES, 'the fibre', {
      label: 'Fibre',
      options: withBlank(FIBRE_OPTIONS, 'Choose a fibre'),
    }),
    ...labelFields(reader),
  });
}

export type LabelVersionForm = z.output<ReturnType<typeof labelVersionForm>>;
export type LabelRecipeForm = z.output<ReturnType<typeof labelRecipeForm>>;
