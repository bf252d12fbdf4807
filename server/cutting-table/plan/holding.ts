import { z } from 'zod';
import { partsOfLay, type TierPart } from '../../../src/cut-plan/held-lays.ts';
import type { Lay } from '../../../src/cut-plan/plan.ts';
import type { CutPlan } from '../../../src/cut-plan/planner.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import {
  hashOfJob,
  type KnownPlan,
  knownAlternative,
  knownPlan,
  planOfHash,
} from '../../cut-plans/answers.ts';
import { readHeldPlan, type StoredPlan, type StoredSlit } from '../../cut-plans/store.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { readHeldStretches } from '../../garments/garment/done.ts';
import { type Garment, readGarment } from '../../garments/garment/records.ts';
import { address } from '../../kit/address.ts';
import { choiceField, idField, textField } from '../../kit/fields.ts';
import { planPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { readPiece, tellState } from '../../ledger/state.ts';
import { holdLength, releaseLength } from '../../ledger/verbs.ts';
import { conflict } from '../../refusal.ts';
import { readTakenTicks } from '../../shelf/piece/flaw-places.ts';
import { readPlaces } from '../../short/supply.ts';
import type { Asker } from '../../web/house.ts';
import { type PlanNeed, readPlanNeed } from './need.ts';

export const WISHES = ['least length', 'fewest lays', 'longest remnants'] as const;

/** Which plan of which need is held: as it was shown. */
export function planToHoldForm() {
  return z.strictObject({
    cloth_id: idField('a cloth'),
    shade_id: idField('a shade'),
    wish: choiceField(WISHES, 'a plan'),
    job: textField({ max: 64, label: 'The plan' }),
    again: choiceField(['yes', 'no'], 'whether it is planned again'),
    flaws: choiceField(['straddle', 'skip'], 'whether lays straddle flaws'),
  });
}

/**
 * Holds a plan in one step: exactly its lengths on exactly its pieces. What the tiers of this need held before is given
 * back in the same step, and a plan that was held before is given up for it.
 */
export function holdPlan(
  tx: Tx,
  code: string,
  form: z.output<ReturnType<typeof planToHoldForm>>,
  asker: Asker,
): Answer {
  const garment = readGarment(tx, code);
  const asked = { clothId: form.cloth_id, shadeId: form.shade_id };
  const need = readPlanNeed(tx, garment, { ...asked, afresh: form.again === 'yes', flaws: form.flaws });
  const href = planPath(code);
  const planned = address(href, { flaws: form.flaws === 'skip' ? 'skip' : '' });
  if (need.held && form.again === 'no') {
    throw conflict(
      `A plan of it is held already, by ${need.held.by}. Plan it again to hold another in its place.`,
      { text: 'The plan that is held', href },
    );
  }
  if (hashOfJob(need.job) !== form.job) {
    const shown = planOfHash(form.job);
    throw conflict(sayWhatChanged(tx, garment, need, shown, asker), { text: 'Plan it again', href: planned });
  }
  const plan =
    form.wish === 'least length'
      ? (knownPlan(need.job)?.plan ?? null)
      : (knownAlternative(need.job, form.wish)?.plan ?? null);
  const proved = knownPlan(need.job)?.plan;
  if (!plan || !proved) {
    throw conflict('Clothroom was started again since this plan was made.', {
      text: 'Plan it again',
      href: planned,
    });
  }
  if (plan.lays.length === 0) throw conflict('This plan cuts nothing, so there is nothing to hold.');
  if (need.held) markGivenUp(tx, need.held);
  releaseNeed(tx, need);
  const lays = plan.lays.map((lay) => ({ lay, parts: partsOfLay(lay, (kindId) => tierOf(need, kindId)) }));
  holdParts(tx, lays);
  storePlan(tx, garment, need, { ...form, plan: { ...plan, bound: proved.bound } }, lays);
  const strips = lays.reduce((sum, { parts }) => sum + parts.reduce((all, part) => all + part.strips, 0), 0);
  const length = showLength(plan.usedTicks, asker.units, 'up');
  const { cloth, shade } = need.line;
  return {
    location: `${href}#${needAnchor(asked)}`,
    said: `${countOf(plan.lays.length, 'lay', 'lays')} on ${countOf(plan.pieces.length, 'piece', 'pieces')} held for ${code}: ${length} for ${countOf(strips, 'strip', 'strips')} of ${cloth.name} in ${shade.name}.`,
  };
}

/** Where a need stands on the page of a garment's plans. */
export function needAnchor({ clothId, shadeId }: { clothId: number; shadeId: number }): string {
  return `need-${clothId}-${shadeId}`;
}

function tierOf({ share }: PlanNeed, kindId: number): number {
  const demand = share.need.demands[kindId];
  if (!demand) throw new Error('a plan makes strips that its need has');
  return demand.tierId;
}

interface HeldLay {
  readonly lay: Lay;
  readonly parts: readonly TierPart[];
}

/** Gives back all that the tiers of a need hold of its cloth and shade. */
function releaseNeed(tx: Tx, { share }: PlanNeed): void {
  const { clothId, shadeId, demands } = share.need;
  const tierIds = demands.map(({ tierId }) => tierId);
  for (const row of readHeldStretches(tx, tierIds)) {
    if (row.clothId !== clothId || row.shadeId !== shadeId) continue;
    releaseLength(tx, row.pieceId, row.tierId, { lengthTicks: row.lengthTicks, typed: '', why: 'planned' });
  }
}

function holdParts(tx: Tx, lays: readonly HeldLay[]): void {
  const sums = new Map<string, { pieceId: number; tierId: number; lengthTicks: number }>();
  for (const { lay, parts } of lays) {
    for (const { tierId, lengthTicks } of parts) {
      const key = `${lay.pieceId} ${tierId}`;
      const sum = sums.get(key) ?? { pieceId: lay.pieceId, tierId, lengthTicks: 0 };
      sum.lengthTicks += lengthTicks;
      sums.set(key, sum);
    }
  }
  for (const { pieceId, tierId, lengthTicks } of sums.values()) {
    holdLength(tx, pieceId, tierId, { lengthTicks, typed: '', why: 'cut plan' });
  }
}

function storePlan(
  tx: Tx,
  garment: Garment,
  { share, job }: PlanNeed,
  chosen: { readonly wish: (typeof WISHES)[number]; readonly plan: CutPlan },
  lays: readonly HeldLay[],
): void {
  const { plan, wish } = chosen;
  const { clothId, shadeId } = share.need;
  const { lastId: planId } = tx.run(
    tx.db.insertInto('cut_plan').values({
      garment_id: garment.id,
      cloth_id: clothId,
      shade_id: shadeId,
      held_key: tx.requestKey,
      job_hash: hashOfJob(job),
      wish,
      short_strips: plan.missingStrips,
      charged_ticks: plan.chargedTicks,
      charged_area: plan.chargedArea,
      bound_area: Math.min(plan.bound.chargedArea, plan.chargedArea),
      bound_over: plan.bound.over,
    }),
  );
  const pieceIds = [...new Set(lays.map(({ lay }) => lay.pieceId))];
  const places = readPlaces(tx, pieceIds, garment.id);
  const taken = readTakenTicks(tx, pieceIds);
  const begins = new Map(pieceIds.map((id) => [id, (taken.get(id) ?? 0) + (places.get(id)?.fromTicks ?? 0)]));
  lays.forEach(({ lay, parts }, i) => {
    const { lastId: layId } = tx.run(
      tx.db.insertInto('cut_lay').values({
        plan_id: planId,
        position: i + 1,
        piece_id: lay.pieceId,
        from_ticks: (begins.get(lay.pieceId) ?? 0) + lay.fromTicks,
        length_ticks: lay.heightTicks,
        slit_into: JSON.stringify(slitsOf(lay, share.need.demands)),
      }),
    );
    for (const { tierId, strips, lengthTicks } of parts) {
      const row = { lay_id: layId, tier_id: tierId, strips, length_ticks: lengthTicks };
      tx.run(tx.db.insertInto('cut_lay_tier').values(row));
    }
  });
}

function slitsOf(lay: Lay, demands: PlanNeed['share']['need']['demands']): StoredSlit[] {
  return lay.columns.map(({ kindId, ...run }) => {
    const demand = demands[kindId];
    if (!demand) throw new Error('a plan makes strips that its need has');
    const { tierId, depthTicks, lengthTicks } = demand;
    return { tierId, depthTicks, lengthTicks, ...run };
  });
}

/** Gives a held plan up: what is not cut of it is free again. @throws {Refusal} conflict where it is not held */
export function giveUpPlan(tx: Tx, code: string, planId: number): Answer {
  const garment = readGarment(tx, code);
  const plan = readPlanToChange(tx, garment, planId);
  const released = releasePlan(tx, plan);
  markGivenUp(tx, plan);
  const cut = plan.lays.filter(({ state }) => state === 'cut').length;
  const kept = cut > 0 ? ` ${countOf(cut, 'lay that is cut stays', 'lays that are cut stay')} cut.` : '';
  return {
    location: `${planPath(code)}#${needAnchor(plan)}`,
    said: `The plan of ${code} is given up: what it held on ${countOf(released, 'piece', 'pieces')} is free again.${kept}`,
  };
}

/** A plan of a garment. @throws {Refusal} conflict where it is not held */
export function readPlanToChange(reader: Reader, garment: Garment, planId: number): StoredPlan {
  const plan = readHeldPlan(reader, planId);
  if (plan && plan.garmentId === garment.id) return plan;
  throw conflict('This plan is not held any more.', {
    text: 'The plans as they are now',
    href: planPath(garment.code),
  });
}

/** Releases what the tiers of a plan hold on the pieces of its lays that are not cut. Gives the number of pieces. */
function releasePlan(tx: Tx, plan: StoredPlan): number {
  const left = plan.lays.filter(({ state }) => state !== 'cut');
  const keys = new Set(
    left.flatMap(({ pieceId, parts }) => parts.map(({ tierId }) => `${pieceId} ${tierId}`)),
  );
  const tierIds = [...new Set(left.flatMap(({ parts }) => parts.map(({ tierId }) => tierId)))];
  const pieces = new Set<number>();
  for (const row of readHeldStretches(tx, tierIds)) {
    if (!keys.has(`${row.pieceId} ${row.tierId}`)) continue;
    releaseLength(tx, row.pieceId, row.tierId, {
      lengthTicks: row.lengthTicks,
      typed: '',
      why: 'cut plan given up',
    });
    pieces.add(row.pieceId);
  }
  return pieces.size;
}

function markGivenUp(tx: Tx, plan: StoredPlan): void {
  tx.run(tx.db.updateTable('cut_plan').set({ given_up_key: tx.requestKey }).where('id', '=', plan.id));
}

/** Why a plan that was shown cannot be held: what became of its pieces since, by whom and when, and what is left. */
export function sayWhatChanged(
  reader: Reader,
  garment: Garment,
  need: PlanNeed,
  shown: KnownPlan | null,
  asker: Asker,
): string {
  const { takenTicks } = need.share;
  const taken =
    takenTicks > 0
      ? ` Garments that are due before ${garment.code} take ${showLength(takenTicks, asker.units, 'up')} of what is free.`
      : '';
  const lead = `The shelf or the garment changed since this plan was made.${taken}`;
  const changed = (shown?.plan.pieces ?? []).filter(({ pieceId, lengthTicks, widthTicks }) => {
    const now = need.job.pieces.find((piece) => piece.pieceId === pieceId);
    return now === undefined || now.lengthTicks !== lengthTicks || now.widthTicks !== widthTicks;
  });
  if (changed.length > 0) {
    const told = changed.slice(0, 3).map(({ pieceId }) => tellState(reader, pieceId, asker.personId));
    const codes = changed.map(({ pieceId }) => readPiece(reader, pieceId).code).join(', ');
    return `${lead} Not as planned any more: ${codes}. ${told.join(' ')}`;
  }
  const at =
    garment.changedAt === null
      ? ''
      : ` ${garment.code} was last changed ${showMoment(garment.changedAt)}${garment.changedBy === null ? '' : ` by ${garment.changedBy}`}.`;
  return `${lead}${at} Its pieces are as they were; the strips wanted, or what else there is to cut from, are not.`;
}
