import { z } from 'zod';
import { type Lab, screenToLab } from '../../../src/colour/lab.ts';
import { choiceField, optionalReading, optionalText, textField, tickField } from '../../kit/fields.ts';
import { labFields, readLab } from '../colour/fields.ts';

const HOW = ['instrument', 'photo', 'screen', 'typed'] as const;
export type LabHow = (typeof HOW)[number];

export const HOW_WORDS: Readonly<Record<LabHow, string>> = {
  instrument: 'measured with an instrument',
  photo: 'read off a photograph',
  screen: 'picked on a screen',
  typed: 'typed from a card or list',
};

/** A shade's colour: CIELAB for D65 and the 2° observer, and how it was got. */
export interface ShadeColourForm {
  readonly lab: Lab;
  readonly how: LabHow;
}

/** A shade as it is described: its colour by a screen colour or by typed CIELAB, or none. */
export const SHADE_FIELDS = {
  name: textField({ max: 80, what: 'The name', label: 'Name' }),
  ground: tickField({ label: 'Undyed ground: cloth in this shade may be dyed' }),
  hex: optionalReading(screenToLab, {
    label: 'Screen colour',
    hint: 'Six digits, such as #c81e3a.',
    maxlength: 20,
  }),
  ...labFields({ required: false }),
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
  .transform(({ hex, l, a, b, how, ...shade }, context) => {
    const refuse = (field: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [field], input: null });
    return { ...shade, colour: readColour({ hex, lab: { l, a, b }, how }, refuse) };
  });

export type ShadeForm = z.output<typeof SHADE_FORM>;

interface Given {
  readonly hex: Lab | null;
  readonly lab: { readonly l: number | null; readonly a: number | null; readonly b: number | null };
  readonly how: LabHow | null;
}

function readColour(given: Given, refuse: (field: string, message: string) => void): ShadeColourForm | null {
  const { hex, how } = given;
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
    return { lab: hex, how: how === 'photo' ? 'photo' : 'screen' };
  }
  const lab = readLab(given.lab, refuse);
  return lab && { lab, how: how ?? 'typed' };
}
