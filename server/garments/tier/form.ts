import { type UsualAllowance, usualEdge, usualSeam } from '../../../src/garment/seams-and-edges.ts';
import { type Overlap, overlapsOf } from '../../../src/garment/tier-drops.ts';
import { sayFullness } from '../../../src/quantity/fullness.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { writeSize } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { countTyped, drawFields } from '../../kit/form-drawing.ts';
import { garmentPath, tierPath, tierPlace } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { readKept, type Typed, typedAgain } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { saysMore } from '../garment/form.ts';
import type { Garment, TierRecord } from '../garment/records.ts';
import { asTier, tiersIn } from '../garment/worked.ts';
import { MOST_BLOCKS, readTierChoices, tierFields } from './fields.ts';
import { NEW_TIER } from './planned.ts';
import type { Preview } from './preview.ts';
import { USUAL_TEXTS } from './seam-and-edge-words.ts';

const FIRST_ROWS = 2;
const SPARE_ROWS = 1;
const MORE_ROWS = 3;

export interface TierFormState {
  readonly garment: Garment;
  /** null for a new tier */
  readonly tier: TierRecord | null;
  readonly typed: Typed | null;
  readonly preview: Preview;
  /** what is held or cut for the tier that is being changed; '' where nothing is */
  readonly inUse: string;
}

/** The form of a tier: the usual figures, as the book has it, or as it was typed. */
export function tierFormPage(reader: Reader, units: Units, state: TierFormState) {
  const { garment, tier, typed } = state;
  const shown = typed ?? (tier ? typedTier(tier, units) : usualTier(garment, units));
  const choices = readTierChoices(reader, garment, tier?.id ?? NEW_TIER);
  const fields = drawFields(tierFields(units, choices), shown, { blocks: countBlockRows(shown, typed) });
  const data = {
    requestKey: mintKey(),
    action: tier ? tierPath(garment.code, tier.id) : `${garmentPath(garment.code)}/tiers/new`,
    cancel: tier ? tierPlace(garment.code, tier.id) : garmentPath(garment.code),
    garment: { code: garment.code, name: garment.name, href: garmentPath(garment.code) },
    fields,
    moreRows: fields.blocks.length < MOST_BLOCKS,
    more: openParts(shown, units),
    preview: state.preview,
    inUse: state.inUse,
    hasBelow: tier !== null && overlapsOf(tiersIn(garment).map(asTier)).some((cover) => isAbove(cover, tier)),
  };
  const title = tier ? `${tier.name} of ${garment.name}` : `New tier of ${garment.name}`;
  return { view: 'garments/tier/tier', data, title, room: 'garments' } satisfies Page;
}

function isAbove({ aboveId, reachingId, belowId }: Overlap, { id }: TierRecord): boolean {
  return id !== belowId && (id === aboveId || id === reachingId);
}

function usualTier(garment: Garment, units: Units): Typed {
  const last = tiersIn(garment).at(-1);
  return {
    ...USUAL_TEXTS[units.system],
    hangs: 'form',
    placed: 'upper',
    closing: 'ring',
    opening_way: last?.openingWay ?? 'finished',
    seam_kind: last?.seamKind ?? 'plain',
    upper_edge: 'seam',
    lower_edge: last?.lowerEdge ?? 'narrow',
    direction: 'across',
    cloth_id: last ? String(last.clothId) : '',
  };
}

/** Rows for colour blocks: a form that was sent gets only those that it had, and more where it asks for them. */
function countBlockRows(shown: Typed, typed: Typed | null): number {
  const given = countTyped(shown, 'blocks');
  if (!typed) return Math.max(FIRST_ROWS, given + SPARE_ROWS);
  return typed.act === 'more-blocks' ? given + MORE_ROWS : given;
}

/** Which of the seldom changed parts of a tier's form say anything but what a new tier starts with. */
function openParts(shown: Typed, { system }: Units) {
  return {
    hanging: saysMore(shown, { overlap: '', ratio_tier_id: '' }),
    sewing: saysMore(shown, {
      seam_kind: 'plain',
      seam: '',
      end: USUAL_TEXTS[system].end,
      heading: '0',
      upper_edge: 'seam',
      hang_seam: '',
      lower_edge: 'narrow',
      hem: '',
      hem_first: '',
      opening_way: 'finished',
    }),
    strip: saysMore(shown, { direction: 'across', strip_length: '' }),
  };
}

/** Where a tier is placed, as it would be typed. */
function placeTexts(tier: TierRecord, again: (field: string, ticks: number | null) => string) {
  const { placedBy, placedTicks, levelTierId, dropTicks, heightTicks } = tier;
  const drop = placedBy === 'upper' ? dropTicks : placedBy === 'lower' ? placedTicks : null;
  return {
    placed: levelTierId === null ? placedBy : `level-${levelTierId}`,
    // What hangs from the form says its drop, a blank that was read as the waist too.
    drop: again('drop', drop) || (drop === 0 ? '0' : ''),
    height: again('height', placedBy === 'floor' ? placedTicks : heightTicks),
  };
}

/** A tier of the book as the texts of its form, as they were typed where they were. */
export function typedTier(tier: TierRecord, units: Units): Typed {
  const kept = readKept(tier.typed);
  const again = (field: string, ticks: number | null) => typedAgain(kept, field, ticks, units);
  // Blank means the usual allowance of its kind: shown blank only where that is still what is stored.
  const allowance = (field: string, ticks: number, usual: UsualAllowance) => {
    const typed = kept?.texts[field];
    if (typed === '' || typed === undefined) return ticks === usual.ticks ? '' : writeSize(ticks, units);
    return again(field, ticks);
  };
  const texts: Record<string, string> = {
    name: tier.ownName,
    cloth_id: String(tier.clothId),
    hangs: tier.onTierId === null ? tier.hangs : `${tier.hangs}-${tier.onTierId}`,
    ...placeTexts(tier, again),
    depth: again('depth', tier.depthTicks),
    overlap: again('overlap', tier.overlapTicks),
    fullness: kept?.texts.fullness ?? sayFullness(tier),
    ratio_tier_id: tier.ratioTierId === null ? '' : String(tier.ratioTierId),
    closing: tier.ring ? 'ring' : 'open',
    opening_way: tier.openingWay,
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
