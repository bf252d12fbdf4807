import { z } from 'zod';
import { SCREEN_VIEWING, sayViewing, type Viewing } from '../../../src/colour/colour-reading.ts';
import { type Lab, screenToLab } from '../../../src/colour/lab.ts';
import { choiceField, optionalReading, optionalText, textField, tickField } from '../../kit/fields.ts';
import { labFields, readLab, viewingField, viewingValue } from '../colour/fields.ts';

const HOW = ['instrument', 'photo', 'screen', 'typed'] as const;
export type LabHow = (typeof HOW)[number];

export const HOW_WORDS: Readonly<Record<LabHow, string>> = {
  instrument: 'measured with an instrument',
  photo: 'read off a photograph',
  screen: 'picked on a screen',
  typed: 'typed from a card or list',
};

/** A shade's colour: CIELAB, the light and observer that it is for, and how it was got. */
export interface ShadeColourForm {
  readonly lab: Lab;
  readonly viewing: Viewing;
  readonly how: LabHow;
}

/** A shade as it is described: its colour by a screen colour or by typed CIELAB, or none. */
export const SHADE_FIELDS = {
  name: textField({ max: 80, what: 'The name', label: 'Name' }),
  ground: tickField({ label: 'Undyed ground: cloth in this shade may be dyed' }),
  hex: optionalReading(screenToLab, {
    label: 'Screen colour',
    hint: 'Such as #c81e3a.',
    maxlength: 20,
  }),
  ...labFields({ required: false }),
  viewing: viewingField({ required: false, hint: 'As the instrument shows it.' }),
  how: choiceField(['', ...HOW], 'how the colour was got', {
    label: 'How the colour was got',
    required: false,
    options: [
      { value: '', label: 'as given here' },
      ...HOW.map((how) => ({ value: how, label: HOW_WORDS[how] })),
    ],
  }).transform((how) => (how === '' ? null : how)),
  note: optionalText({ max: 2000, label: 'Note', lines: true, size: 'long', rows: 3 }),
};

export const SHADE_FORM = z
  .strictObject(SHADE_FIELDS)
  .transform(({ hex, l, a, b, viewing, how, ...shade }, context) => {
    const refuse = (field: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [field], input: null });
    return { ...shade, colour: readColour({ hex, lab: { l, a, b }, viewing, how }, refuse) };
  });

export type ShadeForm = z.output<typeof SHADE_FORM>;

interface Given {
  readonly hex: Lab | null;
  readonly lab: { readonly l: number | null; readonly a: number | null; readonly b: number | null };
  readonly viewing: Viewing | null;
  readonly how: LabHow | null;
}

function readColour(given: Given, refuse: (field: string, message: string) => void): ShadeColourForm | null {
  const { hex, how, viewing } = given;
  const { l, a, b } = given.lab;
  const axes = [l, a, b].filter((axis) => axis !== null);
  if (hex && axes.length > 0) {
    refuse('hex', 'Give a screen colour or CIELAB values, not both.');
    return null;
  }
  if (hex) {
    if (how !== null && how !== 'screen' && how !== 'photo') {
      refuse(
        'how',
        'A screen colour is picked on a screen or read off a photograph; what was measured is typed as CIELAB.',
      );
    }
    if (viewing !== null && viewingValue(viewing) !== viewingValue(SCREEN_VIEWING))
      refuse(
        'viewing',
        `A screen colour is for ${sayViewing(SCREEN_VIEWING)}: choose that, or leave it open.`,
      );
    return { lab: hex, viewing: SCREEN_VIEWING, how: how === 'photo' ? 'photo' : 'screen' };
  }
  const lab = readLab(given.lab, refuse);
  // A card or list that says nothing is for the usual one.
  return lab && { lab, viewing: viewing ?? SCREEN_VIEWING, how: how ?? 'typed' };
}
