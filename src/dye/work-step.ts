/** One step of the work at the pot. Temperatures in °C: where the bath stands when the step begins and when it ends. */

import { COMMON_PRACTICE, type Provenance } from '../quantity/provenance.ts';
import type { Dose } from './order-facts.ts';

/**
 * `prepare` is the scour, `weigh` and `dissolve` what comes before the bath, `vat` the stock vat, `set` to `cool` the dye
 * bath itself; `clear` is every wash after it, `fix` an aftertreatment.
 */
export const WORK_KINDS = [
  'prepare',
  'weigh',
  'dissolve',
  'vat',
  'set',
  'add',
  'heat',
  'hold',
  'cool',
  'rinse',
  'oxidise',
  'clear',
  'fix',
  'dry',
] as const;

export type WorkKind = (typeof WORK_KINDS)[number];

/** What is weighed when a step begins: a line of the bath by name, or one of its equal parts. */
export interface WorkAdd {
  readonly name: string;
  /** the part that is due now, from 1, of so many */
  readonly part: number;
  readonly of: number;
}

export interface WorkStep {
  /** names the step in the log; it stays when additions come in between */
  readonly key: string;
  readonly kind: WorkKind;
  readonly title: string;
  readonly says: string;
  readonly minutes: number;
  readonly fromC: number;
  readonly toC: number;
  readonly adds: readonly WorkAdd[];
  /** what a bath of its own takes, by its litres */
  readonly doses: readonly Dose[];
  /** the dyes of an addition, weighed for one bath */
  readonly extra: readonly { readonly name: string; readonly massMg: number }[];
  readonly mark: Provenance;
}

/** A step before its parts are counted: what goes in by name alone. */
export type DraftStep = Omit<WorkStep, 'adds'> & { readonly adds: readonly string[] };

/** Room temperature, in °C: of weighing, rinsing and drying (common practice). */
export const COLD_C = 20;

/** A step at room temperature that takes nothing, to be filled in. */
export function draftStep(
  kind: WorkKind,
  title: string,
  minutes: number,
  says: string,
  mark: Provenance = COMMON_PRACTICE,
): DraftStep {
  return {
    key: kind,
    kind,
    title,
    says,
    minutes,
    fromC: COLD_C,
    toC: COLD_C,
    adds: [],
    doses: [],
    extra: [],
    mark,
  };
}
