import { describe, expect, it } from 'vitest';
import { shapePlanFigures } from '../../../../server/cutting-table/plan/figures.ts';
import type { QuickAnswer } from '../../../../server/cutting-table/quick/answer.ts';
import type { QuickAsked } from '../../../../server/cutting-table/quick/form.ts';
import { quickResult } from '../../../../server/cutting-table/quick/result.ts';
import { planCuts } from '../../../../src/cut-plan/planner.ts';
import { METRIC } from '../../../../src/quantity/length-show.ts';
import { job, kind, LITTLE, piece } from '../../../src/cut-plan/small-jobs.ts';

/** Five strips of which the piece gives three, with a proof for some of the two that are missing. */
function shortOf(leastMissing: number) {
  const asked = job({
    kinds: [kind(0, { count: 5, lengthTicks: 10 })],
    pieces: [piece(0, { lengthTicks: 7 })],
  });
  const plan = planCuts(asked, LITTLE);
  expect(plan.missingStrips).toBe(2);
  return { asked, plan: { ...plan, bound: { ...plan.bound, missingStrips: leastMissing } } };
}

function quickly(leastMissing: number) {
  const { asked, plan } = shortOf(leastMissing);
  const answer: QuickAnswer = { plan, least: plan, stopped: '', alternative: null, cures: [] };
  const form = { job: asked, kindNames: [''], lotNames: [''], plies: 1 } as unknown as QuickAsked;
  return quickResult(form, answer, METRIC);
}

describe('strips for which no way was found', () => {
  it('cannot be cut only where that is proved', () => {
    expect(quickly(2)).toMatchObject({
      said: '2 of 5 strips cannot be cut. No plan of this style can make more.',
      leastMissingStrips: 2,
      searchLonger: '',
    });
    expect(quickly(0)).toMatchObject({
      said: 'No way was found to cut 2 of 5 strips; not proved.',
      leastMissingStrips: 0,
      searchLonger: 'A longer search may still find a way. Try it before you buy cloth.',
    });
    expect(quickly(1)).toMatchObject({
      said: '1 of 5 strips cannot be cut. No way was found to cut 1 more; not proved.',
      leastMissingStrips: 1,
      searchLonger: expect.stringContaining('longer search'),
    });
  });

  it('are told of in the same way on the plan of a garment', () => {
    const figures = (least: number) => {
      const { asked, plan } = shortOf(least);
      return shapePlanFigures(plan, plan.bound, asked, METRIC);
    };
    expect(figures(2).proof).toMatch(/^No plan of this style can make more strips\. /);
    expect(figures(0).proof).toMatch(/^No way was found to cut the strips that are short; not proved\. /);
    expect(figures(1).proof).toMatch(
      /^No way was found to cut 1 of the strips that are short; not proved\. /,
    );
    expect(figures(1)).toMatchObject({ missingStrips: 2, leastMissingStrips: 1 });
  });
});
