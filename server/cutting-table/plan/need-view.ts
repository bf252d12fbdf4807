import type { Chip } from '../../kit/chip.ts';
import type { CureView } from './cure-words.ts';
import type { HeldPlanView } from './held-view.ts';
import type { PlanView } from './proposals.ts';
export interface PlannedNeedView {
  readonly anchor: string;
  /** whether all its strips are cut */
  readonly done: boolean;
  readonly chip: Chip;
  readonly cloth: { readonly name: string; readonly href: string };
  readonly wanted: number;
  readonly cut: number;
  readonly rule: string;
  /** the plan that is held; null where none is, or where it is planned anew */
  readonly held: HeldPlanView | null;
  readonly plans: readonly PlanView[];
  /** what is under way, or why nothing is, in a sentence; '' where all is known */
  readonly working: string;
  readonly stop: PlannerForm | null;
  readonly harder: (PlannerForm & { readonly seconds: readonly number[] }) | null;
  /** said before cloth is bought where it is not proved that strips cannot be cut; else '' */
  readonly searchLonger: string;
  readonly reasons: readonly string[];
  readonly cures: readonly CureView[];
}

/** A form that asks something of the planner about a job. */
interface PlannerForm {
  readonly action: string;
  readonly requestKey: string;
  readonly job: string;
}
