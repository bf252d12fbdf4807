import { type UsualAllowance, usualEdge, usualSeam } from '../../../src/garment/seams-and-edges.ts';
import { sayFullness } from '../../../src/quantity/fullness.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { writeSize } from '../../../src/quantity/written-length.ts';
import { readKept, type Typed, typedAgain } from '../../kit/typed.ts';
import type { TierRecord } from '../garment/records.ts';

/** A tier of the book as the texts of its form, as they were typed where they were. */
export function tierTexts(tier: TierRecord, units: Units): Typed {
  const kept = readKept(tier.typed);
  const again = (field: string, ticks: number | null) => typedAgain(kept, field, ticks, units);
  // Blank means the usual allowance of its kind: shown blank only where that is still what is stored.
  const allowance = (field: string, ticks: number, usual: UsualAllowance) => {
    const typed = kept?.texts[field];
    if (typed === '' || typed === undefined) return ticks === usual.ticks ? '' : writeSize(ticks, units);
    return again(field, ticks);
  };
  const texts: Record<string, string> = {
    name: tier.name,
    cloth_id: String(tier.clothId),
    hangs: tier.onTierId === null ? tier.hangs : `${tier.hangs}-${tier.onTierId}`,
    // What hangs from the form says its drop, a blank that was read as the waist too.
    drop: again('drop', tier.dropTicks) || (tier.dropTicks === 0 ? '0' : ''),
    height: again('height', tier.heightTicks),
    depth: again('depth', tier.depthTicks),
    overlap: again('overlap', tier.overlapTicks),
    fullness: kept?.texts.fullness ?? sayFullness(tier),
    ratio_tier_id: tier.ratioTierId === null ? '' : String(tier.ratioTierId),
    closing: tier.ring ? 'ring' : 'open',
    seam_kind: tier.seamKind,
    seam: allowance('seam', tier.seamTicks, usualSeam(tier.seamKind, units.system)),
    end: again('end', tier.endTicks),
    heading: again('heading', tier.headingTicks),
    upper_edge: tier.upperEdge,
    hang_seam: allowance('hang_seam', tier.hangSeamTicks, usualEdge(tier.upperEdge, units.system)),
    lower_edge: tier.lowerEdge,
    hem: allowance('hem', tier.hemTicks, usualEdge(tier.lowerEdge, units.system)),
    hem_first: tier.hemFirst ? 'yes' : '',
    direction: tier.direction,
    offset: tier.offsetStrips === 0 ? '' : String(tier.offsetStrips),
    strip_length: again('strip_length', tier.stripLengthTicks),
    finish_repeat: tier.finishRepeat ? 'yes' : '',
    version: String(tier.version),
  };
  tier.blocks.forEach((block, row) => {
    texts[`blocks.${row}.shade_id`] = String(block.shadeId);
    texts[`blocks.${row}.strips`] = String(block.strips);
    texts[`blocks.${row}.cloth_id`] = block.clothId === null ? '' : String(block.clothId);
    texts[`blocks.${row}.lots`] = block.lots === 'one' ? '' : block.lots;
  });
  return texts;
}
