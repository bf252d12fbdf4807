import type { Hoop } from './hoop.ts';
/** One girth of a form, measured round it at a drop below the waist; the drop runs down the surface. */
export interface GirthPoint {
  readonly dropTicks: number;
  /** With a hoop its perimeter, rounded once to the tick above: see `hoopGirth`. */
  readonly girthTicks: number;
  /** The hoop that it was given as; without one the form is taken as round there. */
  readonly hoop?: Hoop | null;
}

/** What a garment hangs over: girths by drop, at least two, the drops rising strictly. */
export interface Form {
  readonly girths: readonly GirthPoint[];
  /** straight unless said */
  readonly profile?: Profile;
  /** How much more the foundation layer over the form measures round, in ticks; nothing unless said. */
  readonly foundationEaseTicks?: number;
  /** How deep the garment opens below the waist, in ticks; it does not open unless said. */
  readonly openingTicks?: number;
}

/** How a form runs between two girths: on straight lines, or in a smooth curve that is upright at the lowest. */
export type Profile = 'straight' | 'domed';
