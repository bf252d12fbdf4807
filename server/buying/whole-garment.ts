import { byHand } from '../../src/buying/basket/by-hand.ts';
import { type BasketJob, costOfMix, goodsOf, type Mix, supplierSum } from '../../src/buying/basket/job.ts';
import { bestOfAll } from '../../src/buying/basket/mixes.ts';
import { boughtBeyond } from '../../src/buying/basket/notes.ts';
import { costOfCut } from '../../src/buying/offer.ts';
import { lengthToCut } from '../../src/fit/strips.ts';
import { showLength } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { writeLength } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import type { Names } from '../garments/garment/names.ts';
import { readUsableWidths, type WorkedGarment } from '../garments/garment/worked.ts';
import { address } from '../kit/address.ts';
import { supplierPath } from '../kit/paths.ts';
import { rowsAsTyped } from '../kit/typed.ts';
import { listed } from '../kit/words.ts';
import { showBolts, showSold } from '../orders/offer/put-up-words.ts';
import { type Offer, readOffers } from '../orders/offer/queries.ts';
import { chipOf, readShade } from '../shelf/shade/store.ts';
import type { Asker } from '../web/house.ts';
import { MOST_NEEDS } from './basket/form.ts';
import { type BasketCase, basketCase, boltsOf, boughtOf } from './basket/job.ts';

/** Ways of putting one cloth together that are tried; of more the one that a pencil finds is taken. */
const MOST_TRIED = 4000;

interface Whole {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lengthTicks: number;
  /** the shades that it is to be dyed; none where it is bought as it is wanted */
  readonly dyed: readonly number[];
}

/**
 * What all cloth of a garment comes to in whole put-ups, were it all bought anew: for each cloth and shade the cheapest of
 * its offers by itself, with what is left over. What nobody offers in its shade and somebody does undyed is counted undyed,
 * all shades of the cloth together. Freight and least orders are of a whole order, and left to the basket.
 */
export function shapeWholeGarment(
  reader: Reader,
  worked: WorkedGarment,
  names: Names,
  { units, seesPrices }: Pick<Asker, 'units' | 'seesPrices'>,
  today: string,
) {
  const clothIds = [...new Set(worked.needs.map(({ clothId }) => clothId))];
  const widths = readUsableWidths(reader, clothIds);
  const wanted = worked.needs.flatMap((need): Whole[] => {
    const { clothId, shadeId } = need;
    const lengthTicks = lengthToCut(need.demands, widths.get(clothId) ?? 0);
    return lengthTicks === null || lengthTicks === 0 ? [] : [{ clothId, shadeId, lengthTicks, dyed: [] }];
  });
  const offers = wanted.length === 0 ? [] : readOffers(reader, today, { clothIds });
  const bought = withUndyed(reader, wanted, offers);
  const basket = caseOf(reader, bought, today);
  const rows = bought.map((whole) => {
    const place = basket.needs.findIndex(
      ({ clothId, shadeId }) => clothId === whole.clothId && shadeId === whole.shadeId,
    );
    const mix = place < 0 ? null : cheapestMix(basket.job, place);
    const said = mix && sayMix(basket, mix, { units, seesPrices });
    return {
      cloth: names.cloth(whole.clothId),
      chip: whole.dyed.length > 0 ? chipOf(readShade(reader, whole.shadeId)) : names.chip(whole.shadeId),
      /** "Deep tide and Foam", '' where it is bought in its shade */
      dyed: listed(whole.dyed.map((id) => names.chip(id).name)),
      length: showLength(basket.needs[place]?.lengthTicks ?? whole.lengthTicks, units, 'up'),
      /** null where nobody offers it */
      bought: said,
    };
  });
  const totalMinor = rows.reduce((sum, row) => sum + (row.bought?.homeMinor ?? 0), 0);
  const offered = bought.slice(0, MOST_NEEDS);
  return {
    rows: rows.map(({ bought: said, ...row }) => ({ ...row, bought: said?.view ?? null })),
    /** of what has an offer, less the discount and with tax that is not reclaimed; '' for whom prices are not for */
    total: seesPrices && totalMinor > 0 ? showMoney(totalMinor, basket.job.currency) : '',
    noOffer: rows.filter(({ bought: said }) => said === null).length,
    /** the basket filled in with all of it; '' where there is nothing */
    basket:
      offered.length === 0
        ? ''
        : address(
            '/orders/basket',
            rowsAsTyped(
              'needs',
              offered.map(({ clothId, shadeId, lengthTicks }) => ({
                cloth_id: String(clothId),
                shade_id: String(shadeId),
                length: writeLength(lengthTicks, units),
              })),
            ),
          ),
  };
}

/** What nobody offers in its shade is counted undyed, where somebody offers the cloth so. */
function withUndyed(reader: Reader, wanted: readonly Whole[], offers: readonly Offer[]): Whole[] {
  const undyed = new Map<number, Whole>();
  const asWanted: Whole[] = [];
  for (const whole of wanted) {
    const own = offers.filter(({ clothId }) => clothId === whole.clothId);
    const isOffered = own.some(({ shadeId }) => shadeId === null || shadeId === whole.shadeId);
    const ground = own.find(({ shadeId }) => shadeId !== null && readShade(reader, shadeId).ground)?.shadeId;
    if (isOffered || ground === undefined || ground === null) {
      asWanted.push(whole);
      continue;
    }
    const before = undyed.get(whole.clothId);
    undyed.set(whole.clothId, {
      clothId: whole.clothId,
      shadeId: ground,
      lengthTicks: (before?.lengthTicks ?? 0) + whole.lengthTicks,
      dyed: [...(before?.dyed ?? []), whole.shadeId],
    });
  }
  const pooled = [...undyed.values()].map((whole) => {
    // What is wanted undyed of the same cloth is bought with it.
    const same = asWanted.findIndex(
      ({ clothId, shadeId }) => clothId === whole.clothId && shadeId === whole.shadeId,
    );
    const [plain] = same < 0 ? [] : asWanted.splice(same, 1);
    return plain
      ? { ...whole, lengthTicks: whole.lengthTicks + plain.lengthTicks, dyed: [...whole.dyed, plain.shadeId] }
      : whole;
  });
  return [...asWanted, ...pooled];
}

function caseOf(reader: Reader, bought: readonly Whole[], today: string): BasketCase {
  const needs = bought.map(({ clothId, shadeId, lengthTicks }) => ({
    cloth_id: clothId,
    shade_id: shadeId,
    length: { value: lengthTicks, typed: '' },
    spare: null,
  }));
  return basketCase(reader, { needed_by: null, total_minor: null, needs, supplies: [] }, today);
}

/** The cheapest way of one need by itself, by the arithmetic of the basket. */
function cheapestMix(job: BasketJob, need: number): Mix | null {
  const lengthTicks = job.needs[need]?.lengthTicks ?? 0;
  const places = job.offers.flatMap((offer, place) => (offer.need === need ? [place] : []));
  const alone: BasketJob = {
    ...job,
    needs: [{ lengthTicks }],
    suppliers: job.suppliers.map((terms) => ({
      ...terms,
      freightMinor: 0,
      freeFromMinor: null,
      leastOrderMinor: null,
      leastOrderTicks: null,
      leastLineMinor: null,
      leastLineTicks: null,
    })),
    offers: places.flatMap((place) => {
      const offer = job.offers[place];
      return offer ? [{ ...offer, need: 0 }] : [];
    }),
  };
  const [mix] = (bestOfAll(alone, MOST_TRIED) ?? byHand(alone)).best.mixes;
  const place = mix && places[mix.offer];
  return mix && place !== undefined ? { ...mix, offer: place } : null;
}

function sayMix(basket: BasketCase, mix: Mix, { units, seesPrices }: Pick<Asker, 'units' | 'seesPrices'>) {
  const { offer } = boughtOf(basket, mix);
  const { job } = basket;
  const supplier = job.offers[mix.offer]?.supplier ?? -1;
  const priced = (what: string, minor: number) =>
    seesPrices ? `${what} ${showMoney(minor, offer.currency)}` : what;
  const bolts = boltsOf(offer, mix)
    .toSorted((a, b) => b.lengthTicks - a.lengthTicks)
    .map(({ count, lengthTicks, priceMinor }) =>
      priced(showBolts(count, lengthTicks, units), count * priceMinor),
    );
  const { byLength } = offer;
  const cut =
    mix.cutTicks > 0 && byLength
      ? [priced(`${showSold(mix.cutTicks, units)} cut`, costOfCut(mix.cutTicks, byLength))]
      : [];
  const left = boughtBeyond(job, mix);
  const terms = job.suppliers[supplier];
  const plain = terms ? { ...job, suppliers: [{ ...terms, freightMinor: 0 }] } : null;
  const sum =
    plain && supplierSum(plain, 0, { listMinor: goodsOf(offer, mix), cuts: Number(mix.cutTicks > 0) });
  return {
    homeMinor: sum?.home.totalMinor ?? 0,
    view: {
      putUps: [...bolts, ...cut],
      supplier: { name: offer.supplierName, href: supplierPath(offer.supplierId) },
      left: left < units.stepTicks ? 'nothing' : showLength(left, units, 'down'),
      /** less the discount, before freight and tax */
      cost: seesPrices ? showMoney(costOfMix(job, mix), offer.currency) : '',
    },
  };
}

/** What a garment's cloth comes to in whole put-ups, as its page shows it. */
export type WholeGarment = ReturnType<typeof shapeWholeGarment>;
