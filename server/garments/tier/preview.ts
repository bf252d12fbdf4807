import { clothLength } from '../../../src/garment/cloth-length.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { massOfStrips } from '../../../src/garment/weight.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { listed } from '../../kit/words.ts';
import { orProblems, type Problem } from '../../refusal.ts';
import type { Body } from '../../web/body.ts';
import { readForm } from '../../web/post.ts';
import type { Elevation } from '../drawing/elevation.ts';
import { drawStripChart, type StripChart } from '../drawing/strip-chart.ts';
import { type Names, namesOf } from '../garment/names.ts';
import type { Garment, TierFigures, TierRecord } from '../garment/records.ts';
import { asTier } from '../garment/worked.ts';
import { readClothFacts, weighedStrips } from '../sewing/answer-facts.ts';
import { sayCutMass } from '../sewing/answer-words.ts';
import { readTierChoices } from './choices.ts';
import { tierSchema } from './fields.ts';
import { sayCoverChange } from './moving.ts';
import { NEW_TIER, planTier, tierFigures } from './planned.ts';
import { previewGarment, withTier } from './preview-garment.ts';
import { sameName } from './verbs.ts';
import { shapeTier, type TierView, tierNamesOf, wantedNow } from './view.ts';

/** What a tier comes to as its form stands; nothing of it is in the book. */
export interface Preview {
  readonly tier: TierView | null;
  /** fresh cloth and mass, a sentence each */
  readonly takes: readonly string[];
  /** why it cannot be worked out yet */
  readonly problems: readonly Problem[];
  /** what would then stand against other tiers, and what is seldom meant */
  readonly others: readonly string[];
  /** what would then differ from what is cut and held for the garment */
  readonly differences: readonly string[];
  /** the garment from the side as it would be; null while it cannot be drawn */
  readonly drawing: Elevation | null;
  /** the order of the tier's strips */
  readonly chart: StripChart | null;
}

export const NO_PREVIEW: Preview = {
  tier: null,
  takes: [],
  problems: [],
  others: [],
  differences: [],
  drawing: null,
  chart: null,
};

/** Works out what was typed, as far as it can be read. */
export function previewTyped(
  reader: Reader,
  garment: Garment,
  tier: TierRecord | null,
  body: Body,
  units: Units,
): Preview {
  const tierId = tier?.id ?? NEW_TIER;
  const schema = tierSchema(units, readTierChoices(reader, garment, tierId));
  const { value: form, problems } = orProblems(() => readForm(schema, body));
  if (!form) return { ...NO_PREVIEW, problems };
  const preview = previewTier(reader, garment, tierFigures(form, tierId, units), units);
  return { ...preview, problems: [...sameName(garment, form.name, tierId), ...preview.problems] };
}

/** Works out a tier as it is in the book, or as it would be. */
export function previewTier(reader: Reader, garment: Garment, figures: TierFigures, units: Units): Preview {
  const planned = planTier(reader, garment, figures, units);
  const changed = withTier(garment, figures);
  const names = namesOf(reader, changed);
  const nameOf = tierNamesOf(garment);
  const tier = planned.tier && shapeTier(asTier(figures), planned.tier, nameOf, names, units);
  const moved = planned.tier ? sayCoverChange(garment, changed, units) : '';
  const others = [...planned.others, ...planned.warnings, ...(moved ? [moved] : [])];
  const whole = tier ? previewGarment(reader, changed, names, units) : NO_PREVIEW;
  const { differences, drawing } = whole;
  const takes = planned.tier ? sayTierTakes(reader, planned.tier, names, units) : [];
  const chart =
    planned.tier && drawStripChart(figures.blocks, planned.tier.count.strips, figures.offsetStrips, names);
  return { tier, takes, problems: planned.problems, others, differences, drawing, chart };
}

/** What a tier takes by itself of fresh cloth, and what it weighs, a sentence each. */
export function sayTierTakes(reader: Reader, worked: WorkedTier, names: Names, units: Units): string[] {
  const shades = wantedNow(worked);
  const cloths = readClothFacts(
    reader,
    shades.map(({ clothId }) => clothId),
  );
  const lengths = shades.flatMap((strips) => {
    const found = clothLength([strips], cloths.get(strips.clothId)?.usableWidthTicks ?? 1);
    if (!found.ok) return [];
    const length = showLength(found.totalTicks, units, 'up');
    return [`${length} in ${names.letter(strips.shadeId)} ${names.shade(strips.shadeId)}`];
  });
  return [
    ...(lengths.length > 0 ? [`Fresh cloth by itself: ${listed(lengths)}.`] : []),
    sayCutMass(massOfStrips(weighedStrips(worked, cloths)), units),
  ];
}
