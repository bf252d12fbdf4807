import { fitStrips } from '../../../src/fit/strips.ts';
import type { LotRule } from '../../../src/garment/band.ts';
import type { TierOpening } from '../../../src/garment/opening.ts';
import { sayWanted, type Tier, type WorkedTier } from '../../../src/garment/tiers.ts';
import { sayFullness, showFullness } from '../../../src/quantity/fullness.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { CutFor, HeldFor } from '../garment/done.ts';
import type { Names, TierNames } from '../garment/names.ts';
import type { Garment } from '../garment/records.ts';
import { stripRowsOf } from '../garment/strip-rows.ts';
import { differences, showStrip, type WantedNow } from '../versions/differences.ts';
import { sayWorking } from './working-words.ts';

/** A tier worked out, ready to print. */
export function shapeTier(tier: Tier, worked: WorkedTier, nameOf: TierNames, names: Names, units: Units) {
  const size = (ticks: number, round: 'up' | 'down') => showSize(ticks, units, round);
  const { count, baseTicks, cutDepthTicks } = worked;
  return {
    hangs: sayHanging(tier, worked, nameOf, units),
    closing: sayClosing(worked, units),
    finishedLength: showBase(baseTicks, units),
    cutDepth: size(cutDepthTicks, 'up'),
    figures: [
      {
        label: 'Flat length',
        wanted: size(count.flatWantedTicks, 'up'),
        got: size(count.flatTicks, 'down'),
      },
      {
        label: 'Fullness',
        wanted: `${sayWanted(tier, worked)}×`,
        got: `${showFullness(count.fullnessMilli)}×`,
      },
      ...ratioFigures(tier, worked, nameOf),
    ],
    strips: count.strips,
    shades: shapeStrips(worked, names, units),
    steps: sayWorking(tier, worked, nameOf, units),
  };
}

/** "Ring", "Open", "Open 12 cm down from its upper edge, a ring below; the seam is left unsewn there". */
export function sayClosing({ closing, openTicks, unsewn }: TierOpening, units: Units): string {
  if (closing === 'ring') return 'Ring';
  const left = unsewn ? '; the seam is left unsewn there' : '';
  if (closing === 'open') return `Open${left}`;
  return `Open ${showSize(openTicks, units, 'near')} down from its upper edge, a ring below${left}`;
}

/** The strips of a tier, each cloth and shade by itself. */
export function shapeStrips(worked: WorkedTier, names: Names, units: Units) {
  return wantedNow(worked).map((now, place) => ({
    letter: names.letter(now.shadeId),
    chip: names.chip(now.shadeId),
    cloth: names.cloth(now.clothId),
    size: showStrip(now, units),
    lots: sayLots(worked.count.perShade[place]?.lots ?? 'one'),
    strips: now.count,
  }));
}

export type TierView = ReturnType<typeof shapeTier>;

/** How many times as long as another tier it is, where its fullness is such a ratio. */
function ratioFigures(tier: Tier, worked: WorkedTier, nameOf: TierNames) {
  const { ratioTierId } = tier;
  if (ratioTierId === null) return [];
  const got = Number((BigInt(worked.count.flatTicks) * 1000n) / BigInt(worked.ofTicks));
  const label = `Times ${nameOf(ratioTierId)}`;
  return [{ label, wanted: `${sayFullness(tier)}×`, got: `${showFullness(got)}×` }];
}

/** What is cut and held of the strips of a tier beside what it wants now, per shade in the order of its view. */
export function shapeDone(
  worked: WorkedTier,
  cut: readonly CutFor[],
  held: readonly HeldFor[],
  names: Names,
  units: Units,
  whenHeld: readonly WantedNow[] = [],
) {
  const wanted = wantedNow(worked);
  const nameOf = (clothId: number, shadeId: number) => `${names.cloth(clothId)}, ${names.shade(shadeId)}`;
  return {
    shades: wanted.map((now) => {
      const isMine = (row: CutFor | HeldFor) => row.clothId === now.clothId && row.shadeId === now.shadeId;
      const cutStrips = cut.filter(isMine).reduce((sum, { count }) => sum + count, 0);
      const mine = held.filter(isMine);
      const left = Math.max(0, now.count - cutStrips);
      const heldStrips = fitStrips([{ ...now, count: left }], mine, 'any').madeStrips;
      const heldTicks = mine.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
      return {
        cut: cutStrips,
        held: heldTicks === 0 ? '' : showLength(heldTicks, units, 'down'),
        heldStrips,
        left: left - heldStrips,
      };
    }),
    differences: differences(wanted, cut, held, nameOf, units, whenHeld),
  };
}

export type TierDoneView = ReturnType<typeof shapeDone>;

export function wantedNow(worked: WorkedTier): WantedNow[] {
  return worked.count.perShade.map(({ clothId, shadeId, stripLengthTicks, direction, count, cutAs }) => ({
    tierId: worked.tierId,
    clothId,
    shadeId,
    depthTicks: cutAs?.depthTicks ?? worked.cutDepthTicks,
    lengthTicks: cutAs?.lengthTicks ?? stripLengthTicks,
    direction,
    count,
  }));
}

/** "one lot", "matching lots", "any lots". */
export function sayLots(lots: LotRule): string {
  return { one: 'one lot', meet: 'matching lots', any: 'any lots' }[lots];
}

/** The names of a garment's tiers, and of its parts that are cut of cloth. */
export function tierNamesOf(garment: Pick<Garment, 'code' | 'tiers' | 'parts'>): TierNames {
  const rows = stripRowsOf(garment);
  return (tierId) => rows.find(({ id }) => id === tierId)?.name ?? 'a tier';
}

/** How long the line is that a tier is gathered onto: rounded up, since a band that is too short does not go round. */
export function showBase(baseTicks: number, units: Units): string {
  return showSize(baseTicks, units, 'up');
}

function sayHanging({ hangs }: Tier, { baseTicks }: WorkedTier, nameOf: TierNames, units: Units): string {
  const base = showBase(baseTicks, units);
  switch (hangs.on) {
    case 'edge':
      return `Edges ${nameOf(hangs.tierId)}, whose lower edge is ${base} long`;
    case 'face': {
      const height = showSize(hangs.heightTicks, units, 'near');
      return `Lies on the face of ${nameOf(hangs.tierId)}, ${height} above its lower edge, where it is ${base} long`;
    }
    case 'foundation':
    case 'form': {
      const drop = showSize(hangs.dropTicks, units, 'near');
      const what = hangs.on === 'form' ? 'the form' : 'the foundation layer';
      return `Hangs from ${what} at a drop of ${drop}, where it is ${base} round`;
    }
  }
}
