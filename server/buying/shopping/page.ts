import type { Mix } from '../../../src/buying/basket/job.ts';
import { costOfCut, priceAt } from '../../../src/buying/offer.ts';
import { needKey } from '../../../src/garment/need.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { orderPath, supplierPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { listed, wordFor } from '../../kit/words.ts';
import { showBolts, showLinePrice, showPrice, showSold } from '../../orders/offer/put-up-words.ts';
import type { Order, OrderLine } from '../../orders/order/queries.ts';
import { shapeSums } from '../../orders/order/sums.ts';
import { readCloth } from '../../shelf/cloth/store.ts';
import { chipOf, readShade } from '../../shelf/shade/store.ts';
import { sayToGet, type ToGet } from '../../short/to-get.ts';
import type { SupplyOrderLine } from '../../supplies/ordered.ts';
import { sayPutUps } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { MOST_NEEDS } from '../basket/form.ts';
import { type BasketCase, boltsOf, boughtOf } from '../basket/job.ts';
import type { PlannedBasket } from '../basket/plan.ts';
import { shopsOf } from '../basket/shops.ts';
import { sayLeftOut } from '../basket/words.ts';

/** What to fetch, shop by shop: to be taken along on paper or on the phone. Nothing of it is kept. */
export function shoppingPage(data: ReturnType<typeof listDrafts> | ReturnType<typeof listShort>) {
  return { view: 'buying/shopping/shopping', data, title: 'Shopping list', room: 'orders' } satisfies Page;
}

/** What the drafts would buy, and what is short that no draft has all of. */
export function listDrafts(reader: Reader, asker: Asker, drafts: readonly Order[], toBuy: readonly ToGet[]) {
  const shops = drafts.map((order) => {
    const sums = shapeSums(order, asker.currency);
    return {
      name: order.supplierName,
      href: supplierPath(order.supplierId),
      order: {
        code: order.code,
        href: orderPath(order.code),
        expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
      },
      supplies: order.supplies.map((line) => fetchOfSupply(line, order.terms.currency, asker.units)),
      fetches: [...grouped(order.lines, needKey).values()].map((lines) =>
        fetchOfDraft(reader, order, lines, asker.units),
      ),
      /** what the cloth comes to here; '' where no price is known */
      goods: sums.net || sums.total,
      besides: besides(sums),
    };
  });
  const drafted = new Map<string, number>();
  for (const line of drafts.flatMap(({ lines }) => lines)) {
    drafted.set(needKey(line), (drafted.get(needKey(line)) ?? 0) + line.orderedTicks);
  }
  const rest = toBuy.flatMap((one) => {
    const { line, toGet } = one;
    const hasTicks = drafted.get(needKey({ clothId: line.cloth.id, shadeId: line.shade.id })) ?? 0;
    return hasTicks < (toGet.neededTicks ?? 0) ? [fetchOfShort(reader, one, hasTicks, asker.units)] : [];
  });
  const other =
    toBuy.length > 0 ? { href: '/orders/shopping?from=short', text: 'Show all that is short' } : null;
  return { from: 'drafts' as const, other, wantedBy: '', shops, rest, leftOut: [] };
}

/** The cheapest basket for all that is short, and what nobody offers or a basket has no room for. */
export function listShort(
  reader: Reader,
  asker: Asker,
  { basket, plan }: PlannedBasket,
  short: {
    readonly drafts: readonly Order[];
    readonly toBuy: readonly ToGet[];
    readonly neededBy: string | null;
  },
) {
  const shops = (plan ? shopsOf(basket, plan.best) : []).map(({ seller, mixes, supplies, sum }) => {
    const money = (minor: number) => showMoney(minor, seller.terms.currency);
    return {
      name: seller.name,
      href: supplierPath(seller.id),
      order: null,
      supplies: supplies.flatMap(({ offer, choice }) =>
        choice.bought.map(({ count, priceMinor, ...each }) =>
          fetchOfSupply(
            {
              ...each,
              supplyName: offer.supplyName,
              measure: offer.measure,
              article: offer.article,
              putUps: count,
              costMinor: count * priceMinor,
            },
            offer.currency,
            asker.units,
          ),
        ),
      ),
      fetches: mixes.map((mix) => fetchOfMix(reader, basket, mix, asker.units)),
      goods: money(sum.goodsMinor),
      besides: besides({
        cutFees: sum.cutFeesMinor > 0 ? money(sum.cutFeesMinor) : '',
        freight: sum.freightMinor > 0 ? money(sum.freightMinor) : '',
        tax: sum.taxMinor > 0 ? money(sum.taxMinor) : '',
      }),
    };
  });
  const isUnmet = ({ line: { cloth, shade } }: ToGet) =>
    basket.unmet.some(({ clothId, shadeId }) => clothId === cloth.id && shadeId === shade.id);
  const rest = short.toBuy.filter((one, at) => at >= MOST_NEEDS || isUnmet(one));
  const other =
    short.drafts.length > 0 ? { href: '/orders/shopping?from=drafts', text: 'Only what is drafted' } : null;
  return {
    from: 'short' as const,
    /** the other list, where there is one */
    other,
    wantedBy: short.neededBy === null ? '' : showDay(short.neededBy),
    shops,
    /** what is short and stands under no shop */
    rest: rest.map((one) => fetchOfShort(reader, one, 0, asker.units)),
    leftOut: basket.leftOut.map((out) => sayLeftOut(out, asker)),
  };
}

/** "2 × box of 50 pieces", with its cost; '' where no price is known. */
function fetchOfSupply(
  line: Pick<
    SupplyOrderLine,
    'supplyName' | 'measure' | 'article' | 'putUps' | 'putUp' | 'amount' | 'costMinor'
  >,
  currency: string,
  units: Units,
) {
  return {
    name: line.supplyName,
    article: line.article,
    what: sayPutUps(line.putUps, line, line.measure, units),
    cost: line.costMinor === null ? '' : showMoney(line.costMinor, currency),
  };
}

function fetchOfDraft(reader: Reader, order: Order, lines: readonly OrderLine[], units: Units) {
  const [first] = lines;
  if (!first) throw new Error('a cloth of a draft has a line');
  const money = (minor: number) => showMoney(minor, order.terms.currency);
  return {
    ...wareOf(reader, first, units),
    article: first.article,
    lengths: lines.map(({ bolts, orderedTicks, price, costMinor }) => ({
      what: bolts === null ? showSold(orderedTicks, units) : showBolts(bolts, orderedTicks / bolts, units),
      price: showLinePrice({ bolts, price }, order.terms.currency),
      cost: costMinor === null ? '' : money(costMinor),
    })),
    lot: lotNote(
      lines.reduce((sum, { bolts }) => sum + (bolts ?? 0), 0),
      lines.filter(({ bolts }) => bolts === null).length,
    ),
  };
}

function fetchOfMix(reader: Reader, basket: BasketCase, mix: Mix, units: Units) {
  const { offer, need } = boughtOf(basket, mix);
  const money = (minor: number) => showMoney(minor, offer.currency);
  const bolts = boltsOf(offer, mix).map(({ count, lengthTicks, priceMinor }) => ({
    what: showBolts(count, lengthTicks, units),
    price: `${money(priceMinor)} a bolt`,
    cost: money(count * priceMinor),
  }));
  const { byLength } = offer;
  const cut =
    mix.cutTicks === 0 || !byLength
      ? []
      : [
          {
            what: showSold(mix.cutTicks, units),
            price: showPrice(priceAt(mix.cutTicks, byLength), offer.currency),
            cost: money(costOfCut(mix.cutTicks, byLength)),
          },
        ];
  return {
    ...wareOf(reader, need, units),
    article: offer.article,
    lengths: [...bolts, ...cut],
    lot: lotNote(
      mix.bolts.reduce((sum, count) => sum + count, 0),
      cut.length,
    ),
  };
}

function fetchOfShort(reader: Reader, { line, toGet }: ToGet, draftedTicks: number, units: Units) {
  const length = sayToGet(toGet.ticks, units);
  const has = draftedTicks > 0 ? `, of which the drafts have ${showLength(draftedTicks, units, 'down')}` : '';
  return {
    ...wareOf(reader, { clothId: line.cloth.id, shadeId: line.shade.id }, units),
    article: '',
    lengths: [{ what: `${length} or more${has}`, price: '', cost: '' }],
    lot: lotNote(0, 1),
  };
}

function wareOf(reader: Reader, ids: { readonly clothId: number; readonly shadeId: number }, units: Units) {
  const cloth = readCloth(reader, ids.clothId);
  const usable = showSize(cloth.usableWidthTicks, units, 'up');
  return {
    cloth: cloth.name,
    chip: chipOf(readShade(reader, ids.shadeId)),
    width: `${showSize(cloth.widthTicks, units, 'near')} wide, ${usable} usable at least`,
  };
}

/** What must be minded so that it is one shade. */
function lotNote(bolts: number, cuts: number): string {
  if (bolts === 0)
    return wordFor(cuts, 'One lot: in one length, off one bolt.', 'One lot: all off one bolt.');
  return wordFor(bolts + cuts, 'One whole bolt.', 'All of one lot: look at the lot on every bolt.');
}

/** "freight €9.00 and tax €3.70": what is not counted in the cloth. */
function besides({
  cutFees,
  freight,
  tax,
}: {
  readonly cutFees: string;
  readonly freight: string;
  readonly tax: string;
}): string {
  const parts = [
    cutFees && `cut fees ${cutFees}`,
    freight && `freight ${freight}`,
    tax && `tax ${tax}`,
  ].filter((part) => part !== '');
  return listed(parts);
}
