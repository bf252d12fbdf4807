import { type Fill, fillOf } from './fills.ts';
import type { Model } from './model.ts';

/**
 * The same lays on fewer pieces, where some piece's lays all fit behind those of others that are cut anyway and no more
 * is charged for: nobody likes to begin a piece for nothing. Pieces with flaws stay as they are.
 */
export function onFewerPieces(model: Model, fills: readonly Fill[]): Fill[] {
  let kept = [...fills];
  const movable = fills.filter(isPlain).sort((a, b) => a.endTicks - b.endTicks);
  for (const fill of movable) {
    // One that has taken in others has become another filling and is not moved again.
    if (model.meter.isSpent) break;
    model.meter.lesser += kept.length * (2 + fill.lays.length);
    if (!kept.includes(fill)) continue;
    kept =
      movedBehind(
        model,
        fill,
        kept.filter((one) => one !== fill),
      ) ?? kept;
  }
  return kept;
}

function isPlain({ stock }: Fill): boolean {
  return stock.flaws.length === 0 && stock.buying === undefined;
}

/** The other fillings with the lays of one behind theirs, longest first; null where they do not fit or are charged more. */
function movedBehind(model: Model, gone: Fill, others: readonly Fill[]): Fill[] | null {
  const result = [...others];
  const lays = [...gone.lays].sort((a, b) => b.heightTicks - a.heightTicks);
  let more = 0;
  for (const lay of lays) {
    const i = result.findIndex(
      (one) =>
        one.stock.family === gone.stock.family &&
        isPlain(one) &&
        one.stock.lengthTicks - one.endTicks >= lay.heightTicks,
    );
    const into = result[i];
    if (!into) return null;
    const moved = fillOf(model, into.stock, [...into.lays, { ...lay, fromTicks: into.endTicks }]);
    more += moved.chargedArea - into.chargedArea;
    result[i] = moved;
  }
  return more <= gone.chargedArea ? result : null;
}
