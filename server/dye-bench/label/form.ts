import { z } from 'zod';
import { AUXILIARIES, AUXILIARY_KINDS } from '../../../src/dye/auxiliaries.ts';
import { readLiquorRatio, readOwf } from '../../../src/dye/bench-figures.ts';
import { capital } from '../../../src/dye/fibre.ts';
import type { LabelWash, MakerLabel } from '../../../src/dye/label-figures.ts';
import { RECIPE_LIMITS } from '../../../src/dye/recipe.ts';
import {
  readAddition,
  readAdditionOrVolume,
  readPh,
  readRamp,
  readTemperature,
} from '../../../src/dye/recipe-figures.ts';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import { readWhat, WHAT_CHOICES } from '../../kit/auxiliary-choices.ts';
import { withBlank } from '../../kit/choices.ts';
import {
  choiceField,
  optionalReading,
  optionalText,
  optionalWhole,
  readingField,
  textField,
  wholeField,
} from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import type { Problem } from '../../refusal.ts';
import { numberedRows } from '../numbered-rows.ts';
import { doseIn } from '../recipe/form.ts';

const LIST_ROWS = { rows: 3, spare: 2, min: 0 };
const MINUTES = { min: 0, max: RECIPE_LIMITS.longestHoldMinutes, unit: 'min' };
const ADDED = ['dye', ...AUXILIARY_KINDS] as const;
const ADDED_CHOICES = [
  { value: 'dye', label: 'The dye' },
  ...AUXILIARIES.map(({ kind, name }) => ({ value: kind, label: capital(name) })),
];

/** What a maker's label says; what is left blank it does not say. */
export const MAKER_LABEL = z.strictObject({
  source: optionalText({
    max: 200,
    label: 'Which label',
    size: 'long',
  }),
  start: optionalReading(readOpenHeat, { label: 'Set the bath at', unit: '°C' }),
  temperature: optionalReading(readOpenHeat, { label: 'Dye at', unit: '°C' }),
  hold: optionalWhole({ min: 1, max: RECIPE_LIMITS.longestHoldMinutes, label: 'Hold it for', unit: 'min' }),
  heat_rate: optionalReading(readRamp, { label: 'Heat by', unit: '°C a minute' }),
  cool_rate: optionalReading(readRamp, { label: 'Cool by', unit: '°C a minute' }),
  liquor_ratio: optionalReading(readLiquorRatio, { label: 'Liquor ratio', hint: '1:20, or 20' }),
  ph_from: optionalReading(readPh, { label: 'pH from' }),
  ph_to: optionalReading(readPh, { label: 'pH to' }),
  additions: numberedRows(
    {
      what: choiceField(ADDED, 'what goes in', {
        label: 'Goes in',
        options: withBlank(ADDED_CHOICES, 'Nothing'),
      }),
      at: optionalReading(readOpenHeat, { label: 'At', unit: '°C' }),
      minutes: wholeField({ ...MINUTES, label: 'Then wait' }),
    },
    { ...LIST_ROWS, what: 'additions' },
  ),
  doses: numberedRows(
    {
      what: asked(readingField(readWhat), {
        label: 'What, in which form',
        kind: 'select',
        options: withBlank(WHAT_CHOICES, 'None'),
      }),
      up_to: optionalReading(readOwf, { label: 'For dyes together up to', unit: '% owf' }),
      amount: readingField(readAdditionOrVolume, { label: 'Amount', size: 'mid' }),
    },
    {
      ...LIST_ROWS,
      max: 40,
      what: 'doses',
      check: (row, context) => ({ ...row, amount: doseIn(row.what, row.amount, context) }),
    },
  ),
  washes: numberedRows(
    {
      says: textField({ max: 400, label: 'What is done', what: 'What is done', size: 'long' }),
      at: readingField(readOpenHeat, { label: 'At', unit: '°C' }),
      minutes: wholeField({ ...MINUTES, label: 'For' }),
      what: asked(optionalReading(readWhat), {
        label: 'Takes',
        kind: 'select',
        options: withBlank(WHAT_CHOICES, 'Water alone'),
      }),
      amount: optionalReading(readPerLitre, { label: 'Amount', unit: 'g/L', size: 'mid' }),
    },
    { ...LIST_ROWS, what: 'baths' },
  ),
});

export type MakerLabelForm = z.output<typeof MAKER_LABEL>;

function readOpenHeat(typed: string): Reading<number> {
  const reading = readTemperature(typed);
  return reading.ok && reading.value > RECIPE_LIMITS.boilC
    ? refused('An open bath gets no hotter than 100 °C: above that is pressure work for a commission dyer.')
    : reading;
}

/** Milligrams in a litre of a fresh bath; a bare number is grams. */
function readPerLitre(typed: string): Reading<number> {
  const reading = readAddition(/[a-z%]/i.test(typed) ? typed : `${typed} g/L`);
  if (!reading.ok) return reading;
  const { per, amount } = reading.value;
  return per === 'litre'
    ? { ...reading, value: amount }
    : refused('A wash-off is dosed by its litres: enter grams in a litre, such as 2.');
}

/** The label that a form describes; what is wrong with its rows goes to `problems`. */
export function makeLabel(form: MakerLabelForm, problems: Problem[]): MakerLabel {
  const from = form.ph_from ?? form.ph_to;
  const to = form.ph_to ?? form.ph_from;
  if (from !== null && to !== null && from > to) {
    problems.push({ field: 'ph_from', message: 'pH from: enter the lower figure first.' });
  }
  if (form.start !== null && form.temperature !== null && form.start > form.temperature) {
    problems.push({ field: 'start', message: 'The bath is set no hotter than it is dyed at.' });
  }
  refuseFallingHeat(form, problems);
  return {
    source: form.source,
    startC: form.start,
    temperatureC: form.temperature,
    holdMinutes: form.hold?.value ?? null,
    heatRateMilli: form.heat_rate,
    coolRateMilli: form.cool_rate,
    liquorRatioMilli: form.liquor_ratio,
    pHFrom: from === null ? null : from / 10,
    pHTo: to === null ? null : to / 10,
    additions: form.additions.map(({ what, at, minutes }) => ({ what, atC: at, minutes: minutes.value })),
    doses: form.doses.map(({ what, up_to, amount }) => ({ ...what, upToMilli: up_to, ...amount })),
    washes: form.washes.map((row) => washOf(row, problems)),
  };
}

/** Things go in as the bath gets hotter: a label that cools in between is written into its note. */
function refuseFallingHeat({ additions, start, temperature }: MakerLabelForm, problems: Problem[]): void {
  let highest = start ?? 0;
  for (const { place, at } of additions) {
    if (at === null) continue;
    const field = `additions.${place}.at`;
    if (at < highest)
      problems.push({ field, message: `The bath is at ${highest} °C by then: enter that or more.` });
    if (temperature !== null && at > temperature) {
      problems.push({
        field,
        message: `The label dyes at ${temperature} °C: enter that or less.`,
      });
    }
    highest = Math.max(highest, at);
  }
}

function washOf(row: MakerLabelForm['washes'][number], problems: Problem[]): LabelWash {
  const { place, says, at, minutes, what, amount } = row;
  if (what && amount === null) {
    problems.push({ field: `washes.${place}.amount`, message: 'Amount: enter grams in a litre.' });
  }
  if (!what && amount !== null) {
    problems.push({ field: `washes.${place}.what`, message: 'Takes: choose what this amount is of.' });
  }
  const dose = what && amount !== null ? { ...what, mgPerLitre: amount } : null;
  return { says, toC: at, minutes: minutes.value, dose };
}
