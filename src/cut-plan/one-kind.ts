import { fillOf } from './fills.ts';
import type { Model } from './model.ts';
import type { Cutting } from './plan.ts';
import { planOfFills } from './plan-of-fills.ts';

/**
 * The pencil formula: n strips of one kind off one piece without flaws take ⌈n / k⌉ cut lengths, where k = ⌊width / strip
 * across⌋ lie side by side (common practice). null where there is more than one kind, piece or way round.
 *
 * It is exact: no cut length holds more than k strips side by side, however it is slit.
 */
export function cutOneKind(model: Model): Cutting | null {
  const [stock] = model.stocks;
  const [shape] = stock?.family.shapes ?? [];
  if (!stock || !shape || model.stocks.length > 1 || stock.places.length > 1) return null;
  if (stock.family.shapes.length > 1 || stock.flaws.length > 0) return null;
  if (model.counts.some((count, kind) => count > 0 && kind !== shape.kind)) return null;
  const wanted = model.counts[shape.kind] ?? 0;
  const side = Math.floor(stock.family.widthTicks / shape.acrossTicks);
  const fitting = Math.floor(stock.lengthTicks / shape.alongTicks);
  const cutLengths = Math.min(fitting, Math.ceil(wanted / side));
  const lays = Array.from({ length: cutLengths }, (_, cutLength) => {
    const columns = Math.min(side, wanted - cutLength * side);
    const slits = [{ shape, columns, stack: 1 }];
    const heightTicks = shape.alongTicks;
    return { fromTicks: cutLength * heightTicks, heightTicks, spans: [{ leftTicks: 0, slits }] };
  });
  return planOfFills(model, [fillOf(model, stock, lays)], 'formula');
}
