import { z } from 'zod';
import { readLiquorRatio, readOwf, readStockStrength } from '../../../src/dye/bench-figures.ts';
import { DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { FIBRE_CODES } from '../../../src/dye/fibre.ts';
import { HEATER_KINDS, MATERIALS } from '../../../src/dye/heater.ts';
import { readAdditionOrVolume, readTemperature } from '../../../src/dye/recipe-figures.ts';
import { readArea } from '../../../src/quantity/area.ts';
import { readMass, readMassPerArea } from '../../../src/quantity/mass.ts';
import { readPower } from '../../../src/quantity/power.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import { readVolume } from '../../../src/quantity/volume.ts';
import { readShare } from '../../../src/quantity/whole.ts';
import { choiceField, field, optionalText, optionalWhole, tickField } from '../../kit/fields.ts';
import { doseIn, numberedRows, optionalReading, readingField, readWhat, rowNumber } from '../recipe/form.ts';

export const DEPTHS_TO_CHOOSE = ['', 'pale', 'medium', 'dark'] as const;
export const QUICK_BASES = ['', 'conditioned', 'oven-dry', 'wet'] as const;
/** Rows that the page draws; a script may send up to twenty. */
export const QUICK_ROWS = { fibres: 2, dyes: 2, auxiliaries: 2 } as const;

const fibre = z.strictObject({
  row: rowNumber(),
  fibre: choiceField(FIBRE_CODES, 'a fibre'),
  share: optionalReading(readShare),
});

const dye = z.strictObject({
  row: rowNumber(),
  name: optionalText({ max: 120 }),
  owf: readingField(readOwf),
  stock: optionalReading(readStockStrength),
});

const auxiliary = z
  .strictObject({
    row: rowNumber(),
    what: readingField(readWhat),
    amount: readingField(readAdditionOrVolume),
    stated: optionalReading(readWhat),
    stock: optionalReading(readStockStrength),
  })
  .transform((row, context) => ({ ...row, amount: doseIn(row.stated ?? row.what, row.amount, context) }));

/** What the quick bath is asked, all of it in the address. */
export const QUICK = z.strictObject({
  mass: optionalReading((typed) => positive(readMass(typed, 'g'), 'The cloth must weigh something.')),
  weighed: optionalChoice(QUICK_BASES, 'how the cloth was weighed'),
  area: optionalReading(readArea),
  mass_per_area: optionalReading((typed) =>
    positive(readMassPerArea(typed, 'g/m²'), 'The mass per area must be more than nought.'),
  ),
  fibres: numberedRows(fibre, { min: 1, what: 'fibres' }),
  dye_class: optionalChoice(['', ...DYE_CLASSES] as const, 'the class of dye'),
  method: optionalText({ max: 120 }),
  depth: optionalChoice(DEPTHS_TO_CHOOSE, 'a depth'),
  dyes: numberedRows(dye, { min: 0, what: 'dyes' }),
  auxiliaries: numberedRows(auxiliary, { min: 0, what: 'auxiliaries' }),
  offered: tickField(),
  from_label: tickField(),
  liquor_ratio: optionalReading(readLiquorRatio),
  temperature: optionalReading(readTemperature),
  hold: optionalWhole({ min: 1, max: 24 * 60 }),
  vessel: optionalReading((typed) => positive(readVolume(typed, 'l'), 'A vessel holds something.')),
  material: optionalChoice(['', ...MATERIALS] as const, 'what the vessel is made of'),
  empty: optionalReading((typed) => readMass(typed, 'g')),
  strips: optionalWhole({ min: 1, max: 10_000 }),
  parts: optionalReading(readParts),
  heater: optionalReading(readPower),
  heater_kind: optionalChoice(['', ...HEATER_KINDS] as const, 'the kind of heater'),
  efficiency: optionalReading((typed) => positive(readShare(typed), 'Some of the power reaches the bath.')),
  water: optionalReading(readTemperature),
  balance: optionalReading((typed) => positive(readMass(typed, 'g'), 'A balance has some step.')),
  left: optionalReading((typed) => readMass(typed, 'g')),
  sheer: tickField(),
});

export type QuickForm = z.output<typeof QUICK>;

/** A choice that may be left open; what was not sent is ''. */
export function optionalChoice<const C extends readonly string[]>(choices: C, what: string) {
  return field((typed, refuse): C[number] => {
    const found = choices.find((choice) => choice === typed);
    return found ?? (typed === '' ? typed : refuse(`Choose ${what}.`));
  });
}

/** Reads the parts of unequal baths: "5 5 4", "2:1"; each a whole number from 1 to 10 000, at most sixty. */
export function readParts(typed: string): Reading<readonly number[]> {
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
