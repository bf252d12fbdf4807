import type { ClothStep } from '../../../src/garment/cloth-length.ts';
import type { Tier, WorkedTier } from '../../../src/garment/tiers.ts';
import type { WorkingStep } from '../../../src/garment/working.ts';
import { sayFullness, showFullness } from '../../../src/quantity/fullness.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { countOf } from '../../kit/words.ts';
import type { TierNames } from '../garment/names.ts';

/** A tenth of a millimetre and a thirty-second of an inch: a pencil checks a working, so it is finer than a tape. */
const PENCIL_STEP_TICKS = { metric: 16, imperial: 127 } as const;

/** How a tier was worked out, line by line, with its numbers, as a pencil would go. */
export function sayWorking(tier: Tier, worked: WorkedTier, nameOf: TierNames, units: Units): string[] {
  const size = (ticks: number) => showSize(ticks, pencilUnits(units), 'near');
  return [
    sayDepth(tier, worked, size),
    ...worked.count.steps.map((step) => say(step, tier, worked, nameOf, size)),
  ];
}

/** Units to the pencil's step. */
export function pencilUnits({ system }: Units): Units {
  return { system, stepTicks: PENCIL_STEP_TICKS[system] };
}

type Show = (ticks: number) => string;

function sayDepth(tier: Tier, worked: WorkedTier, size: Show): string {
  const parts = [
    [tier.depthTicks, 'finished'],
    [tier.headingTicks, 'heading'],
    [tier.hangSeamTicks, 'gathering seam allowance'],
    [tier.hemTicks, 'hem'],
  ] as const;
  const shown = parts.filter(([ticks]) => ticks > 0).map(([ticks, what]) => `${size(ticks)} ${what}`);
  return `${shown.join(' + ')} = ${size(worked.cutDepthTicks)} cut depth`;
}

function say(step: WorkingStep, tier: Tier, worked: WorkedTier, nameOf: TierNames, size: Show): string {
  switch (step.kind) {
    case 'wanted': {
      const base = sayBase(tier, nameOf);
      const times = `× ${sayFullness(step)} full`;
      return `${size(step.ofTicks)} ${base} ${times} = ${size(step.wantedTicks)} flat, wanted`;
    }
    case 'ends': {
      const ends = `2 × ${size(step.endTicks)} end`;
      const why =
        worked.closing === 'partly' ? 'as one seam is open above' : 'as there is one seam fewer than strips';
      const seam = `2 × ${size(step.seamTicks)} seam, ${why}`;
      return `${size(step.wantedTicks)} + ${ends} − ${seam} = ${size(step.toJoinTicks)} to join`;
    }
    case 'strip':
      return `${size(step.stripLengthTicks)} strip − 2 × ${size(step.seamTicks)} seam = ${size(step.givesTicks)} from each strip`;
    case 'count':
      return `${size(step.toJoinTicks)} ÷ ${size(step.givesTicks)} ${sayQuotient(step.toJoinTicks, step.givesTicks)}, so ${countOf(step.strips, 'strip', 'strips')}`;
    case 'walk':
      return `The order of ${countOf(step.repeatStrips, 'strip', 'strips')} gives ${size(step.repeatTicks)} each time round; ${countOf(step.strips, 'strip', 'strips')} of it reach ${size(step.toJoinTicks)}`;
    case 'finish':
      return `${countOf(step.leastStrips, 'strip', 'strips')} made up to whole repeats of ${step.repeatStrips}: ${countOf(step.strips, 'strip', 'strips')}`;
    case 'got':
      return `${sayFlat(tier, worked, size)}; ${size(step.flatTicks)} ÷ ${size(step.baseTicks)} ${sayQuotient(step.flatTicks, step.baseTicks)}, the fullness got`;
  }
}

/** What the fullness multiplies. */
function sayBase({ hangs, ratioTierId }: Tier, nameOf: TierNames): string {
  if (ratioTierId !== null) return `of ${nameOf(ratioTierId)}, flat,`;
  return { form: 'girth', foundation: 'girth of the foundation', edge: 'edge', face: 'face' }[hangs.on];
}

/** What all the strips come to, where they are of one length and the product can be checked. */
function sayFlat(tier: Tier, worked: WorkedTier, size: Show): string {
  const { count } = worked;
  const lengths = new Set(count.perShade.map(({ stripLengthTicks }) => stripLengthTicks));
  const [lengthTicks] = lengths;
  const flat = `${size(count.flatTicks)} flat, got`;
  if (lengthTicks === undefined || lengths.size > 1) return flat;
  const joined = `${count.strips} × ${size(lengthTicks - 2 * tier.seamTicks)}`;
  if (worked.closing === 'ring') return `${joined} = ${flat}`;
  return `${joined} − 2 × ${size(worked.endTicks)} end + 2 × ${size(tier.seamTicks)} seam = ${flat}`;
}

/** A quotient to three places, marked where it goes on; one just above a whole number says so. */
function sayQuotient(ticks: number, byTicks: number): string {
  const milli = (BigInt(ticks) * 1000n) / BigInt(byTicks);
  const exact = milli * BigInt(byTicks) === BigInt(ticks) * 1000n;
  const whole = milli / 1000n;
  if (milli !== whole * 1000n) return `${exact ? '=' : '≈'} ${showFullness(Number(milli))}`;
  return exact ? `= ${whole} exactly` : `is a little over ${whole}`;
}

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
    `${size(usableWidthTicks)} usable width ÷ ${size(acrossTicks)} strip ${across}, rounded down: ${countOf(columns, 'strip', 'strips')} in a cut length${beside > 0 ? `, ${size(beside)} left beside` : ''}`,
    `${countOf(count, 'strip', 'strips')} ÷ ${columns}, rounded up: ${countOf(drops, 'cut length', 'cut lengths')}`,
    `${countOf(drops, 'cut length', 'cut lengths')} × ${size(dropTicks)} strip ${along} = ${size(lengthTaken)} of cloth`,
  ];
}
