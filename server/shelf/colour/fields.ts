import { checkLab } from '../../../src/colour/check-lab.ts';
import {
  type HowRead,
  ILLUMINANTS,
  OBSERVERS,
  type PlaceOnPiece,
  sayViewing,
  type Viewing,
} from '../../../src/colour/colour-reading.ts';
import type { Lab } from '../../../src/colour/lab.ts';
import { field } from '../../kit/fields.ts';
import { type Asking, asked } from '../../kit/form-drawing.ts';

export const HOW_READ_WORDS: Readonly<Record<HowRead, string>> = {
  instrument: 'measured with an instrument',
  'photo pair': 'from one photo with a known colour',
  'photo card': 'from a photo with a grey card',
  eye: 'picked by eye',
  list: 'typed from a card or list',
};

export const PLACE_WORDS: Readonly<Record<PlaceOnPiece, string>> = {
  begin: 'at the beginning',
  middle: 'in the middle',
  end: 'at the end',
  left: 'at the left edge',
  right: 'at the right edge',
};

const VIEWINGS: readonly Viewing[] = ILLUMINANTS.flatMap((illuminant) =>
  OBSERVERS.toReversed().map((observer) => ({ illuminant, observer })),
);

/** A viewing as its field has it: "D65/10". */
export function viewingValue({ illuminant, observer }: Viewing): string {
  return `${illuminant}/${observer}`;
}

interface TypedLab {
  readonly l: number | null;
  readonly a: number | null;
  readonly b: number | null;
}

/** The colour of three coordinates as they were typed; null where none was, or where it was refused. */
export function readLab(typed: TypedLab, refuse: (field: string, message: string) => void): Lab | null {
  const { l, a, b } = typed;
  if (l === null && a === null && b === null) return null;
  for (const axis of ['l', 'a', 'b'] as const) {
    if (typed[axis] === null) refuse(axis, 'Enter all three: L*, a* and b*.');
  }
  const problems = checkLab({ l: l ?? 0, a: a ?? 0, b: b ?? 0 });
  for (const problem of problems) refuse(problem.field, problem.message);
  return l === null || a === null || b === null ? null : { l, a, b };
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

/** What Lab values are for; null where it was left open. */
export function viewingField(asking: Asking = {}) {
  const read = field((typed, refuse) => {
    if (typed === '') return null;
    return VIEWINGS.find((viewing) => viewingValue(viewing) === typed) ?? refuse(CHOOSE_VIEWING);
  });
  return asked(read, {
    label: 'Light and observer',
    kind: 'select',
    options: VIEWINGS.map((viewing) => ({ value: viewingValue(viewing), label: sayViewing(viewing) })),
    ...asking,
  });
}

/** The same figures mean another colour under another light, so that nothing is taken for granted. */
export const CHOOSE_VIEWING = 'Choose what the values are for, as the instrument shows it.';
