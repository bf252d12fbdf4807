import { bestWays } from '../../../src/buying/dye-or-buy.ts';
import { needKey } from '../../../src/garment/need.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { clothPath, garmentPath, shadePath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { countOf, listed } from '../../kit/words.ts';
import { showPerLength } from '../../orders/offer/put-up-words.ts';
import { unknown } from '../../refusal.ts';
import { readNeeds, type ShortLine } from '../../short/queries.ts';
import { readSelling } from '../../short/selling.ts';
import { demandsToGet, toGetOf } from '../../short/to-get.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { findWays, type ShownWay, type WaysFound } from './ways.ts';

/** The ways to get one cloth and shade that is short, beside each other; or which are short, to choose from. */
export function dyeOrBuyPage(reader: Reader, query: unknown, asker: Asker, today: string) {
  const [clothId, shadeId] = [queryNumber(query, 'cloth'), queryNumber(query, 'shade')];
  const asked = clothId !== null && shadeId !== null;
  const { lines, waiting } = readNeeds(reader, asked ? { of: new Set([needKey({ clothId, shadeId })]) } : {});
  const short = lines.filter(({ shortStrips }) => shortStrips > 0);
  const line = short.find(({ cloth, shade }) => cloth.id === clothId && shade.id === shadeId);
  if (asked && !line) throw unknown('such cloth and shade among what is short');
  const data = {
    waiting: asked ? 0 : waiting,
    short: short.map(({ cloth, shade, toOrderStrips }) => ({
      cloth: cloth.name,
      chip: { colour: shade.colour, name: shade.name },
      href: address('/orders/dye-or-buy', { cloth: cloth.id, shade: shade.id }),
      toGet: toOrderStrips === 0 ? 'is on its way' : countOf(toOrderStrips, 'strip', 'strips'),
    })),
    /** null where nothing was asked for */
    wanted: line ? shapeWanted(reader, line, asker, today) : null,
  };
  return { view: 'buying/dye-or-buy/dye-or-buy', data, title: 'Dye or buy', room: 'orders' } satisfies Page;
}

function shapeWanted(reader: Reader, line: ShortLine, asker: Asker, today: string) {
  const { cloth, shade, shares } = line;
  const sellingOf = readSelling(reader, today, [cloth.id], asker.units);
  const { neededTicks } = toGetOf(line, shares, sellingOf);
  const demands = demandsToGet(line, shares);
  const dueOn =
    shares
      .filter(({ short }) => short.shortStrips > 0)
      .flatMap(({ garment }) => garment.dueOn ?? [])
      .sort()[0] ?? null;
  const toGetStrips = demands.reduce((sum, { count }) => sum + count, 0);
  const found: WaysFound =
    toGetStrips === 0
      ? { ways: [], refused: [], recipes: 0 }
      : findWays(reader, { line, demands, neededTicks, asker, today });
  const best = bestWays(found.ways);
  return {
    cloth: { name: cloth.name, href: clothPath(cloth.id) },
    chip: { colour: shade.colour, name: shade.name, href: shadePath(shade.id) },
    strips: toGetStrips,
    length: neededTicks ? showLength(neededTicks, asker.units, 'up') : '',
    coming: sayComing(line),
    due: dueOn === null ? '' : showDay(dueOn),
    garments: shares
      .filter(({ short }) => short.shortStrips > 0)
      .map(({ garment }) => ({ code: garment.code, name: garment.name, href: garmentPath(garment.code) })),
    ways: found.ways.map((way, place) => ({
      ...shapeWay(way, { asker, dueOn, neededTicks }),
      isCheapest: place === best.cheapest,
      isSoonest: place === best.soonest,
    })),
    refused: found.refused,
    recipes: found.recipes,
    /** true for cloth that is wanted undyed */
    ground: shade.ground,
    links: {
      newRecipe: address('/dye-bench/recipes/new', { shade_id: shade.id }),
      offers: '/orders/suppliers',
      prices: '/setup/fuel',
    },
  };
}

/** What was taken off already. */
function sayComing({ inDyeStrips, onOrderStrips, dyeing, arriving }: ShortLine): string {
  const parts = [
    ...(inDyeStrips > 0
      ? [`${countOf(inDyeStrips, 'strip', 'strips')} from batch ${listed(dyeing.map(({ code }) => code))}`]
      : []),
    ...(onOrderStrips > 0
      ? [
          `${countOf(onOrderStrips, 'strip', 'strips')} from order ${listed(arriving.map(({ orderCode }) => orderCode))}`,
        ]
      : []),
  ];
  return parts.length === 0 ? '' : `Taken off already: ${parts.join(' and ')}.`;
}

function shapeWay(
  way: ShownWay,
  given: { readonly asker: Asker; readonly dueOn: string | null; readonly neededTicks: number | null },
) {
  const { asker, dueOn, neededTicks } = given;
  const { totalMinor, toSpendMinor, readyOn, unknown: without } = way;
  const atLeast = without.length > 0 ? 'at least ' : '';
  const money = (minor: number) => `${atLeast}${showMoney(minor, asker.currency)}`;
  return {
    kind: way.kind,
    name: way.name,
    href: way.href,
    parts: way.parts,
    lots: way.lots,
    risks: way.risks,
    next: way.next,
    isWhole: way.isWhole,
    total: money(totalMinor),
    totalMinor,
    /** by the length that is needed; '' where it gives less */
    perLength:
      way.isWhole && neededTicks
        ? `${atLeast}${showPerLength(totalMinor, neededTicks, asker.currency, asker.units)}`
        : '',
    /** what is still to be paid, where that is less */
    toSpend: toSpendMinor < totalMinor ? money(toSpendMinor) : '',
    toSpendMinor,
    ready: readyOn === null ? '' : showDay(readyOn),
    readyOn,
    late: readyOn !== null && dueOn !== null && readyOn > dueOn,
  };
}
