import { z } from 'zod';
import { checkLab, type Lab, screenToLab } from '../../../src/colour/lab.ts';
import { choiceField, field, optionalReading, optionalText, textField, tickField } from '../../kit/fields.ts';
import { type Asking, asked } from '../../kit/form-drawing.ts';

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
      { value: '', label: 'as it was given here' },
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

/** The colour of three coordinates as they were typed; null where none was, or where it was refused. */
export function readLab(typed: Given['lab'], refuse: (field: string, message: string) => void): Lab | null {
  const { l, a, b } = typed;
  if (l === null && a === null && b === null) return null;
  if (l === null || a === null || b === null) {
    for (const axis of ['l', 'a', 'b'] as const) {
      if (typed[axis] === null) refuse(axis, 'CIELAB needs all three: L*, a* and b*.');
    }
    return null;
  }
  for (const problem of checkLab({ l, a, b })) refuse(problem.field, problem.message);
  return { l, a, b };
}

/** CIELAB for D65 and the 2° observer, each coordinate to four decimals: "52.3", "−12,5". */
export function labFields(asking: Asking = {}) {
  const coordinate = (label: string, hint: string) => {
    const read = field((typed, refuse) => {
      const text = typed.trim().replace(/^[−–]/u, '-').replace(',', '.');
      if (text === '') return null;
      return /^[+-]?\d{1,3}(\.\d{1,4})?$/.test(text)
        ? Number(text)
        : refuse(`Write ${label} as a number with up to four decimals, such as 52.3.`);
    });
    return asked(read, { label, hint, size: 'short', maxlength: 20, ...asking });
  };
  return {
    l: coordinate('L*', 'Lightness, 0 to 100.'),
    a: coordinate('a*', 'Green below 0, red above.'),
    b: coordinate('b*', 'Blue below 0, yellow above.'),
  };
}
