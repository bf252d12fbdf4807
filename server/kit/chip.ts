import { labToScreen } from '../../src/colour/lab.ts';

/** What partials/chip draws. */
export interface Chip {
  /** '#rrggbb', or null where no colour was recorded */
  readonly colour: string | null;
  readonly name: string;
  readonly lot?: string;
  readonly href?: string;
  readonly large?: boolean;
}

/** A shade's name and colour as a row of the book has them. */
export interface ShadeColour {
  readonly name: string;
  readonly lab_l: number | null;
  readonly lab_a: number | null;
  readonly lab_b: number | null;
}

/** The swatch chip of a shade, with the lot's code or a way to its page where wanted. */
export function shadeChip(row: ShadeColour, more: Omit<Chip, 'colour' | 'name'> = {}): Chip {
  return { colour: shadeColour(row), name: row.name, ...more };
}

/** The nearest colour of the screen, or null where the shade has no value. */
export function shadeColour(row: Omit<ShadeColour, 'name'>): string | null {
  const { lab_l: l, lab_a: a, lab_b: b } = row;
  if (l === null || a === null || b === null) return null;
  const key = `${l} ${a} ${b}`;
  const known = SCREENS.get(key) ?? labToScreen({ l, a, b });
  if (SCREENS.size >= MOST_SCREENS) SCREENS.clear();
  SCREENS.set(key, known);
  return known;
}

/** Colours as the screen shows them: a list names the same few shades over and over. */
const SCREENS = new Map<string, string>();
const MOST_SCREENS = 500;
