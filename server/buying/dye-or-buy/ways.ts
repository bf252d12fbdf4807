import { boughtBeyond } from '../../../src/buying/basket/notes.ts';
import type { WayToGet } from '../../../src/buying/dye-or-buy.ts';
import { lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import type { StripDemand } from '../../../src/garment/need.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { type DyeCloth, readDyeCloths, whyNotDyed } from '../../dye-bench/batch/dyeable.ts';
import type { TypedLength } from '../../dye-bench/batch/plan.ts';
import { recipePath, type StoredRecipe } from '../../dye-bench/recipe/store.ts';
import { address } from '../../kit/address.ts';
import type { ShadeColour } from '../../kit/chip.ts';
import { supplierPath } from '../../kit/paths.ts';
import { dayAfter, sayMinutes } from '../../kit/when.ts';
import { countOf, listed } from '../../kit/words.ts';
import { showBolts, showSold } from '../../orders/offer/put-up-words.ts';
import { type Offer, readOffers } from '../../orders/offer/queries.ts';
import type { WayOn } from '../../refusal.ts';
import type { ShortLine } from '../../short/queries.ts';
import type { Asker } from '../../web/house.ts';
import { boltsOf } from '../basket/job.ts';
import { type Dyeing, freshBolt, readRecipesOf, tryDyeing } from './dyeing.ts';
import { type BoughtLength, priceOffers } from './offers.ts';
import { readSpareUndyed, undyedFor } from './undyed.ts';

/** What a way is made of, and what it costs; '' where that has no price. */
interface Part {
  readonly what: string;
  readonly cost: string;
}

/** A way to get what is short, as the page tells it. */
export interface ShownWay extends WayToGet {
  readonly kind: 'buy' | 'dye' | 'dye bought cloth';
  readonly name: string;
  readonly href: string;
  readonly parts: readonly Part[];
  /** what is still to be paid, in minor units: all but cloth that lies there */
  readonly toSpendMinor: number;
  readonly lots: string;
  /** what may go wrong, and what is not known */
  readonly risks: readonly string[];
  readonly next: WayOn;
}

/** What is wanted: strips, the length of fresh cloth that gives them, and who asks. */
export interface Wanted {
  readonly line: ShortLine;
  readonly demands: readonly StripDemand[];
  readonly neededTicks: number | null;
  readonly asker: Asker;
  readonly today: string;
}

/** Every way to get it that is known, and why others are not there. */
export interface WaysFound {
  readonly ways: readonly ShownWay[];
  /** recipes that cannot dye it as things stand, and why */
  readonly refused: readonly { readonly name: string; readonly href: string; readonly reason: string }[];
  readonly recipes: number;
}

/** Buying the shade, dyeing what lies undyed, and dyeing undyed cloth that is bought for it. */
export function findWays(reader: Reader, wanted: Wanted): WaysFound {
  const { line } = wanted;
  const cloth = readDyeCloths(reader, [line.cloth.id]).get(line.cloth.id);
  const recipes = cloth && !line.shade.ground ? readRecipesOf(reader, line.shade.id) : [];
  const tried = cloth ? recipes.map((stored) => dyeWays(reader, wanted, cloth, stored)) : [];
  return {
    ways: [...buyWays(reader, wanted), ...tried.flatMap(({ ways }) => ways)],
    refused: tried.flatMap(({ refused }) => refused),
    recipes: recipes.length,
  };
}

function buyWays(reader: Reader, wanted: Wanted): ShownWay[] {
  const { line, neededTicks, today } = wanted;
  if (neededTicks === null || neededTicks === 0) return [];
  const of = { clothId: line.cloth.id, shadeId: line.shade.id };
  return priceOffers(reader, of, neededTicks, today).map((bought) => ({
    kind: 'buy',
    name: `Buy from ${bought.offer.supplierName}`,
    href: supplierPath(bought.offer.supplierId),
    parts: partsOfBought(bought, wanted.asker.units),
    totalMinor: bought.sum.home.totalMinor,
    toSpendMinor: bought.sum.home.totalMinor,
    unknown: [],
    readyOn: bought.arrivesOn,
    isWhole: true,
    lots: bought.isOneLength ? '1 lot' : '1 lot, if it all comes off one',
    risks: [
      ...(bought.arrivesOn === null ? ['No delivery time is known of this supplier.'] : []),
      ...(bought.isOneLength ? [] : ['It comes in several lengths: ask for one lot.']),
      ...(line.oneLotTicks === null ? [] : ['Bought cloth is a lot apart from what lies on the shelf.']),
    ],
    next: { text: 'To the basket', href: basketHref(of, neededTicks, wanted.asker.units) },
  }));
}

function partsOfBought({ offer, sum, mix, basket }: BoughtLength, units: Units): Part[] {
  const bolts = boltsOf(offer, mix).map(({ count, lengthTicks }) => showBolts(count, lengthTicks, units));
  const cut = mix.cutTicks === 0 ? [] : [`${showSold(mix.cutTicks, units)} cut`];
  const money = (minor: number) => showMoney(minor, basket.job.currency);
  const more = (what: string, minor: number) => (minor === 0 ? [] : [{ what, cost: money(minor) }]);
  return [
    {
      what: listed([...bolts, ...cut]),
      cost: money(sum.home.goodsMinor),
    },
    ...more('Cut fee', sum.home.cutFeesMinor),
    ...more('Freight', sum.home.freightMinor),
    ...more('Tax', sum.home.taxMinor),
  ];
}

interface Tried {
  readonly ways: readonly ShownWay[];
  readonly refused: WaysFound['refused'];
}

function dyeWays(reader: Reader, wanted: Wanted, cloth: DyeCloth, stored: StoredRecipe): Tried {
  const recipe = { name: `${stored.name}, version ${stored.version}`, href: recipePath(stored.id) };
  const cannot = whyNotDyed(reader, stored, cloth);
  if (cannot) return { ways: [], refused: [{ ...recipe, reason: cannot.reason }] };
  const found = [fromUndyed(reader, wanted, stored), ...fromBought(reader, wanted, cloth, stored)];
  return {
    ways: found.flatMap((each) => (typeof each === 'object' ? [each] : [])),
    refused: found.flatMap((each) =>
      typeof each === 'string' && each !== '' ? [{ ...recipe, reason: each }] : [],
    ),
  };
}

/** Dyeing what lies undyed; why not, or '' where nothing lies there. */
function fromUndyed(reader: Reader, wanted: Wanted, stored: StoredRecipe): ShownWay | string {
  const { line, demands, asker } = wanted;
  const spare = readSpareUndyed(reader, line.cloth.id);
  const undyed = undyedFor(reader, demands, spare, stored.shrinkageBp);
  if (undyed.lengths.length === 0) return '';
  const tried = tryDyeing(reader, stored, undyed.lengths);
  if (!tried.ok) return tried.reason;
  const { dyeing } = tried;
  const money = (minor: number) => showMoney(minor, asker.currency);
  const [strips, all] = [undyed.strips, undyed.strips + undyed.missingStrips];
  const what = listed(
    undyed.lengths.map(
      ({ piece, lengthTicks }) => `${showLength(lengthTicks, asker.units, 'up')} of ${piece.code}`,
    ),
  );
  const several = undyed.lotCodes.length > 1;
  return {
    kind: 'dye',
    name: `Dye what lies undyed by ${stored.name}`,
    href: recipePath(stored.id),
    parts: [
      { what: `${what}, undyed, at what it cost`, cost: money(undyed.clothMinor) },
      ...partsOfDyeing(dyeing, money),
    ],
    totalMinor: undyed.clothMinor + dyedMinor(dyeing),
    toSpendMinor: dyedMinor(dyeing),
    unknown: dyeing.unknown,
    readyOn: dayAfter(wanted.today, dyeing.days),
    isWhole: undyed.missingStrips === 0,
    lots: countOf(dyeing.baths, 'lot', 'lots'),
    risks: [
      ...(undyed.missingStrips > 0 ? [`It gives ${strips} of ${countOf(all, 'strip', 'strips')} only.`] : []),
      ...(several
        ? [`The undyed cloth is of lots ${listed(undyed.lotCodes)}: one dye may come out in two shades.`]
        : []),
      ...risksOfDyeing(dyeing),
    ],
    next: { text: 'Plan the batch', href: planHref(stored, line, dyeing, undyed.lengths, asker.units) },
  };
}

/** Dyeing undyed cloth that is bought for it, by each offer of it. */
function fromBought(
  reader: Reader,
  wanted: Wanted,
  cloth: DyeCloth,
  stored: StoredRecipe,
): (ShownWay | string)[] {
  const { neededTicks, asker, today } = wanted;
  if (neededTicks === null || neededTicks === 0) return [];
  const lengthTicks = lengthToPrepareTicks(neededTicks, stored.shrinkageBp);
  return groundsOffered(reader, cloth.id, today).flatMap((ground): (ShownWay | string)[] => {
    const of = { clothId: cloth.id, shadeId: ground.id };
    const bought = priceOffers(reader, of, lengthTicks, today);
    if (bought.length === 0) return [];
    const tried = tryDyeing(reader, stored, [freshBolt(cloth, ground, lengthTicks)]);
    if (!tried.ok) return [tried.reason];
    const { dyeing } = tried;
    return bought.map((each) => boughtAndDyed(each, { dyeing, stored, ground, lengthTicks }, asker));
  });
}

interface ToDye {
  readonly dyeing: Dyeing;
  readonly stored: StoredRecipe;
  readonly ground: Ground;
  readonly lengthTicks: number;
}

function boughtAndDyed(
  bought: BoughtLength,
  { dyeing, stored, ground, lengthTicks }: ToDye,
  asker: Asker,
): ShownWay {
  const money = (minor: number) => showMoney(minor, asker.currency);
  const { offer, sum, arrivesOn, basket, mix } = bought;
  const left = boughtBeyond(basket.job, mix);
  const total = sum.home.totalMinor + dyedMinor(dyeing);
  return {
    kind: 'dye bought cloth',
    name: `Buy ${ground.name} from ${offer.supplierName} and dye it by ${stored.name}`,
    href: supplierPath(offer.supplierId),
    parts: [...partsOfBought(bought, asker.units), ...partsOfDyeing(dyeing, money)],
    totalMinor: total,
    toSpendMinor: total,
    unknown: dyeing.unknown,
    readyOn: arrivesOn === null ? null : dayAfter(arrivesOn, dyeing.days),
    isWhole: true,
    lots: countOf(dyeing.baths, 'lot', 'lots'),
    risks: [
      ...(arrivesOn === null ? ['No delivery time is known of this supplier.'] : []),
      ...(left < asker.units.stepTicks
        ? []
        : [`${showLength(left, asker.units, 'down')} of it is left undyed.`]),
      ...risksOfDyeing(dyeing),
    ],
    next: {
      text: 'To the basket',
      href: basketHref({ clothId: offer.clothId, shadeId: ground.id }, lengthTicks, asker.units),
    },
  };
}

function dyedMinor({ dyesMinor, energyMinor, workMinor }: Dyeing): number {
  return dyesMinor + energyMinor + workMinor;
}

function partsOfDyeing(dyeing: Dyeing, money: (minor: number) => string): Part[] {
  const { unknown, workMinutes, baths } = dyeing;
  const beside = unknown.filter((name) => name !== 'fuel' && name !== 'hours of work');
  const cost = (name: string, minor: number) => (unknown.includes(name) ? '' : money(minor));
  return [
    {
      what: beside.length > 0 ? 'Dyes and auxiliaries that have a price' : 'Dyes and auxiliaries',
      cost: beside.length > 0 && dyeing.dyesMinor === 0 ? '' : money(dyeing.dyesMinor),
    },
    { what: 'Heat', cost: cost('fuel', dyeing.energyMinor) },
    {
      what: `${sayMinutes(workMinutes)} of work, ${countOf(baths, 'bath', 'baths')}`,
      cost: cost('hours of work', dyeing.workMinor),
    },
  ];
}

function risksOfDyeing({ timesDyed, hasSwatch, baths, unknown }: Dyeing): string[] {
  const dyed =
    timesDyed === 0 ? [] : [`Dyed ${timesDyed === 1 ? 'once' : `${timesDyed} times`} by this recipe.`];
  const swatch = hasSwatch
    ? 'The swatch of this lot is approved.'
    : 'No approved swatch of this lot yet: dye one first. A day is counted for that (our rule).';
  return [
    ...dyed,
    swatch,
    ...(baths > 1 ? [`${baths} baths are ${baths} lots, and may differ.`] : []),
    ...(unknown.length > 0 ? [`No price is known of ${listed(unknown)}: it costs more than is shown.`] : []),
  ];
}

type Ground = ShadeColour & { readonly id: number };

/** The undyed shades that a cloth is offered in; where it is offered in any shade, the first undyed one. */
function groundsOffered(reader: Reader, clothId: number, today: string): Ground[] {
  const offers: readonly Offer[] = readOffers(reader, today, { clothIds: [clothId] });
  const grounds = reader.all(
    reader.db
      .selectFrom('shade')
      .select(['id', 'name', 'lab_l', 'lab_a', 'lab_b'])
      .where('ground', '=', 1)
      .orderBy('id'),
  );
  const own = grounds.filter(({ id }) => offers.some(({ shadeId }) => shadeId === id));
  if (own.length > 0) return own;
  return offers.some(({ shadeId }) => shadeId === null) ? grounds.slice(0, 1) : [];
}

function basketHref(
  of: { readonly clothId: number; readonly shadeId: number },
  lengthTicks: number,
  units: Units,
): string {
  return address('/orders/basket', {
    'needs.0.cloth_id': of.clothId,
    'needs.0.shade_id': of.shadeId,
    'needs.0.length': writeLength(lengthTicks, units),
  });
}

/** The plan of the batch, filled in. */
function planHref(
  stored: StoredRecipe,
  { cloth, shade }: ShortLine,
  { vesselId }: Dyeing,
  lengths: readonly TypedLength[],
  units: Units,
): string {
  const rows = lengths.flatMap(({ piece, lengthTicks }, at) => [
    [`pieces.${at}.piece`, piece.code],
    [`pieces.${at}.length`, writeLength(lengthTicks, units)],
  ]);
  return address('/dye-bench/batches/new', {
    recipe_id: stored.id,
    cloth: cloth.id,
    shade: shade.id,
    vessel_id: vesselId,
    ...Object.fromEntries(rows),
  });
}
