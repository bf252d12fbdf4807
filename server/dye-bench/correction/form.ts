import { z } from 'zod';
import { AFTERTREATMENTS, TROUBLE_NAMES, TROUBLES } from '../../../src/dye/correction.ts';
import { readAddition } from '../../../src/dye/recipe-figures.ts';
import { STRIP_CODES } from '../../../src/dye/strip.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChoices, withBlank } from '../../kit/choices.ts';
import { choiceField, choiceOrFirst, optionalReading, optionalText } from '../../kit/fields.ts';
import { readCautions } from '../pot/read-cautions.ts';

const AFTER_NAMES = {
  none: 'Nothing',
  cationic: 'A cationic fixer, on direct or reactive dye',
  syntan: 'A syntan, on nylon',
} as const;

/** What is asked of a batch that came out wrong; it stands in the address. */
export const CORRECTION_ASKED = {
  trouble: choiceField(TROUBLES, 'what is wrong', {
    label: 'What is wrong',
    options: withBlank(
      TROUBLES.map((value) => ({ value, label: TROUBLE_NAMES[value] })),
      'Choose',
    ),
  }),
  after: choiceOrFirst(AFTERTREATMENTS, 'what went on after the dye', {
    label: 'What went on after the dye',
    options: AFTERTREATMENTS.map((value) => ({ value, label: AFTER_NAMES[value] })),
  }),
};

/** The dose of a leveller or retarder, as its label gives it. */
export const LABEL_DOSE = z.strictObject({
  dose: optionalReading(readAddition, { label: 'Dose on its label', hint: 'Such as 1 g/L or 0.5 %.' }),
});

/** A shade of its own for what is stripped, where none is chosen. */
export const NEW_SHADE = 'new';

/** A stripping bath to be planned as a batch of its own, and the shade that the cloth is in after it. */
export function stripFields(reader: Reader) {
  const shades = shadeChoices(reader);
  return {
    strip: choiceField(STRIP_CODES, 'a way of stripping'),
    becomes: choiceField([NEW_SHADE, ...shades.map(({ value }) => value)], 'the shade after it', {
      label: 'The shade it has after that',
      options: [{ value: NEW_SHADE, label: 'A shade of its own, to be overdyed' }, ...shades],
    }),
  };
}

/** What was asked, sent along so that it is told again. */
const AS_ASKED = { trouble: optionalText({ max: 20 }), after: optionalText({ max: 20 }) };

export function stripForm(reader: Reader) {
  return z.strictObject({ ...stripFields(reader), ...AS_ASKED });
}

/** Cautions of the baths that were read here. */
export const CORRECTION_READ = z.strictObject({ ...AS_ASKED, cautions: readCautions() });

export type StripForm = z.output<ReturnType<typeof stripForm>>;
