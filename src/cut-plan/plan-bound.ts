import type { Cutting } from './plan.ts';

/** What is proved of a plan: nothing of this style of cutting can do better than this. */
export interface PlanBound {
  /** No plan leaves fewer strips uncut. */
  readonly missingStrips: number;
  /** No plan that leaves no more strips uncut, from no more lots, is charged less, in square ticks. */
  readonly chargedArea: number;
  /** Whether this is proved over all lots, or only with the lots of the plan. */
  readonly over: 'all lots' | 'these lots';
  /** (Charged − bound) ÷ bound in hundredths of a percent, rounded up; 0 means that no better plan exists. */
  readonly gapBp: number;
}

/** What is proved before a search has ended, over all lots. */
export interface Proved {
  /** Plans that leave more strips uncut than this may be charged less than said here. */
  readonly mostMissing: number;
  /** No plan leaves fewer strips uncut. */
  readonly missingStrips: number;
  /** No plan that leaves at most `mostMissing` strips uncut is charged less, in square ticks. */
  readonly chargedArea: number;
}

/** A plan with the most that was proved of it by then. */
export function withProved(plan: Cutting, all: readonly Proved[]): Cutting & { readonly bound: PlanBound } {
  const holding = all.filter(({ mostMissing }) => plan.missingStrips <= mostMissing);
  const area = Math.max(0, ...holding.map(({ chargedArea }) => chargedArea));
  const missing = Math.max(0, ...all.map(({ missingStrips }) => missingStrips));
  return { ...plan, bound: boundOfPlan(plan, missing, area, 'all lots') };
}

/** Whether it is proved that the strips that a plan leaves uncut must stay uncut. */
export function isShortProved({ missingStrips }: Pick<Cutting, 'missingStrips'>, bound: PlanBound): boolean {
  return bound.missingStrips >= missingStrips;
}

/** Whether it is proved that no plan leaves fewer strips uncut or is charged less. */
export function isProvedBest(plan: Cutting & { readonly bound: PlanBound }): boolean {
  return plan.bound.gapBp === 0 && isShortProved(plan, plan.bound);
}

/** A plan with what is proved of the one that takes least: that holds for all with as few strips uncut and as few lots. */
export function withBoundOf<P extends Cutting>(plan: P, { bound }: { readonly bound: PlanBound }) {
  return { ...plan, bound: { ...bound, gapBp: gapAbove(plan.chargedArea, bound.chargedArea) } };
}

/** A bound of a plan, from areas that may be fractions. */
export function boundOfPlan(
  plan: Cutting,
  missing: number,
  area: number,
  over: PlanBound['over'],
): PlanBound {
  const chargedArea = Math.max(0, Math.ceil(area));
  return { missingStrips: missing, chargedArea, over, gapBp: gapAbove(plan.chargedArea, chargedArea) };
}

/** How far an area is above another, in hundredths of a percent of that, rounded up; 10000 above nothing, never below 0. */
export function gapAbove(area: number, least: number): number {
  if (least <= 0) return area > 0 ? 10_000 : 0;
  return Math.max(0, Math.ceil(((area - least) / least) * 10_000));
}
