import type { BathPlan } from '../../../src/dye/bath-plan.ts';
import type { SplitOption } from '../../../src/dye/splitting.ts';
import { displacedUl } from '../../../src/dye/splitting.ts';
import { fillMl } from '../../../src/dye/vessel.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { countOf } from '../../kit/words.ts';
import { showUl } from './volumes.ts';

interface OfVessel {
  readonly name: string;
  readonly volumeMl: number;
  readonly temperatureC: number;
  /** true where strips are counted */
  readonly counted: boolean;
}

export type ShownSplit = ReturnType<typeof showSplit>;

/** How a bath is shared over vessel loads, and the other ways of doing it. */
export function showSplit(plan: BathPlan, vessel: OfVessel) {
  const largest = [...plan.baths].sort((a, b) => b.volumeUl - a.volumeUl)[0] ?? plan.bath;
  const pushedUl = displacedUl(largest.massMg);
  return {
    count: plan.baths.length,
    vessel: vessel.name,
    /** how full the vessel may be, and how full the largest load makes it, as sums */
    fill: sayFill(vessel, plan.fillMl ?? vessel.volumeMl),
    load: `Liquor ${showUl(largest.volumeUl)} and cloth ${showUl(pushedUl)} (0.7 L a kilogram, common practice) make ${showUl(largest.volumeUl + pushedUl)}.`,
    options:
      plan.options.length > 1
        ? plan.options.map((option) => ({
            baths: String(option.parts.length),
            what: sayOption(option),
            taken: option.parts.join() === plan.parts.join(),
          }))
        : [],
  };
}

/** "At 98 °C it is filled to 20 L at most, cloth included: two thirds of it (common practice)." */
export function sayFill(
  { temperatureC, volumeMl }: Pick<OfVessel, 'temperatureC' | 'volumeMl'>,
  holdsMl: number,
): string {
  const boils = holdsMl === fillMl(volumeMl, 100);
  return `At ${temperatureC} °C it is filled to ${showVolume(holdsMl, 'down')} at most, cloth included: ${boils ? 'two thirds' : 'three quarters'} of it (common practice).`;
}

/** "Enamel pot, 12 L. At 98 °C it is filled to 8 L at most, cloth included: …" */
export function sayPot(
  pot: { readonly name: string; readonly volumeMl: number },
  temperatureC: number,
): string {
  const { name, volumeMl } = pot;
  const fill = sayFill({ temperatureC, volumeMl }, fillMl(volumeMl, temperatureC));
  return `${name}, ${showVolume(volumeMl, 'near')}. ${fill}`;
}

/** "4 strips in each", "5, 5 and 4 strips: unequal", "5 strips in each, 1 more than wanted". */
export function sayOption({ parts, equal, addedStrips }: SplitOption): string {
  if (!equal) return `${listed(parts)} strips: each bath weighed for itself`;
  const more = addedStrips === 0 ? '' : `, ${addedStrips} more than wanted`;
  return `${countOf(parts[0] ?? 0, 'strip', 'strips')} in each, all alike${more}`;
}

function listed(parts: readonly number[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}
