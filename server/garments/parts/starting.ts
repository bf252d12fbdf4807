import type { WorkedTier } from '../../../src/garment/tiers.ts';
import type { LengthUnit } from '../../../src/quantity/length.ts';
import { writeSize } from '../../../src/quantity/written-length.ts';
import type { Typed } from '../../kit/typed.ts';
import { unitsOf } from '../../kit/units.ts';
import { tiersIn, type WorkedGarment } from '../garment/worked.ts';
import type { Part } from './describing.ts';

/** Kinds that can take their lengths from a tier. */
const OF_A_TIER = ['flounce', 'pleats', 'bias', 'trim', 'gathering'];

export const isOfTier = ({ slug }: Part): boolean => OF_A_TIER.includes(slug);

/** A part's form filled in with what the garment says already: its waist and opening, its hoops, or the lengths of a tier. */
export function startingFrom(
  part: Part,
  { garment, tiers }: WorkedGarment,
  tierId: number | null,
  unit: LengthUnit,
): Typed {
  const size = (ticks: number | null | undefined) =>
    ticks === null || ticks === undefined ? '' : writeSize(ticks, unitsOf(unit));
  const common = { ...part.usual(unit), name: part.title, pieces: '1' };
  if (part.slug === 'closing') {
    const { openingTicks, fastenerTicks, overTicks, girths } = garment;
    const opening =
      openingTicks === null ? {} : { opening: size(openingTicks), spacing: size(fastenerTicks) };
    return { ...common, waist: size(girths[0]?.girthTicks), ...opening, pull_over: size(overTicks) };
  }
  if (part.slug === 'cage') {
    const hooped = garment.girths.filter(({ hoopWidthTicks }) => hoopWidthTicks !== null);
    const hoops = hooped.length > 0 ? hooped : garment.girths.slice(1);
    const girths = hoops.map(({ girthTicks }) => size(girthTicks)).join(', ');
    return { ...common, girths, drop: size(hoops.at(-1)?.dropTicks) };
  }
  const worked = tiers.find((tier) => tier.tierId === tierId);
  const tier = tiersIn(garment).find(({ id }) => id === tierId);
  if (!worked || !tier) return common;
  return {
    ...common,
    name: `${part.title} of ${worked.name}`.slice(0, 80),
    cloth_id: String(tier.clothId),
    ...lengthsOf(part, worked, size),
  };
}

function lengthsOf(
  { slug }: Part,
  { baseTicks, closing, count }: WorkedTier,
  size: (ticks: number | null | undefined) => string,
): Typed {
  const lower = size(count.lowerTicks);
  switch (slug) {
    case 'flounce':
      return { seam: lower };
    case 'pleats':
      return { finished: lower, closing: closing === 'open' ? 'open' : 'ring' };
    case 'bias':
      return { length: lower };
    case 'gathering':
      return { flat: size(count.flatTicks), finished: size(baseTicks) };
    default:
      return { edge: lower };
  }
}
