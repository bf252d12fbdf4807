import { floorClearance, tierDropsOf } from '../../../src/garment/tier-drops.ts';
import { floorBelowWaist, verticalDropsOf } from '../../../src/garment/vertical-drop.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Garment } from './records.ts';
import { asTier, formOfGarment, placingsOf, tiersIn, type WorkedGarment } from './worked.ts';

/** Where the lower edge of each tier lies, in a sentence by its number: as a drop, and above the floor where that is known. */
export function sayLowerEdges(garment: Garment, units: Units): Map<number, string> {
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const form = formOfGarment(garment);
  const vertical = verticalDropsOf(form);
  const floorTicks = floorBelowWaist(form, garment);
  const drops = tierDropsOf(tiersIn(garment).map(asTier));
  return new Map(
    [...drops.values()].map((drop) => {
      const up = floorTicks === null ? null : floorClearance(vertical, drop, floorTicks);
      const floor = up === null || up < 0 ? '' : `, ${size(up)} above the floor`;
      return [drop.tierId, `Its lower edge lies at a drop of ${size(drop.endTicks)}${floor}.`];
    }),
  );
}

/** Tiers whose place no longer follows from what they are placed by, in sentences. */
export function placingWords({ garment }: WorkedGarment, units: Units): string[] {
  const tiers = tiersIn(garment);
  return [...placingsOf(garment)].flatMap(([tierId, placing]) => {
    const tier = tiers.find(({ id }) => id === tierId);
    if (placing.ok || !tier) return [];
    const drop = showSize(tier.dropTicks ?? 0, units, 'near');
    return [`${tier.name}: ${placing.message} Until then it stays at a drop of ${drop}.`];
  });
}
