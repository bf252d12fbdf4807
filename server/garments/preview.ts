import type { Units } from '../../src/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type Problem, Refusal } from '../refusal.ts';
import type { Body } from '../web/body.ts';
import { readForm } from '../web/post.ts';
import { type TierForm, tierSchema } from './fields.ts';
import { readNames } from './names.ts';
import { figuresOf, NEW_TIER, planTier, type TierFigures } from './planned.ts';
import type { Garment, TierRecord } from './records.ts';
import { readTierChoices } from './tier-form.ts';
import { shapeTier, type TierView, tierNamesOf } from './tier-view.ts';
import { sameName } from './tiers.ts';
import { asTier, clothIdsOf } from './worked.ts';

/** What a tier comes to as its form stands; nothing of it is in the book. */
export interface Preview {
  readonly tier: TierView | null;
  /** why it cannot be worked out yet */
  readonly problems: readonly Problem[];
  /** what would then stand against other tiers, and what is seldom meant */
  readonly others: readonly string[];
}

export const NO_PREVIEW: Preview = { tier: null, problems: [], others: [] };

/** Works out what was typed, as far as it can be read. */
export function previewTyped(
  reader: Reader,
  garment: Garment,
  tier: TierRecord | null,
  body: Body,
  units: Units,
): Preview {
  const tierId = tier?.id ?? NEW_TIER;
  const form = readOrProblems(tierSchema(units, readTierChoices(reader, garment, tierId)), body);
  if ('problems' in form) return { ...NO_PREVIEW, problems: form.problems };
  const preview = previewTier(reader, garment, figuresOf(form.read, tierId, units), units);
  return { ...preview, problems: [...sameName(garment, form.read.name, tierId), ...preview.problems] };
}

/** Works out a tier as it is in the book, or as it would be. */
export function previewTier(reader: Reader, garment: Garment, figures: TierFigures, units: Units): Preview {
  const planned = planTier(reader, garment, figures, units);
  const shades = figures.blocks.map(({ shadeId }) => shadeId);
  const names = readNames(reader, clothIdsOf(figures), shades);
  const nameOf = tierNamesOf(garment);
  const tier = planned.tier && shapeTier(asTier(figures), planned.tier, nameOf, names, units);
  const others = [...planned.others, ...planned.warnings];
  return { tier, problems: planned.problems, others };
}

function readOrProblems(schema: ReturnType<typeof tierSchema>, body: Body) {
  try {
    const read: TierForm = readForm(schema, body);
    return { read };
  } catch (error) {
    if (error instanceof Refusal) return { problems: error.problems };
    throw error;
  }
}
