import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import type { Reader } from '../../database/book.ts';
import {
  lengthField,
  optionalDay,
  optionalLength,
  optionalText,
  textField,
  tickField,
} from '../../kit/fields.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import type { Asker } from '../../web/house.ts';
import { MOST_WIDTH_TICKS } from '../cloth/form.ts';
import { garmentField } from '../piece/other-use-form.ts';
import { readAllPleatings } from './store.ts';

const dayField = (label: string) =>
  optionalDay({ label, required: true }).transform((day, context) => {
    if (day !== null) return day;
    context.issues.push({
      code: 'custom',
      message: `${label}: enter a day, such as 2026-11-25.`,
      input: day,
    });
    return z.NEVER;
  });

/** To whom, what is asked of them, and the days. */
export function pleaterFields(reader: Reader) {
  return {
    pleater: textField({
      max: 120,
      what: 'The pleater',
      label: 'Pleater',
      suggest: [...new Set(readAllPleatings(reader).map(({ pleater }) => pleater))],
    }),
    asked: optionalText({
      max: 500,
      label: 'What is asked',
      hint: 'Kind and size of pleat; ask whether the hem is done before or after.',
      lines: true,
      size: 'long',
      rows: 3,
    }),
    sent_on: dayField('Sent on'),
    expected_on: dayField('Expected back'),
  };
}

/** `free` is what is free of the piece, as its page says it. */
export function sendFields(reader: Reader, { units }: Asker, free = '') {
  return {
    length: optionalLength(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS, label: 'Length' }),
    all: tickField({ label: `All that is free (${free})` }),
    garment: garmentField(reader),
    ...pleaterFields(reader),
  };
}

export const sendForm = (reader: Reader, asker: Asker) => z.strictObject(sendFields(reader, asker));
export type SendForm = z.output<ReturnType<typeof sendForm>>;

export function backFields({ units }: Asker) {
  return {
    back_on: dayField('Back on'),
    length: lengthField(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS, label: 'Finished length' }),
    width: lengthField(sizeUnit(units), {
      min: 1,
      max: MOST_WIDTH_TICKS,
      label: 'Finished width',
      hint: 'Flat, pleats closed.',
    }),
  };
}

export const backForm = (asker: Asker) => z.strictObject(backFields(asker));
export type BackForm = z.output<ReturnType<typeof backForm>>;
