import { TICKS_PER } from '../quantity/length.ts';
import type { Units } from '../quantity/length-show.ts';

/** How the strips of a band are joined. */
export type SeamKind = 'plain' | 'french' | 'overlocked';
/** How a lower edge is finished. */
export type LowerEdge = 'rolled' | 'narrow' | 'faced' | 'bound' | 'raw';
/** How an upper edge is finished: inside the seam that it hangs by, or like a lower edge above a heading. */
export type UpperEdge = 'seam' | LowerEdge;

export const SEAM_KINDS: readonly SeamKind[] = ['plain', 'french', 'overlocked'];
export const LOWER_EDGES: readonly LowerEdge[] = ['rolled', 'narrow', 'faced', 'bound', 'raw'];
export const UPPER_EDGES: readonly UpperEdge[] = ['seam', ...LOWER_EDGES];

/** A usual allowance, and where it comes from, so that a page can say it beside the figure. */
export interface UsualAllowance {
  /** in ticks of 1/160 mm */
  readonly ticks: number;
  readonly source: string;
}

type System = Units['system'];

const IN = TICKS_PER.in;
const MM = TICKS_PER.mm;
const PRACTICE = 'common practice';

/**
 * The usual allowance on each of the two edges of a seam, in inches or, for a reader in metric, in whole millimetres
 * near it. A French seam is sewn ⅛ in from the edge and then again ¼ in, so it takes ⅜ in of each edge (Conover,
 * Complete Course in Dressmaking, 1922, vol. 1); the others are common practice.
 */
export function usualSeam(kind: SeamKind, system: System): UsualAllowance {
  switch (kind) {
    case 'plain':
      return usual(system, 10, 1 / 2, PRACTICE);
    case 'french':
      return usual(system, 10, 3 / 8, 'Conover 1922, vol. 1: ⅛ in, then ¼ in');
    case 'overlocked':
      return usual(system, 6, 1 / 4, PRACTICE);
  }
}

/**
 * The usual allowance of an edge, likewise. A narrow hem takes 1/16 in and ⅛ in in two turns (Conover, vol. 2); the
 * seam that a gathered edge hangs by ⅝ in with gathering rows inside it (webcasty.com). A rolled hem on an overlock
 * takes 0 to ¼ in, which it trims off, and a facing ¼ in; what is bound or left raw takes nothing: common practice.
 */
export function usualEdge(edge: UpperEdge, system: System): UsualAllowance {
  switch (edge) {
    case 'seam':
      return usual(system, 15, 5 / 8, 'webcasty.com: two gathering rows inside a ⅝ in seam');
    case 'narrow':
      return usual(system, 5, 3 / 16, 'Conover 1922, vol. 2: 1/16 in and ⅛ in turned');
    case 'rolled':
    case 'faced':
      return usual(system, 6, 1 / 4, PRACTICE);
    case 'bound':
    case 'raw':
      return { ticks: 0, source: PRACTICE };
  }
}

function usual(system: System, millimetres: number, inches: number, source: string): UsualAllowance {
  return { ticks: system === 'metric' ? millimetres * MM : inches * IN, source };
}
