import { atShopStep, clothLength, showAtShop } from '../../../src/garment/cloth-length.ts';
import type { Need } from '../../../src/garment/need.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Chip } from '../../kit/chip.ts';
import type { Sewing } from '../../setup/rates/store.ts';
import { sayClothStep, showExact } from '../garment/cloth-words.ts';
import type { Names } from '../garment/names.ts';
import { showStrip } from '../versions/differences.ts';
import type { SewnClothFacts } from './answer-facts.ts';

/** Fresh cloth of one kind and shade, with the working, so that a pencil can check it. */
export interface SewingCloth {
  readonly cloth: string;
  readonly letter: string;
  readonly chip: Chip;
  readonly strips: number;
  /** null where a strip is larger than the cloth is wide, whatever length is bought */
  readonly length: {
    readonly ticks: number;
    readonly exact: string;
    readonly metric: string;
    readonly imperial: string;
  } | null;
  readonly sizes: readonly { readonly size: string; readonly steps: readonly string[] }[];
  /** the lengths of several sizes added up; '' where there is one */
  readonly sum: string;
  readonly trouble: string;
}

/** The length of fresh cloth for a need by the careful hand rule. */
export function shapeCloth(
  need: Need,
  cloth: SewnClothFacts,
  sewing: Sewing,
  names: Names,
  units: Units,
): SewingCloth {
  const found = clothLength(need.demands, cloth.usableWidthTicks);
  const size = (one: { readonly depthTicks: number; readonly lengthTicks: number }) => showStrip(one, units);
  const exact = (ticks: number) => showExact(ticks, units.system);
  const common = {
    cloth: cloth.name,
    letter: names.letter(need.shadeId),
    chip: names.chip(need.shadeId),
    strips: need.strips,
  };
  if (!found.ok) {
    const trouble = `Strips of ${size(found.tooLarge)} do not lie on a cloth of ${showSize(cloth.usableWidthTicks, units, 'down')} usable width.`;
    return { ...common, length: null, sizes: [], sum: '', trouble };
  }
  const { steps, totalTicks } = found;
  const lengths = steps.map(({ lengthTaken }) => exact(lengthTaken));
  return {
    ...common,
    length: {
      ticks: totalTicks,
      exact: exact(totalTicks),
      metric: showAtShop(atShopStep(totalTicks, sewing.metricStepTicks), 'metric'),
      imperial: showAtShop(atShopStep(totalTicks, sewing.imperialStepTicks), 'imperial'),
    },
    sizes: steps.map((step) => ({
      size: size(step),
      steps: sayClothStep(step, cloth.usableWidthTicks, units),
    })),
    sum: steps.length > 1 ? `${lengths.join(' + ')} = ${exact(totalTicks)}` : '',
    trouble: '',
  };
}
