import { unknown } from '../../refusal.ts';
import { CAGE } from './cage-part.ts';
import { CLOSING } from './closing-part.ts';
import { BIAS, PLEATS, REPEAT } from './cloth-parts.ts';
import type { Part } from './describing.ts';
import { FLOUNCE } from './flounce-part.ts';
import { LAYER } from './layer-part.ts';
import { GATHERING, TRIM } from './sewn-parts.ts';

/** The parts of a garment that can be worked out, and kept with a garment. */
export const PART_KINDS: readonly Part[] = [
  FLOUNCE,
  PLEATS,
  BIAS,
  REPEAT,
  LAYER,
  CLOSING,
  CAGE,
  TRIM,
  GATHERING,
];

/** @throws {Refusal} unknown */
export function partOfKind(slug: string): Part {
  const part = PART_KINDS.find((each) => each.slug === slug);
  if (!part) throw unknown('such part');
  return part;
}
