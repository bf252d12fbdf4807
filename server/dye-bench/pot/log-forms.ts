import { z } from 'zod';
import type { Weighing } from '../../../src/dye/order-of-work.ts';
import { readPh, readTemperature } from '../../../src/dye/recipe-figures.ts';
import { divideRounded, exactly, stored } from '../../../src/quantity/figure-show.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import { idField, optionalText, readingField, textField, tickField, wholeField } from '../../kit/fields.ts';
import { numberedRows } from '../numbered-rows.ts';

// The forms of the log. Each names its bath; 0 is the whole batch.

const MOST_BATHS = 100;
export const bathField = () => wholeField({ min: 1, max: MOST_BATHS });

/**
 * A step that is done, with what was weighed for it: a blank amount is what was wanted, to the milligram. A hold that
 * ends early needs `skip_hold`.
 */
export const STEP_DONE = z.strictObject({
  bath: bathField(),
  step: textField({ max: 80, what: 'The step' }),
  water: optionalText({ max: 64, label: 'Fresh water', size: 'short', required: true }),
  skip_hold: tickField(),
  things: numberedRows(
    {
      name: textField({ max: 120, what: 'The name' }),
      amount: optionalText({ max: 64, label: 'Weighed', size: 'short', required: true }),
      lot: optionalText({ max: 120, label: 'Its lot', size: 'short' }),
    },
    { min: 0, max: 40, what: 'amounts' },
  ),
});
export type StepDoneForm = z.output<typeof STEP_DONE>;

export const TEMPERATURE = z.strictObject({
  bath: bathField(),
  temperature: readingField(readTemperature, { label: 'Another temperature', unit: '°C' }),
});
export const PH = z.strictObject({ bath: bathField(), ph: readingField(readPh, { label: 'Another pH' }) });
export const NOTE = z.strictObject({
  note: textField({ max: 2000, lines: true, label: 'Note', what: 'The note', size: 'long' }),
});
export const TAKE_BACK = z.strictObject({
  bath: wholeField({ min: 0, max: MOST_BATHS }),
  id: idField('what is taken back'),
});

/**
 * Reads what was weighed, in mg: grams, or millilitres of what is measured by volume, which are turned into mass by
 * the card's own figures.
 */
export function readWeighed(typed: string, wanted: Pick<Weighing, 'massUg' | 'volumeUl'>): Reading<number> {
  const litres = /^(.*?)(m?)l(?:it(?:re|er)s?)?\s*$/i.exec(typed);
  if (!litres) return readMass(typed, 'g');
  if (wanted.volumeUl === null || wanted.volumeUl === 0) {
    return refused('This is weighed: write its mass, such as 2.5 g.');
  }
  // A millilitre is to the microlitre what a gram is to the milligram, so the reader of masses reads it exactly.
  const read = readMass(`${litres[1]} ${litres[2] === '' ? 'kg' : 'g'}`, 'g');
  if (!read.ok) return refused(`${typed.trim()} is no volume: write it as 7.5 mL.`);
  const massMg = divideRounded(
    exactly(read.value) * exactly(wanted.massUg),
    exactly(wanted.volumeUl) * 1000n,
    'near',
  );
  return { ...read, value: stored(massMg) };
}
