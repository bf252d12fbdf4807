import { warnForm } from '../../../src/garment/form.ts';
import { tierDropsOf } from '../../../src/garment/tier-drops.ts';
import { sayWanted } from '../../../src/garment/tiers.ts';
import { showFullness } from '../../../src/quantity/fullness.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { belowFloor, coverWords, levelHemWords, nearFloor } from './hem-words.ts';
import { openingWords } from './opening.ts';
import { placingWords } from './place.ts';
import { asTier, formOfGarment, tiersIn, type WorkedGarment } from './worked.ts';

/** What is possible but seldom meant, in sentences, and what would lie on the floor. */
export function warningsOf(worked: WorkedGarment, units: Units): string[] {
  const { garment } = worked;
  const records = tiersIn(garment);
  const onFloor = belowFloor(formOfGarment(garment), records.map(asTier), garment, units);
  const nameOf = (tierId: number) => records.find(({ id }) => id === tierId)?.name ?? '';
  return [
    ...onFloor.map(({ tierId, message }) => `${nameOf(tierId)}: ${message}`),
    ...cautionsOf(worked, units),
  ];
}

/** What is possible but seldom meant, in sentences. */
export function cautionsOf(worked: WorkedGarment, units: Units): string[] {
  const { garment } = worked;
  const form = formOfGarment(garment);
  const tiers = tiersIn(garment).map((tier) => ({ ...asTier(tier), overlapTicks: tier.overlapTicks }));
  return [
    ...narrowing(worked, units),
    ...coverWords(tiers, units),
    ...belowTheForm(worked, units),
    ...nearFloor(form, tiers, garment, units),
    ...levelHemWords(tiers, garment, units),
    ...fullerThanWanted(worked),
    ...openingWords(worked, units),
    ...placingWords(worked, units),
  ];
}

function narrowing({ garment }: WorkedGarment, units: Units): string[] {
  return warnForm(formOfGarment(garment)).map(({ row, fromGirthTicks, toGirthTicks }) => {
    const drop = showSize(garment.girths[row]?.dropTicks ?? 0, units, 'near');
    const [from, to] = [fromGirthTicks, toGirthTicks].map((ticks) => showSize(ticks, units, 'near'));
    return `The form narrows from ${from} to ${to} at a drop of ${drop}. Was it measured so?`;
  });
}

function belowTheForm({ garment }: WorkedGarment, units: Units): string[] {
  const lowest = garment.girths.at(-1)?.dropTicks ?? 0;
  const tiers = tiersIn(garment);
  const drops = tierDropsOf(tiers.map(asTier));
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return tiers.flatMap((tier) => {
    const hem = drops.get(tier.id)?.endTicks ?? tier.depthTicks;
    if (hem <= lowest) return [];
    return [
      `${tier.name} reaches a drop of ${size(hem)}, and the form was measured to ${size(lowest)}: it hangs free below that.`,
    ];
  });
}

function fullerThanWanted({ garment, tiers }: WorkedGarment): string[] {
  return tiers.flatMap((found) => {
    const { tierId, name, count } = found;
    const tier = garment.tiers.find(({ id }) => id === tierId);
    if (!tier || count.strips === count.leastStrips) return [];
    const [got, wanted] = [showFullness(count.fullnessMilli), sayWanted(tier, found)];
    return [
      `${name} is ${got}× full instead of ${wanted}×, as its repeat of ${count.repeatStrips} strips is finished.`,
    ];
  });
}
