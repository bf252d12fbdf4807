import type { ClothStep } from '../../../src/garment/cloth-length.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { countOf } from '../../kit/words.ts';
import { pencilUnits } from '../tier/working-words.ts';

/** A length of cloth to the millimetre or to a thirty-second of an inch, rounded up. */
export function showExact(lengthTicks: number, system: Units['system']): string {
  return showLength(lengthTicks, { system, stepTicks: FINE_TICKS[system] }, 'up');
}

const FINE_TICKS = { metric: TICKS_PER.mm, imperial: TICKS_PER.in / 32 } as const;

/** How strips of one size come off the cloth, line by line, so that a pencil can check it. */
export function sayClothStep(step: ClothStep, usableWidthTicks: number, units: Units): string[] {
  const size = (ticks: number) => showSize(ticks, pencilUnits(units), 'near');
  const { lies, acrossTicks, columns, drops, dropTicks, count, lengthTaken } = step;
  const [across, along] = lies === 'across' ? ['length', 'depth'] : ['depth', 'length'];
  const beside = usableWidthTicks - columns * acrossTicks;
  return [
    `The length of a strip lies ${lies} the cloth`,
    `${size(usableWidthTicks)} usable width ÷ ${size(acrossTicks)} strip ${across}, rounded down: ${countOf(columns, 'strip', 'strips')} in a drop${beside > 0 ? `, ${size(beside)} left beside` : ''}`,
    `${countOf(count, 'strip', 'strips')} ÷ ${columns}, rounded up: ${countOf(drops, 'drop', 'drops')}`,
    `${countOf(drops, 'drop', 'drops')} × ${size(dropTicks)} strip ${along} = ${size(lengthTaken)} of cloth`,
  ];
}
