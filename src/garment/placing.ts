/** Where a tier is pinned by its lower edge: the line that it is sewn to follows from its depth. Lengths in ticks. */
import type { Form } from './girth.ts';
import { type HungTier, tierDropsOf } from './tier-drops.ts';
import { surfaceDropAt, verticalDropsOf } from './vertical-drop.ts';

/**
 * What places a tier on the form: the drop of its upper edge, the drop of its lower edge, the height of that above the
 * floor, or the lower edge of another tier that it is level with.
 */
export const PLACED_BY = ['upper', 'lower', 'floor', 'level'] as const;
export type PlacedBy = (typeof PLACED_BY)[number];

export interface PlacedTier extends HungTier {
  readonly placedBy: PlacedBy;
  /** the drop of its lower edge, or the height of that above the floor */
  readonly placedTicks: number | null;
  readonly levelTierId: number | null;
  /** the drop of its lower edge as it was measured on the stand: what is level with it follows that */
  readonly madeTicks?: number | null;
}

/** The drop of the line that a tier is sewn to, or why it does not follow. */
export type Placing =
  | { readonly ok: true; readonly dropTicks: number }
  | { readonly ok: false; readonly field: 'placed' | 'depth'; readonly message: string };

const NO_WAIST = 'Give how high the waist is above the floor, in name and form: it is measured from there.';
const ABOVE_WAIST = 'Its lower edge would lie above the waist.';
const TOO_DEEP = 'It is deeper than its lower edge lies below the waist.';
const GONE = 'The tier that it is level with is not there.';
const LOOP = 'It is level with a tier whose place follows from it: place one of them by a drop.';

/**
 * The drops of the tiers that are placed by their lower edge, whichever way; others are left out. A tier that is level
 * with a ruffle follows the ruffle's lower edge, and with it the depth and place of what the ruffle hangs on. A height
 * above the floor is turned into a drop down the surface of the form (`surfaceDropAt`).
 */
export function placeTiers(
  form: Form,
  waistHeightTicks: number | null,
  tiers: readonly PlacedTier[],
): Map<number, Placing> {
  const found = new Map<number, Placing>();
  const vertical = verticalDropsOf(form);
  let now: readonly PlacedTier[] = tiers;
  let waiting = tiers.filter(({ hangs, placedBy }) => isOnForm(hangs) && placedBy !== 'upper');
  for (let before = -1; before < found.size; ) {
    before = found.size;
    const drops = tierDropsOf(now);
    const open = new Set(waiting.map(({ tierId }) => tierId));
    const ready = waiting.flatMap((tier): [PlacedTier, Placing][] => {
      if (tier.placedBy !== 'level')
        return [[tier, placed(tier, edgeTicks(tier, vertical, waistHeightTicks))]];
      const target = drops.get(tier.levelTierId ?? 0);
      if (!target) return [[tier, { ok: false, field: 'placed', message: GONE }]];
      const madeTicks = tiers.find(({ tierId }) => tierId === tier.levelTierId)?.madeTicks ?? null;
      if (madeTicks !== null) return [[tier, placed(tier, madeTicks)]];
      return open.has(target.rootId) ? [] : [[tier, placed(tier, target.endTicks)]];
    });
    for (const [{ tierId }, placing] of ready) found.set(tierId, placing);
    waiting = waiting.filter(({ tierId }) => !found.has(tierId));
    now = tiers.map((tier) => atDrop(tier, found.get(tier.tierId)));
  }
  for (const { tierId } of waiting) found.set(tierId, { ok: false, field: 'placed', message: LOOP });
  return found;
}

/** Where the lower edge of a tier is to lie, as a drop; a text says why that is not known. */
function edgeTicks(
  { placedBy, placedTicks }: PlacedTier,
  vertical: ReturnType<typeof verticalDropsOf>,
  waistHeightTicks: number | null,
): number | string {
  if (placedBy === 'lower') return placedTicks ?? 0;
  if (waistHeightTicks === null) return NO_WAIST;
  const below = waistHeightTicks - (placedTicks ?? 0);
  return below < 0 ? ABOVE_WAIST : surfaceDropAt(vertical, below);
}

function placed({ depthTicks }: PlacedTier, edge: number | string): Placing {
  if (typeof edge === 'string') return { ok: false, field: 'placed', message: edge };
  const dropTicks = edge - depthTicks;
  return dropTicks < 0 ? { ok: false, field: 'depth', message: TOO_DEEP } : { ok: true, dropTicks };
}

function isOnForm({ on }: HungTier['hangs']): boolean {
  return on === 'form' || on === 'foundation';
}

/** A tier at the drop that was found for it; as it is where none was. */
function atDrop(tier: PlacedTier, placing: Placing | undefined): PlacedTier {
  const { hangs } = tier;
  if (!placing?.ok || hangs.on === 'edge' || hangs.on === 'face') return tier;
  return { ...tier, hangs: { on: hangs.on, dropTicks: placing.dropTicks } };
}
