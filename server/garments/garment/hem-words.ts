import type { Form } from '../../../src/garment/girth.ts';
import {
  floorClearance,
  type HungTier,
  levelHemShaping,
  type Overlap,
  overlapsOf,
  tierDropsOf,
} from '../../../src/garment/tier-drops.ts';
import type { TierProblem } from '../../../src/garment/tiers.ts';
import {
  floorBelowWaist,
  type HemHeights,
  isTilted,
  surfaceDropAt,
  verticalDropsOf,
} from '../../../src/garment/vertical-drop.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';

/** Tiers whose lower edge would lie below the floor, each a problem of its depth. */
export function belowFloor(
  form: Form,
  tiers: readonly HungTier[],
  heights: HemHeights,
  units: Units,
): TierProblem[] {
  const { waistHeightTicks } = heights;
  const floorTicks = floorBelowWaist(form, heights);
  if (waistHeightTicks === null || floorTicks === null) return [];
  const why = isTilted(heights)
    ? 'it is deeper than the drops to a level hem allow'
    : `the waist is ${showSize(waistHeightTicks, units, 'near')} above it`;
  return hemsOf(form, tiers, floorTicks).flatMap(({ tierId, upTicks }) => {
    if (upTicks >= 0) return [];
    const below = showSize(-upTicks, units, 'near');
    return [
      { tierId, field: 'depth', message: `Its lower edge would lie ${below} below the floor: ${why}.` },
    ];
  });
}

/** The drop, down the form, that ends as far above the floor as the hem is wanted. */
export function clearanceFacts(
  form: Form,
  heights: HemHeights,
  units: Units,
): { what: string; text: string }[] {
  const { waistHeightTicks, clearanceTicks } = heights;
  if (waistHeightTicks === null || clearanceTicks === null || isTilted(heights)) return [];
  const dropTicks = surfaceDropAt(verticalDropsOf(form), waistHeightTicks - clearanceTicks);
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return [{ what: `Drop to ${size(clearanceTicks)} above the floor`, text: size(dropTicks) }];
}

/** Tiers that hang nearer to the floor than is wanted, in sentences. */
export function nearFloor(
  form: Form,
  tiers: readonly HungTier[],
  heights: HemHeights,
  units: Units,
  isMeant: (tierId: number) => boolean = () => true,
): string[] {
  const { clearanceTicks } = heights;
  const floorTicks = floorBelowWaist(form, heights);
  if (floorTicks === null || clearanceTicks === null) return [];
  return hemsOf(form, tiers, floorTicks).flatMap(({ tierId, name, upTicks }) => {
    if (!isMeant(tierId) || upTicks < 0 || upTicks >= clearanceTicks) return [];
    const [up, wanted] = [upTicks, clearanceTicks].map((ticks) => showSize(ticks, units, 'near'));
    return [`${name} ends ${up} above the floor, and ${wanted} are wanted clear.`];
  });
}

function hemsOf(form: Form, tiers: readonly HungTier[], floorTicks: number) {
  const vertical = verticalDropsOf(form);
  const drops = tierDropsOf(tiers);
  return tiers.flatMap(({ tierId, name }) => {
    const drop = drops.get(tierId);
    return drop ? [{ tierId, name, upTicks: floorClearance(vertical, drop, floorTicks) }] : [];
  });
}

/** Where tiers leave the form bare above the next, or cover it by less than they are meant to, in sentences. */
export function coverWords(
  tiers: readonly (HungTier & { readonly overlapTicks: number })[],
  units: Units,
  isMeant: (cover: Overlap) => boolean = () => true,
): string[] {
  const byId = new Map(tiers.map((tier) => [tier.tierId, tier]));
  const nameOf = (id: number) => byId.get(id)?.name ?? '';
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return overlapsOf(tiers)
    .filter(isMeant)
    .flatMap(({ aboveId, reachingId, belowId, dropTicks, overTicks }) => {
      const wantedTicks = byId.get(aboveId)?.overlapTicks ?? 0;
      if (overTicks < 0) {
        return [
          `${size(-overTicks)} of the form are bare between the lower edge of ${nameOf(reachingId)} and ${nameOf(belowId)}, which hangs at a drop of ${size(dropTicks)}.`,
        ];
      }
      if (overTicks >= wantedTicks) return [];
      return [
        `${nameOf(reachingId)} covers ${nameOf(belowId)} by ${size(overTicks)}, and ${size(wantedTicks)} are wanted.`,
      ];
    });
}

/** How the tier that makes a level hem over a tilted form is shaped, and whether it is deep enough, in sentences. */
export function levelHemWords(tiers: readonly HungTier[], heights: HemHeights, units: Units): string[] {
  const { frontDropTicks: frontTicks, sideDropTicks: sideTicks, backDropTicks: backTicks } = heights;
  if (frontTicks === null || sideTicks === null || backTicks === null) return [];
  const drops = tierDropsOf(tiers);
  const endOf = ({ tierId }: HungTier) => drops.get(tierId)?.endTicks ?? 0;
  const [lowest] = [...tiers].sort((a, b) => endOf(b) - endOf(a));
  if (!lowest) return [];
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const { longestTicks, ...off } = levelHemShaping({ frontTicks, sideTicks, backTicks });
  const taken = [
    ['at the front', off.frontTicks],
    ['at the sides', off.sideTicks],
    ['at the back', off.backTicks],
  ] as const;
  const parts = taken.filter(([, ticks]) => ticks > 0).map(([where, ticks]) => `${size(ticks)} ${where}`);
  const words: string[] = [];
  if (endOf(lowest) !== longestTicks) {
    words.push(
      `${lowest.name} ends at a drop of ${size(endOf(lowest))}, and the longest drop to a level hem is ${size(longestTicks)}.`,
    );
  }
  if (parts.length > 0) {
    words.push(
      `For a level hem take ${parts.join(' and ')} off the upper edge of ${rootName(tiers, lowest, drops)} before it is gathered.`,
    );
  }
  return words;
}

/** What is sewn on another tier is straight: the tier that hangs from the form is shaped. */
function rootName(tiers: readonly HungTier[], tier: HungTier, drops: ReturnType<typeof tierDropsOf>): string {
  const rootId = drops.get(tier.tierId)?.rootId;
  return tiers.find(({ tierId }) => tierId === rootId)?.name ?? tier.name;
}
