import { z } from 'zod';
import { capital } from '../../../src/dye/fibre.ts';
import { HEATER_KINDS, HEATER_NAMES, MATERIALS } from '../../../src/dye/heater.ts';
import { SMALL_MEASURE_NAMES, SMALL_MEASURES } from '../../../src/dye/measuring.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import { readPower } from '../../../src/quantity/power.ts';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import { readVolume, showVolume } from '../../../src/quantity/volume.ts';
import { readPercent } from '../../../src/quantity/whole.ts';
import { optionalChoice } from '../../kit/choices.ts';
import {
  choiceField,
  optionalReading,
  optionalText,
  optionalWhole,
  readingField,
  textField,
} from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Vessel } from './store.ts';

/** From a beaker to the largest vat that a workroom can fill and lift from. */
const LEAST_ML = 100;
const MOST_ML = 5_000_000;
/** The step of a balance: from a milligram to 100 g. */
const MOST_STEP_MG = 100_000;

/** How far off an amount may be, in hundredths of a percent. */
const LEAST_OFF_BP = 50;
const MOST_OFF_BP = 5000;

export const MATERIAL_CHOICES = MATERIALS.map((value) => ({ value, label: capital(value) }));
const HEATER_CHOICES = HEATER_KINDS.map((value) => ({ value, label: capital(HEATER_NAMES[value]) }));

export const VESSEL = z.strictObject({
  name: textField({ max: 80, label: 'Name', what: 'The name' }),
  volume: readingField(readBrim, {
    label: 'Volume to the brim',
    unit: 'L',
    hint: 'Caution: fill it to ⅔ for the boil, to ¾ below.',
  }),
  pots: optionalWhole({
    min: 1,
    max: 20,
    label: 'Pots alike',
    hint: 'Blank: one.',
  }),
  material: optionalChoice(MATERIAL_CHOICES, 'what it is made of', { label: 'Made of', blank: 'Not said' }),
  empty: optionalReading((typed) => readMass(typed, 'kg'), {
    label: 'Empty it weighs',
    unit: 'kg',
    hint: 'Empty.',
  }),
  heater_kind: optionalChoice(HEATER_CHOICES, 'the kind of heater', { label: 'Heated by', blank: 'None' }),
  heater: optionalReading(readPower, { label: 'Power', hint: '2 kW or 1500 W' }),
  note: optionalText({
    max: 500,
    lines: true,
    label: 'Note',
    kind: 'text',
  }),
});

export type VesselForm = z.output<typeof VESSEL>;

export const BALANCE = z.strictObject({
  balance: readingField(readStep, { label: 'The balance reads to', unit: 'g' }),
  measures_with: choiceField(SMALL_MEASURES, 'what you measure with', {
    label: 'A few millilitres are measured with',
    options: SMALL_MEASURES.map((value) => ({ value, label: capital(SMALL_MEASURE_NAMES[value]) })),
  }),
  off: readingField(readOff, {
    label: 'An amount may be off by',
    unit: '%',
    hint: 'Our rule: 5 %.',
  }),
});

export type BalanceForm = z.output<typeof BALANCE>;

function readBrim(typed: string): Reading<number> {
  const reading = readVolume(typed, 'l');
  return reading.ok && (reading.value < LEAST_ML || reading.value > MOST_ML)
    ? refused(`A vessel holds from ${showVolume(LEAST_ML, 'near')} to ${showVolume(MOST_ML, 'near')}.`)
    : reading;
}

function readStep(typed: string): Reading<number> {
  const reading = readMass(typed, 'g');
  return reading.ok && (reading.value < 1 || reading.value > MOST_STEP_MG)
    ? refused('Give its step from 0.001 g to 100 g.')
    : reading;
}

function readOff(typed: string): Reading<number> {
  const reading = readPercent(typed, { maxBp: MOST_OFF_BP });
  return reading.ok && reading.value < LEAST_OFF_BP
    ? refused('Nothing here measures to better than 0.5 %: enter 0.5 % or more.')
    : reading;
}

export type DrawnVesselForm = ReturnType<typeof drawVesselForm>;

export function drawVesselForm(action: string, submit: string, typed: Typed) {
  return { requestKey: mintKey(), action, submit, fields: drawFields(VESSEL.shape, typed) };
}

/** A vessel as one would type it. */
export function typedVessel(vessel: Vessel): Typed {
  return {
    name: vessel.name,
    volume: `${vessel.volumeMl / 1000}`,
    pots: `${vessel.pots}`,
    material: vessel.material,
    empty: vessel.emptyMg === null ? '' : `${vessel.emptyMg / 1_000_000}`,
    heater: vessel.watts === null ? '' : `${vessel.watts} W`,
    heater_kind: vessel.heaterKind,
    note: vessel.note,
  };
}
