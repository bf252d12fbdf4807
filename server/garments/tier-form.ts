import type { Units } from '../../src/length-show.ts';
import { showFullness } from '../../src/whole.ts';
import type { Reader } from '../database/book.ts';
import { type Choice, clothChoices, shadeChoices, withBlank } from '../shelf/choices.ts';
import type { Typed } from '../web/body.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { MOST_BLOCKS, type TierChoices } from './fields.ts';
import { countRows } from './garment-form.ts';
import { garmentPath, tierPath, tierPlace } from './paths.ts';
import type { Preview } from './preview.ts';
import type { Garment, TierRecord } from './records.ts';
import { readKept, sizeUnit, typedAgain } from './typed.ts';
import { tiersIn } from './worked.ts';

const FIRST_ROWS = 3;
const SPARE_ROWS = 1;
const MORE_ROWS = 3;

/** Common practice in the workroom; each is only what the form starts with. */
const USUAL = {
  metric: { fullness: '2.5', seam: '1', end: '1', heading: '0', hang_seam: '1.5', hem: '1' },
  imperial: { fullness: '2 1/2', seam: '1/2', end: '1/2', heading: '0', hang_seam: '5/8', hem: '3/8' },
} as const;

export interface TierFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly cancel: string;
  readonly garment: { readonly code: string; readonly name: string; readonly href: string };
  readonly version: string;
  readonly unit: string;
  /** the text of every single field by its name */
  readonly typed: Readonly<Record<string, string>>;
  readonly blocks: readonly { readonly shade_id: string; readonly strips: string; readonly lots: string }[];
  readonly moreRows: boolean;
  readonly choices: {
    readonly cloths: readonly Choice[];
    readonly shades: readonly Choice[];
    readonly edged: readonly Choice[];
  };
  readonly preview: Preview;
  /** what is held or cut for the tier that is being changed; '' where nothing is */
  readonly inUse: string;
}

export interface TierFormState {
  readonly garment: Garment;
  /** null for a new tier */
  readonly tier: TierRecord | null;
  readonly typed: Typed | null;
  readonly preview: Preview;
  readonly inUse: string;
}

/** What a tier may be made of and hang from: any other tier that is in, whatever that one hangs from. */
export function readTierChoices(reader: Reader, garment: Garment, tierId: number): TierChoices {
  return {
    cloths: clothChoices(reader),
    shades: shadeChoices(reader),
    edged: tiersIn(garment)
      .filter(({ id }) => id !== tierId)
      .map(({ id, name }) => ({ value: String(id), label: `the lower edge of ${name}` })),
  };
}

/** The form of a tier: the usual figures, as the book has it, or as it was typed. */
export function tierFormPage(reader: Reader, units: Units, state: TierFormState): Page {
  const { garment, tier, typed } = state;
  const shown = typed ?? (tier ? textsOf(tier, units) : usualTexts(garment, units));
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
      edged: withBlank(choices.edged, 'the form, at the drop given'),
    },
    preview: state.preview,
    inUse: state.inUse,
  };
  const title = tier ? `${tier.name} of ${garment.name}` : `New tier of ${garment.name}`;
  return { view: 'garments/tier', data, title, room: 'garments' };
}

const FIELDS = [
  'name',
  'cloth_id',
  'edges_tier_id',
  'drop',
  'depth',
  'fullness',
  'closing',
  'seam',
  'end',
  'heading',
  'hang_seam',
  'hem',
  'strip_length',
  'finish_repeat',
] as const;

function usualTexts(garment: Garment, units: Units): Typed {
  const taken = new Set(garment.tiers.map(({ name }) => name));
  let number = garment.tiers.length + 1;
  while (taken.has(`Tier ${number}`)) number += 1;
  const last = tiersIn(garment).at(-1);
  return {
    ...USUAL[units.system],
    name: `Tier ${number}`,
    closing: 'ring',
    cloth_id: last ? String(last.clothId) : '',
  };
}

function textsOf(tier: TierRecord, units: Units): Typed {
  const kept = readKept(tier.typed);
  const again = (field: string, ticks: number | null) => typedAgain(kept, field, ticks, units);
  const texts: Record<string, string> = {
    name: tier.name,
    cloth_id: String(tier.clothId),
    edges_tier_id: tier.edgesTierId === null ? '' : String(tier.edgesTierId),
    drop: again('drop', tier.dropTicks),
    depth: again('depth', tier.depthTicks),
    fullness: kept?.texts.fullness ?? showFullness(tier.fullnessMilli),
    closing: tier.ring ? 'ring' : 'open',
    seam: again('seam', tier.seamTicks),
    end: again('end', tier.endTicks),
    heading: again('heading', tier.headingTicks),
    hang_seam: again('hang_seam', tier.hangSeamTicks),
    hem: again('hem', tier.hemTicks),
    strip_length: again('strip_length', tier.stripLengthTicks),
    finish_repeat: tier.finishRepeat ? 'yes' : '',
    version: String(tier.version),
  };
  tier.blocks.forEach((block, row) => {
    texts[`blocks.${row}.shade_id`] = String(block.shadeId);
    texts[`blocks.${row}.strips`] = String(block.strips);
    texts[`blocks.${row}.lots`] = block.lots === 'any' ? 'any' : '';
  });
  return texts;
}

function blockRows(shown: Typed, typed: Typed | null) {
  const given = countRows(shown, 'blocks');
  const asked = typed?.act === 'more-blocks' ? given + MORE_ROWS : given;
  const count = typed ? asked : Math.max(FIRST_ROWS, given + SPARE_ROWS);
  return Array.from({ length: Math.min(count, MOST_BLOCKS) }, (_, row) => ({
    shade_id: shown[`blocks.${row}.shade_id`] ?? '',
    strips: shown[`blocks.${row}.strips`] ?? '',
    lots: shown[`blocks.${row}.lots`] ?? '',
  }));
}
