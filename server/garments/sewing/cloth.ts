import { atShopStep, clothLength, showAtShop } from '../../../src/garment/cloth-length.ts';
import type { Need } from '../../../src/garment/need.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Sewing } from '../../setup/rates/store.ts';
import type { Names } from '../garment/names.ts';
import { sayClothStep, showExact } from '../tier/working-words.ts';
import { showStrip } from '../versions/differences.ts';
import type { SewnClothFacts } from './facts.ts';

/**
 * The length of fresh cloth for a need by the careful hand rule, with the working, so that a pencil can check it. It has
 * no length where a strip is larger than the cloth is wide, whatever length is bought.
 */
export function shapeCloth(need: Need, cloth: SewnClothFacts, sewing: Sewing, names: Names, units: Units) {
  const found = clothLength(need.demands, cloth.usableWidthTicks);
  const size = (one: { readonly depthTicks: number; readonly lengthTicks: number }) => showStrip(one, units);
  const exact = (ticks: number) => showExact(ticks, units.system);
  const steps = found.ok ? found.steps : [];
  const shopLengths = (ticks: number) => ({
    ticks,
    exact: exact(ticks),
    metric: showAtShop(atShopStep(ticks, sewing.metricStepTicks), 'metric'),
    imperial: showAtShop(atShopStep(ticks, sewing.imperialStepTicks), 'imperial'),
  });
  return {
    cloth: cloth.name,
    letter: names.letter(need.shadeId),
    chip: names.chip(need.shadeId),
    strips: need.strips,
    length: found.ok ? shopLengths(found.totalTicks) : null,
    sizes: steps.map((step) => ({
      size: size(step),
      steps: sayClothStep(step, cloth.usableWidthTicks, units),
    })),
    /** The lengths of several sizes added up; '' where there is one. */
    sum:
      found.ok && steps.length > 1
        ? `${steps.map(({ lengthTaken }) => exact(lengthTaken)).join(' + ')} = ${exact(found.totalTicks)}`
        : '',
    trouble: found.ok
      ? ''
      : `Strips of ${size(found.tooLarge)} do not lie on a cloth of ${showSize(cloth.usableWidthTicks, units, 'down')} usable width.`,
  };
}
