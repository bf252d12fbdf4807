import { z } from 'zod';
import { readPh } from '../../../src/dye/recipe-figures.ts';
import { readInWater } from '../../../src/dye/water.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { optionalDay, optionalReading, optionalText, readingField } from '../../kit/fields.ts';
import { storeTyped, type Typed } from '../../kit/typed.ts';
import { dayOf, showDay } from '../../kit/when.ts';
import { invalid } from '../../refusal.ts';
import { WATER_PATH } from './store.ts';

export const WATER = z.strictObject({
  on_day: optionalDay({ label: 'Measured on', hint: 'Blank: today.' }),
  alkalinity: readingField(readInWater, {
    label: 'Alkalinity',
    unit: 'mg/L',
    hint: 'As calcium carbonate; also °dH, °fH, °Clark, gpg or mmol/L.',
  }),
  hardness: optionalReading(readInWater, {
    label: 'Hardness',
    unit: 'mg/L',
    hint: 'In the same units.',
  }),
  ph: optionalReading(readPh, { label: 'pH of the tap', hint: 'Blank: 7.5.' }),
  source: optionalText({
    max: 500,
    label: 'From',
    size: 'long',
    hint: 'Such as a test kit or the water supplier’s report.',
  }),
});

/** Writes a test of the water down; older ones stay. @throws {Refusal} invalid where its day is to come */
export function addWaterTest(tx: Tx, form: z.output<typeof WATER>, typed: Typed): Answer {
  const today = dayOf(tx.at);
  const onDay = form.on_day ?? today;
  if (onDay > today) throw invalid('on_day', 'Measured on: this day is to come. Enter the day of the test.');
  tx.run(
    tx.db.insertInto('water_test').values({
      on_day: onDay,
      alkalinity_tenths: form.alkalinity,
      hardness_tenths: form.hardness,
      ph_tenths: form.ph,
      source: form.source,
      typed: storeTyped({
        alkalinity: typed.alkalinity ?? '',
        hardness: typed.hardness ?? '',
        ph: typed.ph ?? '',
      }),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: WATER_PATH, said: `The water of ${showDay(onDay)} is kept.` };
}
