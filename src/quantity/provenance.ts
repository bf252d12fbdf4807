/**
 * How far a figure can be relied on, and where it comes from: shown in small print beside the figure.
 */

/** `our rule` is this program's own; `label` and `own` mark what the workroom put in the place of a figure given here. */
export type Basis =
  | 'published'
  | 'common practice'
  | 'from memory'
  | 'worked out'
  | 'our rule'
  | 'label'
  | 'own';

export interface Provenance {
  readonly basis: Basis;
  readonly source: string;
}

export const BROADBENT = 'Broadbent, Basic Principles of Textile Coloration, SDC 2001';
export const FROM_MEMORY: Provenance = { basis: 'from memory', source: 'from memory' };
export const COMMON_PRACTICE: Provenance = { basis: 'common practice', source: 'common practice' };

/** The mark of a figure found in print; `source` says where. */
export function published(source: string): Provenance {
  return { basis: 'published', source };
}
