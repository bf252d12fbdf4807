import { type Overlap, overlapsOf } from '../../../src/garment/tier-drops.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { garmentPath, tierPath, tierPlace } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { sizeUnit } from '../../kit/units.ts';
import type { Page } from '../../web/page-frame.ts';
import { countRows } from '../garment/form.ts';
import type { Garment, TierRecord } from '../garment/records.ts';
import { asTier, tiersIn } from '../garment/worked.ts';
import { readTierChoices } from './choices.ts';
import { MOST_BLOCKS } from './fields.ts';
import { edgeChoices, openParts, USUAL_TEXTS } from './parts.ts';
import type { Preview } from './preview.ts';
import { tierTexts } from './texts.ts';

const FIRST_ROWS = 3;
const SPARE_ROWS = 1;
const MORE_ROWS = 3;

export interface TierFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly cancel: string;
  readonly garment: { readonly code: string; readonly name: string; readonly href: string };
  readonly version: string;
  readonly unit: string;
  /** the text of every single field by its name */
  readonly typed: Readonly<Record<string, string>>;
  readonly blocks: readonly Readonly<Record<'shade_id' | 'strips' | 'cloth_id' | 'lots', string>>[];
  readonly moreRows: boolean;
  readonly choices: {
    readonly cloths: readonly Choice[];
    readonly shades: readonly Choice[];
    readonly hangs: readonly Choice[];
    readonly ratios: readonly Choice[];
    readonly seamKinds: readonly Choice[];
    readonly upperEdges: readonly Choice[];
    readonly lowerEdges: readonly Choice[];
    readonly blockCloths: readonly Choice[];
  };
  /** whether what is seldom changed is other than a new tier starts with, or wrong, so that it stands open */
  readonly more: { readonly hanging: boolean; readonly sewing: boolean; readonly strip: boolean };
  readonly preview: Preview;
  /** what is held or cut for the tier that is being changed; '' where nothing is */
  readonly inUse: string;
  /** whether other tiers hang below it, to be moved with it */
  readonly hasBelow: boolean;
}

export interface TierFormState {
  readonly garment: Garment;
  /** null for a new tier */
  readonly tier: TierRecord | null;
  readonly typed: Typed | null;
  readonly preview: Preview;
  readonly inUse: string;
}

/** The form of a tier: the usual figures, as the book has it, or as it was typed. */
export function tierFormPage(reader: Reader, units: Units, state: TierFormState): Page {
  const { garment, tier, typed } = state;
  const shown = typed ?? (tier ? tierTexts(tier, units) : usualTexts(garment, units));
  const choices = readTierChoices(reader, garment, tier?.id ?? 0);
  const blocks = blockRows(shown, typed);
  const data: TierFormData = {
    requestKey: mintKey(),
    action: tier ? tierPath(garment.code, tier.id) : `${garmentPath(garment.code)}/tiers/new`,
    cancel: tier ? tierPlace(garment.code, tier.id) : garmentPath(garment.code),
    garment: { code: garment.code, name: garment.name, href: garmentPath(garment.code) },
    version: shown.version ?? '',
    unit: sizeUnit(units),
    typed: Object.fromEntries(FIELDS.map((name) => [name, shown[name] ?? ''])),
    blocks,
    moreRows: blocks.length < MOST_BLOCKS,
    choices: {
      cloths: withBlank(choices.cloths, 'Choose a cloth'),
      shades: withBlank(choices.shades, 'Choose a shade'),
      hangs: choices.hangs,
      ratios: withBlank(choices.ratios, 'what it is sewn on'),
      ...edgeChoices(units),
      blockCloths: withBlank(choices.cloths, 'the tier’s cloth'),
    },
    more: openParts(shown, units),
    preview: state.preview,
    inUse: state.inUse,
    hasBelow: tier !== null && overlapsOf(tiersIn(garment).map(asTier)).some((cover) => isAbove(cover, tier)),
  };
  const title = tier ? `${tier.name} of ${garment.name}` : `New tier of ${garment.name}`;
  return { view: 'garments/tier/tier', data, title, room: 'garments' };
}

function isAbove({ aboveId, reachingId, belowId }: Overlap, { id }: TierRecord): boolean {
  return id !== belowId && (id === aboveId || id === reachingId);
}

const FIELDS = [
  'name',
  'cloth_id',
  'hangs',
  'drop',
  'height',
  'depth',
  'overlap',
  'move_below',
  'fullness',
  'ratio_tier_id',
  'closing',
  'seam_kind',
  'seam',
  'end',
  'heading',
  'upper_edge',
  'hang_seam',
  'lower_edge',
  'hem',
  'hem_first',
  'direction',
  'strip_length',
  'offset',
  'finish_repeat',
] as const;

function usualTexts(garment: Garment, units: Units): Typed {
  const taken = new Set(garment.tiers.map(({ name }) => name));
  let number = garment.tiers.length + 1;
  while (taken.has(`Tier ${number}`)) number += 1;
  const last = tiersIn(garment).at(-1);
  return {
    ...USUAL_TEXTS[units.system],
    name: `Tier ${number}`,
    hangs: 'form',
    closing: 'ring',
    seam_kind: last?.seamKind ?? 'plain',
    upper_edge: 'seam',
    lower_edge: last?.lowerEdge ?? 'narrow',
    direction: 'across',
    cloth_id: last ? String(last.clothId) : '',
  };
}

function blockRows(shown: Typed, typed: Typed | null) {
  const given = countRows(shown, 'blocks');
  const asked = typed?.act === 'more-blocks' ? given + MORE_ROWS : given;
  const count = typed ? asked : Math.max(FIRST_ROWS, given + SPARE_ROWS);
  return Array.from({ length: Math.min(count, MOST_BLOCKS) }, (_, row) => ({
    shade_id: shown[`blocks.${row}.shade_id`] ?? '',
    strips: shown[`blocks.${row}.strips`] ?? '',
    cloth_id: shown[`blocks.${row}.cloth_id`] ?? '',
    lots: shown[`blocks.${row}.lots`] ?? '',
  }));
}
