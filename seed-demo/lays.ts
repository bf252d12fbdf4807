import { hashOfJob, keepPlan } from '../server/cut-plans/answers.ts';
import { holdPlan, planToHoldForm } from '../server/cutting-table/plan/holding.ts';
import { readPlanNeeds } from '../server/cutting-table/plan/need.ts';
import { readGarment } from '../server/garments/garment/records.ts';
import { flawForm, markFlaw } from '../server/shelf/piece/flaw-form.ts';
import { usualEffort } from '../src/cut-plan/effort.ts';
import { planCuts } from '../src/cut-plan/planner.ts';
import type { Hand } from './hand.ts';

/** A remnant of tulle has a snag; what the skirt still needs is planned, held, and to be cut at the table. */
export function planTulle(hand: Hand): void {
  const { book } = hand;
  const garment = readGarment(book, 'G2');
  const needOf = () => readPlanNeeds(book, garment, true).find(({ line }) => line.cloth.name === TULLE);
  const pieceId = needOf()?.job.pieces[0]?.pieceId ?? 0;
  const flaw = { from: '22 cm', to: '25 cm', left: '60', right: '66', what: 'snag' };
  hand.fillsIn(hand.minutesAgo(24), 'Fenn', flaw, {
    schema: ({ units }) => flawForm(units),
    write: (tx, form, asker) => markFlaw(tx, pieceId, form, asker),
  });
  const need = needOf();
  if (!need) throw new Error('the skirt needs tulle');
  keepPlan(need.job, { plan: planCuts(need.job, usualEffort(need.job, null)), stopped: '', seconds: null });
  const asked = {
    cloth_id: String(need.line.cloth.id),
    shade_id: String(need.line.shade.id),
    wish: 'least length',
    job: hashOfJob(need.job),
    again: 'yes',
    flaws: 'straddle',
  };
  hand.fillsIn(hand.minutesAgo(23), 'Fenn', asked, {
    schema: planToHoldForm,
    write: (tx, form, asker) => holdPlan(tx, garment.code, form, asker),
  });
}

const TULLE = 'Polyester tulle 137';
