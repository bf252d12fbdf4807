import type { Planner } from '../../server/cut-plans/planner.ts';
import { endProcess } from '../../server/process.ts';

/** Ends what plans, as the machine might in the middle of a plan; nothing where it does not run. */
export async function endProcessOf(planner: Planner): Promise<void> {
  if (planner.process) await endProcess(planner.process);
}
