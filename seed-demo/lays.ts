import { hashOfJob, keepPlan, knownPlan } from '../server/cut-plans/answers.ts';
import { holdPlan, planToHoldForm } from '../server/cutting-table/plan/holding.ts';
import { type PlanNeed, readPlanNeeds } from '../server/cutting-table/plan/need.ts';
import { readGarment } from '../server/garments/garment/records.ts';
import { flawForm, markFlaw } from '../server/shelf/piece/flaw-form.ts';
import { usualEffort } from '../src/cut-plan/effort.ts';
import { planCuts } from '../src/cut-plan/planner.ts';
import type { Hand } from './hand.ts';

/** A remnant of tulle has a snag; what the skirt still needs is planned, held, and to be cut at the table. */
export function planTulle(hand: Hand): void {
  const tulle = { cloth: 'Polyester tulle 137', shade: 'Foam' };
  const pieceId = needOf(hand, 'G2', tulle).job.pieces[0]?.pieceId ?? 0;
  const flaw = { from: '22 cm', to: '25 cm', left: '60', right: '66', what: 'snag' };
  hand.fillsIn(hand.minutesAgo(24), 'Fenn', flaw, {
    schema: ({ units }) => flawForm(units),
    write: (tx, form, asker) => markFlaw(tx, pieceId, form, asker),
  });
  holdLays(hand, hand.minutesAgo(23), 'G2', tulle);
}

interface Wanted {
  readonly cloth: string;
  readonly shade: string;
}

/** Plans what a garment still needs of a cloth and shade, and holds the plan of the least length. */
export function holdLays(hand: Hand, when: string, code: string, wanted: Wanted): void {
  const { job, line } = needOf(hand, code, wanted);
  if (!knownPlan(job))
    keepPlan(job, { plan: planCuts(job, usualEffort(job, null)), stopped: '', seconds: null });
  const asked = {
    cloth_id: String(line.cloth.id),
    shade_id: String(line.shade.id),
    wish: 'least length',
    job: hashOfJob(job),
    again: 'yes',
    flaws: 'straddle',
  };
  hand.fillsIn(when, 'Fenn', asked, {
    schema: planToHoldForm,
    write: (tx, form, asker) => holdPlan(tx, code, form, asker),
  });
}

function needOf(hand: Hand, code: string, { cloth, shade }: Wanted): PlanNeed {
  const needs = readPlanNeeds(hand.book, readGarment(hand.book, code), true);
  const need = needs.find(({ line }) => line.cloth.name === cloth && line.shade.name === shade);
  if (!need) throw new Error(`the story knows no need of ${cloth} in ${shade}`);
  return need;
}
