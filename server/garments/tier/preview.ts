import { clothLength } from '../../../src/garment/cloth-length.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { massOfStrips } from '../../../src/garment/weight.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { listed } from '../../kit/words.ts';
import { orProblems } from '../../refusal.ts';
import type { Body } from '../../web/body.ts';
import { readForm } from '../../web/post.ts';
import { drawElevations } from '../drawing/elevation.ts';
import { drawStripChart } from '../drawing/strip-chart.ts';
import { readCutStrips, readHeldStretches } from '../garment/done.ts';
import { type Names, namesOf } from '../garment/names.ts';
import { sayLowerEdges } from '../garment/place.ts';
import type { Garment, TierFigures, TierRecord } from '../garment/records.ts';
import { asTier, readClothWays, readUsableWidths, type WorkedGarment, workedBy } from '../garment/worked.ts';
import { readClothFacts, weighedStrips } from '../sewing/facts.ts';
import { sayCutMass } from '../sewing/words.ts';
import { differences } from '../versions/differences.ts';
import { readWantedWhenHeld } from '../versions/held-then.ts';
import { clothsOf } from '../versions/queries.ts';
import { readTierChoices, tierSchema } from './fields.ts';
import { sayCoverChange } from './moving.ts';
import { NEW_TIER, planTier, tierFigures, withTier } from './planned.ts';
import { sameName } from './verbs.ts';
import { shapeTier, tierNamesOf, wantedNow } from './view.ts';

/** Works out what was typed, as far as it can be read. */
export function previewTyped(
  reader: Reader,
  garment: Garment,
  tier: TierRecord | null,
  body: Body,
  units: Units,
) {
  const tierId = tier?.id ?? NEW_TIER;
  const schema = tierSchema(units, readTierChoices(reader, garment, tierId));
  const { value: form, problems } = orProblems(() => readForm(schema, body));
  if (!form) return { ...NO_PREVIEW, problems };
  const preview = previewTier(reader, garment, tierFigures(form, tierId, units), units);
  return { ...preview, problems: [...sameName(garment, form.name, tierId), ...preview.problems] };
}

/**
 * Works out a tier as it is in the book, or as it would be: its strips, what it takes in a sentence each, why it cannot
 * be worked out yet, what would stand against other tiers and differ from what is cut and held for the garment.
 */
export function previewTier(reader: Reader, garment: Garment, figures: TierFigures, units: Units) {
  const planned = planTier(reader, garment, figures, units);
  const changed = withTier(garment, figures);
  const names = namesOf(reader, changed);
  const nameOf = tierNamesOf(garment);
  const tier = planned.tier && shapeTier(asTier(planned.figures), planned.tier, nameOf, names, units);
  const moved = planned.tier ? sayCoverChange(garment, changed, units) : '';
  const others = [...planned.others, ...planned.warnings, ...(moved ? [moved] : [])];
  const whole =
    tier &&
    workedBy(changed, readUsableWidths(reader, clothsOf(changed)), readClothWays(reader, clothsOf(changed)));
  const takes = planned.tier ? sayTierTakes(reader, planned.tier, names, units) : [];
  const chart =
    planned.tier && drawStripChart(figures.blocks, planned.tier.count.strips, figures.offsetStrips, names);
  return {
    tier,
    takes,
    lowerEdge: whole ? (sayLowerEdges(changed, units).get(figures.id) ?? '') : '',
    problems: planned.problems,
    others,
    differences: whole ? differencesOf(reader, whole, names, units) : [],
    drawing: whole && (drawElevations(whole, names, units)[0] ?? null),
    chart,
  };
}

export type Preview = ReturnType<typeof previewTier>;

export const NO_PREVIEW: Preview = {
  tier: null,
  takes: [],
  lowerEdge: '',
  problems: [],
  others: [],
  differences: [],
  drawing: null,
  chart: null,
};

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

/** Of every tier, since what hangs on a tier changes with it; sentences about another begin with its name. */
export function differencesOf(reader: Reader, worked: WorkedGarment, names: Names, units: Units): string[] {
  const tierIds = worked.garment.tiers.flatMap(({ id }) => (id === NEW_TIER ? [] : [id]));
  const cut = readCutStrips(reader, tierIds);
  const held = readHeldStretches(reader, tierIds);
  if (cut.length === 0 && held.length === 0) return [];
  const whenHeld = readWantedWhenHeld(reader, worked.garment, tierIds);
  const nameOf = (clothId: number, shadeId: number) => `${names.cloth(clothId)}, ${names.shade(shadeId)}`;
  return worked.tiers.flatMap((tier) => {
    const isMine = ({ tierId }: { readonly tierId: number }) => tierId === tier.tierId;
    const told = differences(
      wantedNow(tier),
      cut.filter(isMine),
      held.filter(isMine),
      nameOf,
      units,
      whenHeld.filter(isMine),
    );
    return told.map((sentence) => `${tier.name}: ${sentence}`);
  });
}
