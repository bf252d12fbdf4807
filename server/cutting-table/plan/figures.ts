import type { AlternativePlan, Wish } from '../../../src/cut-plan/alternative.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { type Cutting, remnants } from '../../../src/cut-plan/plan.ts';
import { gapAbove, isShortProved, type PlanBound } from '../../../src/cut-plan/plan-bound.ts';
import type { CutPlan } from '../../../src/cut-plan/planner.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { countOf } from '../../kit/words.ts';
import { sayLays } from './view.ts';

/** The figures of a plan, ready to print; in JSON beside the texts as numbers. */
export interface PlanFigures {
  readonly madeStrips: number;
  readonly missingStrips: number;
  /** strips that no plan of this style can make; where more are missing, no way was found for these, which proves nothing */
  readonly leastMissingStrips: number;
  readonly chargedTicks: number;
  readonly charged: string;
  readonly used: string;
  readonly lays: string;
  /** the longest full-width end that stays of a piece that is cut, '' where none is useful */
  readonly remnant: string;
  /** what is proved, in words */
  readonly proof: string;
  /** hundredths of a percent above what is proved */
  readonly gapBp: number;
}

const STYLE = 'full-width lays from the free end, slit into columns of equal strips';

export function shapePlanFigures(plan: Cutting, bound: PlanBound, job: PlanJob, units: Units): PlanFigures {
  const longest = remnants(plan)[0];
  return {
    madeStrips: plan.made.reduce((sum, made) => sum + made, 0),
    missingStrips: plan.missingStrips,
    leastMissingStrips: bound.missingStrips,
    chargedTicks: plan.chargedTicks,
    charged: showLength(plan.chargedTicks, units, 'up'),
    used: showLength(plan.usedTicks, units, 'up'),
    lays: sayLays(plan.lays),
    remnant: longest === undefined ? '' : showLength(longest, units, 'down'),
    proof: sayProof(plan, bound, job, units),
    gapBp: gapAbove(plan.chargedArea, bound.chargedArea),
  };
}

/** "No plan of this style of cutting can use less than 12.1 m: …" and how far this plan is from that. */
function sayProof(plan: Cutting, bound: PlanBound, job: PlanJob, units: Units): string {
  const missing = plan.missingStrips === 0 ? '' : sayShortProof(plan, bound);
  if (plan.lays.length === 0) return missing;
  const lots = bound.over === 'these lots' ? ' from these lots' : '';
  const as = plan.missingStrips > 0 ? ' that makes as many strips' : '';
  const gap = gapAbove(plan.chargedArea, bound.chargedArea);
  const none = `No plan of this style of cutting${as}${lots} can use less`;
  const least = showArea(bound.chargedArea, job, units);
  const proof = gap === 0 ? none : `${none} than ${least}; this one is ${showBp(gap)} above that`;
  const skips = job.flaws === 'skip' && job.pieces.some(({ flaws }) => flaws.length > 0);
  const style = `${STYLE}${skips ? ', none across a flaw' : ''}`;
  return `${missing}${missing === '' ? '' : ' '}${proof}. Style of cutting: ${style}.`;
}

/** What is proved of the strips that a plan leaves uncut. */
function sayShortProof(plan: Cutting, bound: PlanBound): string {
  if (isShortProved(plan, bound)) return 'No plan of this style can make more strips.';
  const open = plan.missingStrips - bound.missingStrips;
  const some = bound.missingStrips === 0 ? '' : ` ${open} of`;
  return `No way was found to cut${some} the strips that are short; not proved.`;
}

/** Said before anything is bought; '' where it is proved that the strips cannot be cut. */
export function saySearchLonger(plan: Cutting, bound: PlanBound): string {
  return isShortProved(plan, bound)
    ? ''
    : 'A longer search may still find a way. Try it before you buy cloth.';
}

/** An area as a length where all pieces are of one width, else in m². */
function showArea(area: number, { pieces }: PlanJob, units: Units): string {
  const [width, ...others] = new Set(pieces.map(({ widthTicks }) => widthTicks));
  if (width !== undefined && others.length === 0) return showLength(Math.ceil(area / width), units, 'down');
  return `${showSquareMetres(area)} of cloth`;
}

function showSquareMetres(area: number): string {
  return `${(area / TICKS_PER.m ** 2).toFixed(2)} m²`;
}

function showBp(bp: number): string {
  return `${(bp / 100).toFixed(bp < 1000 ? 2 : 1)} %`;
}

const WISHED: Readonly<Record<Wish, string>> = {
  'fewest lays': 'Fewest different lays',
  'longest remnants': 'Longest remnants',
};

export function sayWish(wish: Wish | 'least length'): string {
  return wish === 'least length' ? 'Least length' : WISHED[wish];
}

/** What a wish costs against the plan that takes least, and what it gains. */
export function sayWishPrice(
  wish: Wish,
  { plan, moreArea, differentLays, leftTicks }: AlternativePlan,
  least: CutPlan,
  units: Units,
): string {
  const gain =
    wish === 'fewest lays'
      ? `set out ${countOf(differentLays, 'time', 'times')}`
      : leftTicks[0] === undefined
        ? 'nothing useful left whole'
        : `longest length left: ${showLength(leftTicks[0], units, 'down')}`;
  if (moreArea === 0) return `${gain}; at no more cloth.`;
  const more = plan.chargedTicks - least.chargedTicks;
  const price = more > 0 ? `${showLength(more, units, 'up')} more` : `${showSquareMetres(moreArea)} more`;
  return `${gain}; ${price}, ${showBp(gapAbove(plan.chargedArea, least.chargedArea))}.`;
}
