import {
  LOWER_EDGES,
  type LowerEdge,
  SEAM_KINDS,
  type SeamKind,
  UPPER_EDGES,
  type UpperEdge,
  type UsualAllowance,
  usualEdge,
  usualSeam,
} from '../../../src/garment/seams-and-edges.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Choice } from '../../kit/choices.ts';

/** Common practice in the workroom; each is only what a form starts with. */
export const USUAL_TEXTS = {
  metric: { fullness: '2.5', end: '1' },
  imperial: { fullness: '2 1/2', end: '1/2' },
} as const;

export const SEAM_WORDS: Readonly<Record<SeamKind, string>> = {
  plain: 'plain',
  french: 'French',
  overlocked: 'overlocked',
};

const EDGE_WORDS: Readonly<Record<LowerEdge, string>> = {
  rolled: 'rolled hem',
  narrow: 'narrow hem',
  faced: 'faced',
  bound: 'ribbon-bound',
  raw: 'raw net',
};

const UPPER_EDGE_WORDS: Readonly<Record<UpperEdge, string>> = {
  ...EDGE_WORDS,
  seam: 'in the seam',
};

/** The kinds of seams and edges, each with the allowance that it usually takes. */
export function edgeChoices(units: Units) {
  const say = (words: string, usual: UsualAllowance): string =>
    usual.ticks === 0 ? `${words}: nothing` : `${words}: ${showSize(usual.ticks, units, 'near')}`;
  const seam = (kind: SeamKind): Choice => ({
    value: kind,
    label: say(SEAM_WORDS[kind], usualSeam(kind, units.system)),
  });
  const edge = (kind: UpperEdge): Choice => ({
    value: kind,
    label: say(UPPER_EDGE_WORDS[kind], usualEdge(kind, units.system)),
  });
  return {
    seamKinds: SEAM_KINDS.map(seam),
    upperEdges: UPPER_EDGES.map(edge),
    lowerEdges: LOWER_EDGES.map(edge),
  };
}
