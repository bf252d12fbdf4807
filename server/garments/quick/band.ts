import { atShopStep, clothLength, showAtShop } from '../../../src/garment/cloth-length.ts';
import { seamsOf } from '../../../src/garment/sewing.ts';
import { type TierProblem, type WorkedTier, workLoneBand } from '../../../src/garment/tiers.ts';
import { sayFullness, showFullness } from '../../../src/quantity/fullness.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showSize } from '../../../src/quantity/length-show.ts';
import { costOf, showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { unitsOf } from '../../kit/units.ts';
import { orProblems, type Problem, Refusal } from '../../refusal.ts';
import { readSewing, type Sewing } from '../../setup/rates/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { USUAL_TEXTS } from '../tier/seam-and-edge-words.ts';
import { sayClothStep, sayWorking, showExact } from '../tier/working-words.ts';
import { bareUnit, type QuickBand, quickBandFields, readQuickBand } from './band-form.ts';

/** Common practice, as a new tier starts with. */
const USUAL = {
  metric: { ...USUAL_TEXTS.metric, seam: '1', price_per: 'm' },
  imperial: { ...USUAL_TEXTS.imperial, seam: '1/2', price_per: 'yd' },
} as const;

/** The quick tier as it was asked for in the address; blank at first. */
export function quickBandPage(reader: Reader, asked: Typed, asker: Asker) {
  const unit = bareUnit(asked.unit, asker.units);
  const isBlank = Object.keys(asked).length === 0;
  const typed: Typed = isBlank ? { ...USUAL[asker.units.system], closing: 'ring' } : asked;
  // An address that is kept in inches answers in inches, whoever opens it.
  const { value: result, problems } = orProblems(() =>
    isBlank
      ? null
      : resultOf(readQuickBand(typed, asker), readSewing(reader), { ...asker, units: unitsOf(unit) }),
  );
  // Across is the first of the ways and left blank.
  const direction = typed.direction === 'across' ? '' : (typed.direction ?? '');
  const data = {
    fields: drawFields(quickBandFields(unit, asker.currency), { ...typed, direction }),
    /** What is bare in this address stays in the unit it was written in, whoever opens it. */
    unit,
    result,
  };
  return {
    view: 'garments/quick/quick',
    data,
    title: 'Quick tier',
    room: 'garments',
    problems,
  } satisfies Page;
}

/** What a quick tier comes to. Lengths are told as ticks of 1/160 mm and as they are read. */
export type QuickBandAnswer = ReturnType<typeof resultOf>;

function resultOf(band: QuickBand, sewing: Sewing, { units, currency }: Asker) {
  const worked = workBand(band);
  const { count, cutDepthTicks } = worked;
  const strips = count.perShade.map(({ stripLengthTicks, direction, count: strips }) => ({
    depthTicks: cutDepthTicks,
    lengthTicks: stripLengthTicks,
    direction,
    count: strips,
  }));
  const cloth = clothLength(strips, band.usableWidthTicks);
  const [step] = cloth.ok ? cloth.steps : [];
  if (!cloth.ok || !step) throw new Error('a band that was worked out lies on its cloth');
  const exactTicks = cloth.totalTicks + band.extraTicks;
  const metricTicks = atShopStep(exactTicks, sewing.metricStepTicks);
  const imperialTicks = atShopStep(exactTicks, sewing.imperialStepTicks);
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return {
    strips: count.strips,
    seams: seamsOf(band.tier.closing, count.strips),
    stripLengthTicks: step.lengthTicks,
    cutDepthTicks,
    stripSize: `${size(cutDepthTicks)} × ${size(step.lengthTicks)}`,
    lies: step.lies,
    columns: step.columns,
    drops: step.drops,
    flatWanted: showSize(count.flatWantedTicks, units, 'up'),
    flatGot: showSize(count.flatTicks, units, 'down'),
    flatTicks: count.flatTicks,
    fullnessWantedMilli: band.tier.fullnessMilli,
    fullnessGotMilli: count.fullnessMilli,
    fullnessWanted: `${sayFullness(band.tier)}×`,
    fullnessGot: `${showFullness(count.fullnessMilli)}×`,
    cloth: {
      exactTicks,
      metricTicks,
      imperialTicks,
      exactMetric: showExact(exactTicks, 'metric'),
      exactImperial: showExact(exactTicks, 'imperial'),
      atShopMetric: showAtShop(metricTicks, 'metric'),
      atShopImperial: showAtShop(imperialTicks, 'imperial'),
    },
    price: priceOf(band, exactTicks, { metricTicks, imperialTicks }, currency),
    // A cut depth that was given is not added up.
    steps: [
      ...sayWorking(band.tier, worked, () => 'the band', units).slice(
        band.depthField === 'cut_depth' ? 1 : 0,
      ),
      ...sayClothStep(step, band.usableWidthTicks, units),
      ...(band.extraTicks > 0
        ? [`${size(cloth.totalTicks)} + ${size(band.extraTicks)} more = ${size(exactTicks)} of cloth in all`]
        : []),
    ],
  };
}

function workBand({ tier, baseTicks, usableWidthTicks, depthField }: QuickBand): WorkedTier {
  const worked = workLoneBand(tier, baseTicks, usableWidthTicks);
  const [found] = worked.tiers;
  if (worked.ok && found) return found;
  const problems = worked.ok ? [] : worked.problems.map((problem) => placed(problem, depthField));
  throw new Refusal('invalid', problems[0]?.message ?? 'The band cannot be worked out.', problems);
}

function placed({ field, message }: TierProblem, depthField: QuickBand['depthField']): Problem {
  return { field: field === 'depth' ? depthField : (FIELD[field] ?? ''), message };
}

const FIELD: Partial<Record<TierProblem['field'], string>> = {
  base: 'base',
  fullness: 'fullness',
  seam: 'seam',
  end: 'end',
  length: 'strip_length',
  heading: 'heading',
  'hang seam': 'hang_seam',
  hem: 'hem',
};

function priceOf(
  { price }: QuickBand,
  exactTicks: number,
  steps: { readonly metricTicks: number; readonly imperialTicks: number },
  currency: string,
) {
  if (price === null) return null;
  const per = price.perTicks === TICKS_PER.m ? 'm' : 'yd';
  const atShopMinor = costOf(per === 'm' ? steps.metricTicks : steps.imperialTicks, price);
  const exactMinor = costOf(exactTicks, price);
  return {
    exactMinor,
    atShopMinor,
    exact: showMoney(exactMinor, currency),
    atShop: showMoney(atShopMinor, currency),
    per,
  };
}
