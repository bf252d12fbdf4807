import { differentLays } from '../../../src/cut-plan/plan.ts';
import { toSquareMetres } from '../../../src/quantity/area.ts';
import { toMillimetres, type Units } from '../../../src/quantity/length-show.ts';
import { shapeCure } from '../plan/cure-words.ts';
import { sayWish, sayWishPrice } from '../plan/figures.ts';
import type { QuickAnswer } from './answer.ts';
import type { QuickAsked } from './form.ts';

/** What a wish costs: the plan that is shown against the plan that takes least. */
export function shapeQuickWish({ least, alternative }: QuickAnswer, units: Units) {
  if (alternative === null) return null;
  const { plan, wish, moreArea, leftTicks } = alternative;
  return {
    wish,
    said: `${sayWish(wish)}: ${sayWishPrice(wish, alternative, least, units)}`,
    moreMm: toMillimetres(plan.chargedTicks - least.chargedTicks),
    moreM2: toSquareMetres(moreArea),
    leastChargedMm: toMillimetres(least.chargedTicks),
    leastChargedM2: toSquareMetres(least.chargedArea),
    leastDifferentLays: differentLays(least.lays),
    /** useful lengths left of all pieces, cut or not, the longest first */
    leftMm: leftTicks.map(toMillimetres),
  };
}

/** What would cure a short plan, with the effect that was worked out by planning it so. */
export function shapeQuickCures(asked: QuickAsked, answer: QuickAnswer, units: Units) {
  const { job, kindNames } = asked;
  const tier = (kindId: number) => kindNames[kindId] ?? '';
  const hrefs = { garment: '', order: '', straddle: '' };
  const context = { job, short: answer.least, units, tier, hrefs };
  return answer.cures.map((cure) => {
    const { what, effect, shortStrips } = shapeCure(cure, context);
    return {
      kind: cure.kind,
      what,
      effect,
      missingStrips: shortStrips,
      chargedMm: toMillimetres(cure.plan.chargedTicks),
      chargedM2: toSquareMetres(cure.plan.chargedArea),
      /** to buy; 0 where nothing is bought */
      buyMm: cure.kind === 'buy' ? toMillimetres(cure.buyTicks) : 0,
      /** strips that would be shorter, by their number in what was asked */
      shorter:
        cure.kind === 'shorter strips'
          ? cure.kinds.map(({ kindId, lengthTicks }) => ({
              strip: kindId + 1,
              lengthMm: toMillimetres(lengthTicks),
            }))
          : [],
    };
  });
}
