import { MaxRectsPacker, PACKING_LOGIC } from 'maxrects-packer/dist/maxrects-packer.mjs';
import { type Filled, filledOf } from '../../src/cut-plan/filler.ts';
import { type FilledLay, fillOf } from '../../src/cut-plan/fills.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { choicesOfLots } from '../../src/cut-plan/lot-choices.ts';
import { type Model, modelOf, type PieceStock, type Shape } from '../../src/cut-plan/model.ts';
import { type Cutting, comparePlans } from '../../src/cut-plan/plan.ts';
import { planOfFills } from '../../src/cut-plan/plan-of-fills.ts';

/** A rule tried on every choice of lots; the best of them. */
export function bestOverLots(job: PlanJob, rule: (model: Model) => Filled): Cutting {
  const plans = choicesOfLots(job).choices.map((choice) => {
    const model = modelOf(job, (kind, lot) => choice.get(job.kinds[kind]?.group ?? -1)?.has(lot) ?? false);
    return planOfFills(model, rule(model).fills, 'naive');
  });
  return plans.reduce((best, plan) => (comparePlans(plan, best) < 0 ? plan : best));
}

interface Level {
  readonly stock: PieceStock;
  readonly piece: number;
  readonly heightTicks: number;
  readonly fromTicks: number;
  room: number;
  readonly shapes: Shape[];
}

/** First-fit decreasing height (Coffman, Garey, Johnson and Tarjan 1980) over stretches without flaws, longest first. */
export function firstFitDecreasing(model: Model): Filled {
  const pieces = model.stocks.flatMap((stock) => stock.places.map(() => stock));
  const stretches = pieces
    .flatMap((stock, piece) => clearStretches(stock).map(([from, to]) => ({ stock, piece, at: from, to })))
    .sort((a, b) => b.to - b.at - (a.to - a.at));
  const levels: Level[] = [];
  const strips = model.counts.flatMap((count, kind) => Array.from({ length: count }, () => kind));
  const along = (kind: number) => model.job.kinds[kind]?.depthTicks ?? 0;
  strips.sort((a, b) => along(b) - along(a));
  for (const kind of strips) {
    const fits = (level: Level) => {
      const shape = level.stock.family.shapes.find((one) => one.kind === kind);
      return shape && shape.acrossTicks <= level.room && shape.alongTicks <= level.heightTicks ? shape : null;
    };
    let level = levels.find((one) => fits(one));
    if (!level) {
      const open = stretches.find(({ stock, at, to }) => {
        const shape = stock.family.shapes.find((one) => one.kind === kind);
        return shape !== undefined && at + shape.alongTicks <= to;
      });
      if (!open) continue;
      const { stock, piece } = open;
      level = {
        stock,
        piece,
        heightTicks: along(kind),
        fromTicks: open.at,
        room: stock.family.widthTicks,
        shapes: [],
      };
      open.at += along(kind);
      levels.push(level);
    }
    const shape = fits(level);
    if (!shape) continue;
    level.shapes.push(shape);
    level.room -= shape.acrossTicks;
  }
  return filledOf(
    model,
    pieces.flatMap((stock, piece) => {
      const own = levels.filter((level) => level.piece === piece);
      if (own.length === 0) return [];
      own.sort((a, b) => a.fromTicks - b.fromTicks);
      const lays = own.map(
        ({ fromTicks, heightTicks, shapes }): FilledLay => ({
          fromTicks,
          heightTicks,
          spans: [{ leftTicks: 0, slits: shapes.map((shape) => ({ shape, columns: 1, stack: 1 })) }],
        }),
      );
      return [fillOf(model, stock, lays)];
    }),
  );
}

function clearStretches(stock: PieceStock): [number, number][] {
  const stretches: [number, number][] = [];
  let from = 0;
  for (const flaw of stock.flaws) {
    if (flaw.fromTicks > from) stretches.push([from, flaw.fromTicks]);
    from = Math.max(from, flaw.toTicks);
  }
  if (from < stock.lengthTicks) stretches.push([from, stock.lengthTicks]);
  return stretches;
}

/**
 * Area that a general rectangle packer takes, in square ticks: stretches without flaws, longest first, the last one
 * shortened as far as it goes. It cuts in any order, not straight through, and its ends are not charged, which flatters
 * it. Infinite where strips are left over.
 */
export function rectanglePacker(job: PlanJob): number {
  const model = modelOf({ ...job, flaws: 'skip' }, () => true);
  const stretches = model.stocks
    .flatMap((stock) =>
      stock.places.flatMap(() => clearStretches(stock).map(([from, to]) => ({ stock, long: to - from }))),
    )
    .sort((a, b) => b.long - a.long);
  let left = job.kinds.flatMap((kind) => Array.from({ length: kind.count }, () => kind));
  let area = 0;
  for (const { stock, long } of stretches) {
    if (left.length === 0) return area;
    const { widthTicks } = stock.family;
    const packed = pack(widthTicks, long, left);
    if (packed.length === left.length) return area + widthTicks * shortest(widthTicks, long, left);
    area += widthTicks * long;
    const gone = new Set(packed);
    left = left.filter((_, i) => !gone.has(i));
  }
  return left.length === 0 ? area : Number.POSITIVE_INFINITY;
}

function shortest(widthTicks: number, long: number, strips: PlanJob['kinds']): number {
  let [short, enough] = [0, long];
  while (enough - short > 800) {
    const middle = Math.round((short + enough) / 2);
    if (pack(widthTicks, middle, strips).length === strips.length) enough = middle;
    else short = middle;
  }
  return enough;
}

/** Places of the strips that fit into one rectangle. */
function pack(width: number, height: number, strips: PlanJob['kinds']): number[] {
  const options = {
    smart: false,
    pot: false,
    square: false,
    allowRotation: false,
    logic: PACKING_LOGIC.MAX_AREA,
  };
  const packer = new MaxRectsPacker(width, height, 0, options);
  packer.addArray(
    strips.flatMap(({ lengthTicks, depthTicks }, i) =>
      lengthTicks <= width && depthTicks <= height
        ? [{ width: lengthTicks, height: depthTicks, x: 0, y: 0, data: i }]
        : [],
    ) as never[],
  );
  return (packer.bins[0]?.rects ?? []).map((rect: { readonly data: unknown }) => rect.data as number);
}
