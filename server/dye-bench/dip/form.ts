import { z } from 'zod';
import { LEAST_BANDS, MOST_BANDS } from '../../../src/dye/dip.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { choiceField, lengthField, optionalText, wholeField } from '../../kit/fields.ts';
import { sizeUnit } from '../../kit/units.ts';
import type { Asker } from '../../web/house.ts';

const WAYS = ['lower-in', 'lift-out'] as const;
export const WAY_WORDS: Readonly<Record<(typeof WAYS)[number], string>> = {
  'lower-in': 'Lowered in: the deep end first',
  'lift-out': 'Lifted out: the pale end first',
};

export function dipForm({ units }: Pick<Asker, 'units'>) {
  return z.strictObject({
    way: choiceField(WAYS, 'how it is dipped', {
      label: 'How it is dipped',
      options: WAYS.map((value) => ({ value, label: WAY_WORDS[value] })),
    }),
    bands: wholeField({
      min: LEAST_BANDS,
      max: MOST_BANDS,
      label: 'Exposures',
      hint: '6 to 8 look unbroken; fewer show as bands.',
    }),
    height: lengthField(sizeUnit(units), {
      min: 1,
      max: MOST_LENGTH_TICKS,
      what: 'height',
      label: `Height of the gradient (${sizeUnit(units)})`,
    }),
    minutes: wholeField({
      min: 1,
      max: 600,
      label: 'The deep edge is under for',
      unit: 'min',
      hint: 'Try it on a strip first.',
    }),
  });
}

export const DIP_MOVE = z.strictObject({
  bands_under: wholeField({ min: 0, max: MOST_BANDS, label: 'Bands under from now on' }),
  note: optionalText({
    max: 500,
    label: 'Note',
    size: 'long',
  }),
});
