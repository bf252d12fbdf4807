/** What a maker's label says, in plain figures; null and empty lists are what it does not say. */

import type { AuxiliaryKind } from './auxiliaries.ts';

/** Something that goes into the bath: in rows of the order in which the label adds it, equal parts where named again. */
export interface LabelAddition {
  readonly what: 'dye' | AuxiliaryKind;
  /** in °C; null where the bath stands as it does then */
  readonly atC: number | null;
  /** until the next thing is done */
  readonly minutes: number;
}

/** A dose for all dyes together up to so many thousandths of a percent owf; null for any depth, or beyond the others. */
export interface LabelDose {
  readonly kind: AuxiliaryKind;
  readonly form: string;
  readonly upToMilli: number | null;
  /** mg in a litre, or thousandths of a percent on weight of fabric */
  readonly per: 'litre' | 'cloth';
  readonly amount: number;
}

/** A bath of the wash-off. */
export interface LabelWash {
  readonly says: string;
  readonly toC: number;
  readonly minutes: number;
  /** what it takes, in mg in a litre; null for plain water */
  readonly dose: { readonly kind: AuxiliaryKind; readonly form: string; readonly mgPerLitre: number } | null;
}

export interface MakerLabel {
  /** which label it is, as the workroom calls it */
  readonly source: string;
  readonly startC: number | null;
  readonly temperatureC: number | null;
  readonly holdMinutes: number | null;
  /** in thousandths of °C a minute */
  readonly heatRateMilli: number | null;
  readonly coolRateMilli: number | null;
  readonly liquorRatioMilli: number | null;
  readonly pHFrom: number | null;
  readonly pHTo: number | null;
  readonly additions: readonly LabelAddition[];
  readonly doses: readonly LabelDose[];
  readonly washes: readonly LabelWash[];
}

export const EMPTY_LABEL: MakerLabel = {
  source: '',
  startC: null,
  temperatureC: null,
  holdMinutes: null,
  heatRateMilli: null,
  coolRateMilli: null,
  liquorRatioMilli: null,
  pHFrom: null,
  pHTo: null,
  additions: [],
  doses: [],
  washes: [],
};
