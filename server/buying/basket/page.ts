import type { Basket } from '../../../src/buying/basket/job.ts';
import type { BasketPlan } from '../../../src/buying/basket/plan.ts';
import { needKey } from '../../../src/garment/need.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, clothChoices, shadeChoices, withBlank } from '../../kit/choices.ts';
import { countTyped } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { showDay } from '../../kit/when.ts';
import { readDrafts } from '../../orders/order/queries.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type TypedRow, typedRows } from '../../web/typed-rows.ts';
import { MOST_NEEDS } from './form.ts';
import type { BasketCase, BasketNeed } from './job.ts';
import type { PlannedBasket } from './plan.ts';
import { type SellerView, shapeSellers } from './sellers.ts';
import { sayLeftOut, sayWhy } from './words.ts';

const BLANK_NEEDS = 2;
const NEED_FIELDS = ['cloth_id', 'shade_id', 'length', 'spare'] as const;
type NeedField = (typeof NEED_FIELDS)[number];

export interface BasketData {
  readonly requestKey: string;
  readonly cloths: readonly Choice[];
  readonly shades: readonly Choice[];
  readonly unit: 'm' | 'yd';
  readonly neededBy: string;
  readonly rows: readonly TypedRow<NeedField>[];
  /** the form as it was typed, to be sent with the drafts */
  readonly sent: readonly { readonly name: string; readonly value: string }[];
  readonly fromShort: boolean;
  /** what is short besides, for which one basket has no room */
  readonly further: number;
  /** null where nothing is asked for, or nobody offers it */
  readonly basket: BasketView | null;
  /** drafts with some of it already: Short does not count on drafts */
  readonly drafts: readonly { readonly code: string; readonly href: string }[];
  readonly unmet: readonly string[];
  readonly leftOut: readonly string[];
}

export interface BasketView {
  readonly total: string;
  readonly totalMinor: number;
  readonly arrives: string;
  readonly sellers: readonly SellerView[];
  /** whether it is proved that nothing is cheaper */
  readonly proved: boolean;
  readonly second: {
    readonly total: string;
    readonly more: string;
    readonly why: readonly string[];
    readonly sellers: readonly SellerView[];
  } | null;
}

/** The basket page: what to buy where, and the needs it is worked out for. */
export function basketPage(
  reader: Reader,
  asker: Asker,
  today: string,
  typed: Typed,
  planned: PlannedBasket | null,
  { fromShort, further } = { fromShort: false, further: 0 },
): Page {
  const [cloths, shades] = [clothChoices(reader), shadeChoices(reader)];
  const data: BasketData = {
    requestKey: mintKey(),
    cloths: withBlank(cloths, 'no cloth'),
    shades: withBlank(shades, 'no shade'),
    unit: lengthUnit(asker.units),
    neededBy: typed.needed_by ?? '',
    rows: typedNeeds(typed),
    sent: Object.entries(typed)
      .filter(([name, value]) => value !== '' && (name === 'needed_by' || name.startsWith('needs.')))
      .map(([name, value]) => ({ name, value })),
    fromShort,
    further,
    basket: planned?.plan ? shapeBasket(reader, planned.basket, planned.plan, asker, today) : null,
    drafts: planned ? draftsOf(reader, planned.basket) : [],
    unmet: planned?.basket.unmet.map((need) => sayNeed(need, cloths, shades, asker)) ?? [],
    leftOut: planned?.basket.leftOut.map((out) => sayLeftOut(out, asker)) ?? [],
  };
  return { view: 'buying/basket/basket', data, title: 'Basket', room: 'orders' };
}

function shapeBasket(
  reader: Reader,
  basket: BasketCase,
  { best, second, proved }: BasketPlan,
  asker: Asker,
  today: string,
): BasketView {
  const home = basket.job.currency;
  const shape = (one: Basket) => shapeSellers(reader, basket, one, asker, today);
  const sellers = shape(best);
  const last = sellers.map(({ comesOn }) => comesOn).sort();
  const more = second ? second.totalMinor - best.totalMinor : 0;
  return {
    total: showMoney(best.totalMinor, home),
    totalMinor: best.totalMinor,
    arrives: last.includes('') ? '' : showDay(last.at(-1) ?? today),
    sellers,
    proved,
    second: second && {
      total: showMoney(second.totalMinor, home),
      more: more === 0 ? 'costs the same' : `costs ${showMoney(more, home)} more`,
      why: sayWhy(basket, best, second),
      sellers: shape(second),
    },
  };
}

function draftsOf(reader: Reader, { needs, unmet }: BasketCase) {
  const wanted = new Set([...needs, ...unmet].map(needKey));
  return readDrafts(reader)
    .filter(({ lines }) => lines.some((line) => wanted.has(needKey(line))))
    .map(({ code }) => ({ code, href: `/orders/${code}` }));
}

function sayNeed(
  { clothId, shadeId, lengthTicks }: BasketNeed,
  cloths: readonly Choice[],
  shades: readonly Choice[],
  { units }: Asker,
): string {
  const nameOf = (choices: readonly Choice[], id: number) =>
    choices.find(({ value }) => value === String(id))?.label ?? '';
  return `${nameOf(cloths, clothId)}, ${nameOf(shades, shadeId)}: ${showLength(lengthTicks, units, 'up')}`;
}

function typedNeeds(typed: Typed): TypedRow<NeedField>[] {
  const count = Math.min(countTyped(typed, 'needs') + BLANK_NEEDS, MOST_NEEDS);
  return typedRows(typed, 'needs', NEED_FIELDS, count);
}
