import { z } from 'zod';
import { readLiquorRatio, readOwf, readStockStrength } from '../../../src/dye/bench-figures.ts';
import { CONDITIONS } from '../../../src/dye/dye-conditions.ts';
import { capital, FIBRE_CODES, readFibreNames } from '../../../src/dye/fibre.ts';
import { EFFICIENCIES, HEATER_KINDS, HEATER_NAMES } from '../../../src/dye/heater.ts';
import { readAdditionOrVolume, readTemperature } from '../../../src/dye/recipe-figures.ts';
import { readArea } from '../../../src/quantity/area.ts';
import { readMass, readMassPerArea } from '../../../src/quantity/mass.ts';
import { readPower } from '../../../src/quantity/power.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import { readVolume } from '../../../src/quantity/volume.ts';
import { readShare, showPercent } from '../../../src/quantity/whole.ts';
import { readWhat, WHAT_CHOICES } from '../../kit/auxiliary-choices.ts';
import { optionalChoice, withBlank } from '../../kit/choices.ts';
import {
  choiceField,
  optionalReading,
  optionalText,
  optionalWhole,
  readingField,
  tickField,
} from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { DYE_CLASS_CHOICES } from '../dyes/form.ts';
import { numberedRows } from '../numbered-rows.ts';
import { ALSO_ASKS, DEPTH_CHOICES, doseIn, FIBRE_OPTIONS } from '../recipe/form.ts';
import { MATERIAL_CHOICES } from '../vessels/form.ts';

/** Rows that the page draws; a script may send up to twenty. */
const LIST_ROWS = { rows: 2, spare: 1 };

const HEATERS_WITH_SHARE = HEATER_KINDS.map((value) => ({
  value,
  label: `${capital(HEATER_NAMES[value])}, ${showPercent(EFFICIENCIES[value].bp)}`,
}));

/** What the quick bath is asked, all of it in the address. */
export const QUICK = z.strictObject({
  mass: optionalReading((typed) => positive(readMass(typed, 'g'), 'The cloth must weigh something.'), {
    label: 'Mass on the scale',
    hint: 'Bare numbers are grams.',
  }),
  weighed: weighedField(),
  area: optionalReading(readArea, { label: 'or area', hint: '4.5 m², or 3 m × 1.5 m' }),
  mass_per_area: optionalReading(
    (typed) => positive(readMassPerArea(typed, 'g/m²'), 'The mass per area must be more than nought.'),
    { label: 'Mass per area', unit: 'g/m²' },
  ),
  fibres: numberedRows(
    {
      fibre: choiceField(FIBRE_CODES, 'a fibre', {
        label: 'Fibre',
        options: withBlank(FIBRE_OPTIONS, 'None'),
      }),
      share: optionalReading(readShare, { label: 'Share', unit: '%' }),
    },
    { ...LIST_ROWS, min: 1, what: 'fibres' },
  ),
  dye_class: optionalChoice(DYE_CLASS_CHOICES, 'the class of dye', {
    label: 'Class of dye',
    blank: 'The usual first choice',
  }),
  method: asked(optionalText({ max: 120 }), {
    label: 'Reactive group',
    kind: 'select',
    options: withBlank(reactiveGroups(), 'None'),
  }),
  depth: optionalChoice(DEPTH_CHOICES, 'a depth', {
    label: 'Depth',
    blank: 'As the dyes below say',
  }),
  also: optionalReading(readFibreNames, ALSO_ASKS),
  dyes: numberedRows(
    {
      name: optionalText({ max: 120, label: 'Dye' }),
      owf: readingField(readOwf, { label: 'On fabric', unit: '%' }),
      stock: optionalReading(readStockStrength, { label: 'Stock, g in 100 mL' }),
    },
    { ...LIST_ROWS, min: 0, what: 'dyes' },
  ),
  auxiliaries: numberedRows(
    {
      what: asked(readingField(readWhat), {
        label: 'At hand, in the form of its label',
        kind: 'select',
        options: withBlank(WHAT_CHOICES, 'None'),
      }),
      amount: readingField(readAdditionOrVolume, { label: 'Amount', hint: '5 g/L, 2 % or 20 mL/L' }),
      stated: asked(optionalReading(readWhat), {
        label: 'The amount is for',
        kind: 'select',
        options: withBlank(
          WHAT_CHOICES.filter(({ value }) => !/^other\/|\/as-sold$/.test(value)),
          'The same form',
        ),
      }),
      stock: optionalReading(readStockStrength, { label: 'Stock, g in 100 mL' }),
    },
    {
      ...LIST_ROWS,
      min: 0,
      what: 'auxiliaries',
      check: (row, context) => ({ ...row, amount: doseIn(row.stated ?? row.what, row.amount, context) }),
    },
  ),
  offered: tickField({ label: 'Add what is usual for this dye and depth' }),
  from_label: tickField({ label: 'The figures that I type are from the maker’s label' }),
  liquor_ratio: optionalReading(readLiquorRatio, { label: 'Liquor ratio', hint: '1:20, or 20' }),
  temperature: optionalReading(readTemperature, { label: 'Temperature', unit: '°C' }),
  hold: optionalWhole({ min: 1, max: 24 * 60, label: 'Hold it for', unit: 'min' }),
  vessel: optionalReading((typed) => positive(readVolume(typed, 'l'), 'A vessel holds something.'), {
    label: 'Vessel to the brim',
    unit: 'L',
  }),
  material: optionalChoice(MATERIAL_CHOICES, 'what the vessel is made of', {
    label: 'Vessel is made of',
    blank: 'Not said',
  }),
  empty: optionalReading((typed) => readMass(typed, 'g'), { label: 'Empty vessel', unit: 'g' }),
  strips: optionalWhole({
    min: 1,
    max: 10_000,
    label: 'Strips of this cloth',
  }),
  parts: partsField('5 5 4; blank for alike'),
  heater: optionalReading(readPower, { label: 'Heater', hint: '2 kW or 1500 W' }),
  heater_kind: optionalChoice(HEATERS_WITH_SHARE, 'the kind of heater', {
    label: 'Kind of heater',
    blank: 'Not said: as an electric plate',
  }),
  efficiency: optionalReading((typed) => positive(readShare(typed), 'Some of the power reaches the bath.'), {
    label: 'Efficiency',
    unit: '%',
  }),
  water: optionalReading(readTemperature, { label: 'Cold water', unit: '°C', hint: 'Blank: 15.' }),
  balance: optionalReading((typed) => positive(readMass(typed, 'g'), 'A balance has some step.'), {
    label: 'Balance reads to',
    unit: 'g',
  }),
  left: optionalReading((typed) => readMass(typed, 'g'), {
    label: 'Dye left in the liquor',
    unit: 'g',
    hint: 'After dyeing.',
  }),
  sheer: tickField({ label: 'Sheer: organza, tulle, net or chiffon' }),
});

export type QuickForm = z.output<typeof QUICK>;

/** How cloth was weighed; wet is asked so that it can be refused. */
export function weighedField() {
  const bases = [
    { value: 'conditioned', label: 'Air-dry (conditioned)' },
    { value: 'oven-dry', label: 'Oven-dry' },
    { value: 'wet', label: 'Wet or damp' },
  ] as const;
  return optionalChoice(bases, 'how the cloth was weighed', { label: 'Weighed', blank: 'Choose' });
}

export function partsField(hint: string) {
  return optionalReading(readParts, { label: 'Unequal baths, by parts', maxlength: 200, hint });
}

function reactiveGroups() {
  const open = CONDITIONS.filter(({ dyeClass, vessel }) => dyeClass === 'reactive' && vessel === 'open');
  return [...new Set(open.map(({ method }) => method))].map((value) => ({ value, label: capital(value) }));
}

/** Reads the parts of unequal baths: "5 5 4", "2:1"; each a whole number from 1 to 10 000, at most sixty. */
function readParts(typed: string): Reading<readonly number[]> {
  const words = typed
    .trim()
    .split(/[\s:,;+]+/)
    .filter((word) => word !== '');
  if (words.length === 0 || words.length > 60 || !words.every((word) => /^[1-9]\d{0,3}$/.test(word))) {
    return { ok: false, reason: 'Write the parts as whole numbers, one for each bath: 5 5 4.' };
  }
  return { ok: true, value: words.map(Number), echo: words.join(' : '), exact: true };
}

function positive(reading: Reading<number>, otherwise: string): Reading<number> {
  return reading.ok && reading.value <= 0 ? { ok: false, reason: otherwise } : reading;
}
