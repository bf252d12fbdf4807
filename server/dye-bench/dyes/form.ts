import { z } from 'zod';
import { DYE_CLASS_NAMES, DYE_CLASSES, RECIPE_CLASSES } from '../../../src/dye/dye-class.ts';
import { CONDITIONS } from '../../../src/dye/dye-conditions.ts';
import { capital } from '../../../src/dye/fibre.ts';
import { MOST_MASS_MG, readMass } from '../../../src/quantity/mass.ts';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import { readPercent } from '../../../src/quantity/whole.ts';
import {
  choiceField,
  optionalMoney,
  optionalQuantity,
  optionalText,
  textField,
  tickField,
} from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Dye } from './store.ts';

/** Ten times the standard: dyes are sold up to a few times as strong. */
const MOST_STRENGTH_BP = 100_000;

export const DYE_CLASS_CHOICES = DYE_CLASSES.map((value) => ({
  value,
  label: capital(DYE_CLASS_NAMES[value]),
}));

/** What a dye on the list can be of: what is worked by its label too, but no bath without dye. */
const LISTED_CLASSES = RECIPE_CLASSES.filter((each) => each !== 'strip');

export function dyeForm(currency: string) {
  const reactive = CONDITIONS.filter(({ dyeClass }) => dyeClass === 'reactive');
  return z.strictObject({
    name: textField({ max: 120, label: 'Name, as you call it', what: 'The name of the dye' }),
    dye_class: choiceField(LISTED_CLASSES, 'the class of dye', {
      label: 'Class of dye',
      options: LISTED_CLASSES.map((value) => ({ value, label: capital(DYE_CLASS_NAMES[value]) })),
    }),
    method: optionalText({
      max: 120,
      label: 'Reactive group or type',
      suggest: [...new Set(reactive.map(({ method }) => method))],
    }),
    strength: optionalQuantity(readStrength, {
      label: 'Strength',
      unit: '%',
      hint: 'Of the maker’s standard. Amounts are of dye as it is in the tub.',
    }),
    lot: optionalText({ max: 120, label: 'Lot on the tub', size: 'short' }),
    price: optionalMoney(currency, { label: 'Price' }),
    price_for: optionalQuantity(readPriced, { label: 'for', unit: 'g' }),
    fluorescent: tickField({ label: 'Fluorescent (glows in ultraviolet light)' }),
    label_notes: optionalText({
      max: 2000,
      lines: true,
      label: 'What the label says',
      rows: 3,
      size: 'long',
      hint: 'Temperature, salt, acid, limits: the label counts first.',
    }),
  });
}

export type DyeForm = z.output<ReturnType<typeof dyeForm>>;

function readStrength(typed: string): Reading<number> {
  const reading = readPercent(typed, { maxBp: MOST_STRENGTH_BP });
  return reading.ok && reading.value === 0
    ? refused('A dye of no strength dyes nothing: 100 % is the standard.')
    : reading;
}

function readPriced(typed: string): Reading<number> {
  const reading = readMass(typed, 'g');
  return reading.ok && (reading.value < 1 || reading.value > MOST_MASS_MG)
    ? refused('Give the mass that the price is for: 100 g.')
    : reading;
}

export type DrawnDyeForm = ReturnType<typeof drawDyeForm>;

export function drawDyeForm(currency: string, action: string, submit: string, typed: Typed) {
  return { requestKey: mintKey(), action, submit, fields: drawFields(dyeForm(currency).shape, typed) };
}

/** A dye as its form was typed. */
export function typedDye(dye: Dye): Typed {
  return {
    name: dye.name,
    dye_class: dye.dyeClass,
    method: dye.method,
    lot: dye.lot,
    fluorescent: dye.isFluorescent ? 'yes' : '',
    label_notes: dye.labelNotes,
    ...dye.typed,
  };
}
