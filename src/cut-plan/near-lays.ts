import { type Fill, type FilledLay, fillOf, isAllWanted, worthOf } from './fills.ts';
import type { Slit } from './lay-values.ts';
import { chargedTicks, type Model, type PieceStock, type Shape, stackIn } from './model.ts';

const MOST_STEPS = 300_000;
const MOST_FOUND = 2000;
const ENOUGH_FOUND = 250;
/** Prices are rounded to whole square ticks a strip. */
const ROUNDING = 64;

interface Choice {
  readonly shape: Shape;
  readonly stack: number;
  readonly most: number;
  readonly value: number;
  /** value of a cell across */
  readonly density: number;
}

/**
 * Lays over the full width of a long piece that lose no more than `slack` (square ticks of cloth less what their strips
 * are worth): a plan that is better than another by more than that holds no other lays (enumeration by reduced cost).
 * The nearest come first where there are many. The search gives up after a fixed number of steps.
 */
export function nearLays(model: Model, stock: PieceStock, prices: Float64Array, slack: number): Fill[] {
  return nearestOf(slack, (most) => laysWithin(model, stock, prices, most));
}

/** What is found within more and more of the slack, until it is enough. */
function nearestOf(slack: number, within: (slack: number) => Fill[]): Fill[] {
  let nearest: Fill[] = [];
  for (const part of [0, 0.0005, 0.002, 0.02, 0.1, 0.4, 1]) {
    const found = within(slack * part + ROUNDING);
    // A search that was cut off has missed some of the nearest, which the narrower one before it found.
    nearest = found.length >= MOST_FOUND ? [...nearest, ...found] : found;
    if (nearest.length >= ENOUGH_FOUND) break;
  }
  return nearest;
}

/**
 * Fillings of a short piece without flaws by such lays, one after the other: those that lose no more than `slack` beyond
 * `least`, which no filling goes below, and give no strip too many. The nearest come first where there are many.
 */
export function nearFillings(
  model: Model,
  stock: PieceStock,
  prices: Float64Array,
  slack: number,
  least: number,
): Fill[] {
  const lays = nearLays(model, stock, prices, slack - least).flatMap((fill): PricedLay[] => {
    const worth = worthOf(fill.given, prices);
    return fill.lays.some(isOfSeveral) ? [] : [{ fill, worth, density: worth / fill.endTicks }];
  });
  lays.sort((a, b) => b.density - a.density);
  return nearestOf(slack, (most) => fillingsWithin(model, stock, lays, least + most));
}

interface PricedLay {
  readonly fill: Fill;
  readonly worth: number;
  /** worth of a tick along */
  readonly density: number;
}

/** Whether a lay is but several lays on end. */
function isOfSeveral({ spans }: FilledLay): boolean {
  const slits = spans.flatMap((span) => span.slits);
  return slits.every(({ shape, stack }) => stack > 1 && shape.alongTicks === slits[0]?.shape.alongTicks);
}

function fillingsWithin(
  model: Model,
  stock: PieceStock,
  lays: readonly PricedLay[],
  mostLoss: number,
): Fill[] {
  const { lengthTicks, usefulTicks, family } = stock;
  const { widthTicks } = family;
  const isWhole = usefulTicks >= lengthTicks;
  const shortest = Math.min(...lays.map(({ fill }) => fill.endTicks));
  const left = Int32Array.from(model.counts);
  const found: Fill[] = [];
  let steps = 0;
  const walk = (from: number, chosen: readonly FilledLay[], endTicks: number, worth: number): void => {
    if (endTicks > 0 && chargedTicks(stock, endTicks) * widthTicks - worth <= mostLoss)
      found.push(fillOf(model, stock, chosen));
    const room = lengthTicks - endTicks;
    if (room < shortest) return;
    for (let i = from; i < lays.length && steps < MOST_STEPS && found.length < MOST_FOUND; i += 1) {
      steps += 1;
      const { fill, worth: more, density } = lays[i] as PricedLay;
      const end = isWhole ? lengthTicks : endTicks;
      // What the rest could hold at the density of the best lay still to come.
      if (end * widthTicks - worth - room * Math.max(0, density - (isWhole ? 0 : widthTicks)) > mostLoss)
        return;
      const [lay] = fill.lays;
      if (!lay || fill.endTicks > room || !isAllWanted(fill.given, left)) continue;
      fill.given.forEach((n, kind) => {
        left[kind] = (left[kind] as number) - n;
      });
      walk(i, [...chosen, { ...lay, fromTicks: endTicks }], endTicks + fill.endTicks, worth + more);
      fill.given.forEach((n, kind) => {
        left[kind] = (left[kind] as number) + n;
      });
    }
  };
  walk(0, [], 0, 0);
  return found;
}

function laysWithin(model: Model, stock: PieceStock, prices: Float64Array, slack: number): Fill[] {
  const found: Fill[] = [];
  let steps = 0;
  const { heights, widthTicks } = stock.family;
  for (const heightTicks of heights) {
    const cost = heightTicks * widthTicks;
    const choices = choicesOf(model, stock, prices, heightTicks);
    // What the width that is left could hold at the density of the best choice still to come.
    const after = choices.map((_, i) => Math.max(0, ...choices.slice(i).map(({ density }) => density)));
    const walk = (at: number, room: number, worth: number, slits: readonly Slit[]): void => {
      steps += 1;
      const choice = choices[at];
      if (steps > MOST_STEPS || found.length >= MOST_FOUND) return;
      if (choice === undefined) {
        if (worth >= cost - slack && slits.length > 0) found.push(layOf(model, stock, heightTicks, slits));
        return;
      }
      if (worth + room * (after[at] ?? 0) < cost - slack) return;
      const fitting = Math.min(choice.most, Math.floor(room / choice.shape.acrossTicks));
      for (let columns = fitting; columns >= 0; columns -= 1) {
        const { shape, stack } = choice;
        const more = columns > 0 ? [...slits, { shape, stack, columns }] : slits;
        walk(at + 1, room - columns * shape.acrossTicks, worth + columns * choice.value, more);
      }
    };
    walk(0, widthTicks, 0, []);
  }
  return found;
}

function choicesOf(model: Model, stock: PieceStock, prices: Float64Array, heightTicks: number): Choice[] {
  return stock.family.shapes
    .flatMap((shape): Choice[] => {
      const wanted = model.counts[shape.kind] as number;
      const stack = stackIn(model, shape, heightTicks, wanted);
      const value = stack * (prices[shape.kind] as number);
      if (stack < 1) return [];
      return [{ shape, stack, most: Math.ceil(wanted / stack), value, density: value / shape.acrossTicks }];
    })
    .sort((a, b) => b.density - a.density);
}

function layOf(model: Model, stock: PieceStock, heightTicks: number, slits: readonly Slit[]): Fill {
  const lay: FilledLay = { fromTicks: 0, heightTicks, spans: [{ leftTicks: 0, slits }] };
  return fillOf(model, stock, [lay]);
}
