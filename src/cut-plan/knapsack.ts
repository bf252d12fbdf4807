/** Something to fill a width with: up to `most` of them, each so wide and worth so much. */
export interface Item {
  readonly cells: number;
  readonly most: number;
  readonly value: number;
}

/**
 * The best value that fits into each width from 0 to `cells`, into `best` (of cells + 1 places).
 *
 * Dynamic programming over whole cells (Gilmore and Gomory, Operations Research 13, 1965): exact where values are
 * whole numbers. An item that fits no more often than it may be taken is filled in without counting.
 */
export function fillValues(items: readonly Item[], cells: number, best: Float64Array): void {
  best.fill(0, 0, cells + 1);
  for (const { cells: width, most, value } of items) {
    if (most >= Math.floor(cells / width)) {
      for (let c = width; c <= cells; c += 1) {
        const with1 = (best[c - width] as number) + value;
        if (with1 > (best[c] as number)) best[c] = with1;
      }
    } else {
      for (const lot of binaryLots(most)) {
        const [wide, worth] = [lot * width, lot * value];
        for (let c = cells; c >= wide; c -= 1) {
          const withLot = (best[c - wide] as number) + worth;
          if (withLot > (best[c] as number)) best[c] = withLot;
        }
      }
    }
  }
}

/** How many of each item make the best filling of a width of `cells`, in the order of the items. */
export function bestFilling(items: readonly Item[], cells: number): number[] {
  const best = new Float64Array(cells + 1);
  const steps: { item: number; lot: number; width: number; taken: Uint16Array }[] = [];
  items.forEach(({ cells: width, most, value }, item) => {
    if (most >= Math.floor(cells / width)) {
      const taken = new Uint16Array(cells + 1);
      for (let c = width; c <= cells; c += 1) {
        const with1 = (best[c - width] as number) + value;
        if (with1 > (best[c] as number)) {
          best[c] = with1;
          taken[c] = (taken[c - width] as number) + 1;
        }
      }
      steps.push({ item, lot: 1, width, taken });
      return;
    }
    for (const lot of binaryLots(most)) {
      const taken = new Uint16Array(cells + 1);
      const [wide, worth] = [lot * width, lot * value];
      for (let c = cells; c >= wide; c -= 1) {
        const withLot = (best[c - wide] as number) + worth;
        if (withLot > (best[c] as number)) {
          best[c] = withLot;
          taken[c] = 1;
        }
      }
      steps.push({ item, lot, width, taken });
    }
  });
  const counts = items.map(() => 0);
  let c = cells;
  for (const { item, lot, width, taken } of steps.reverse()) {
    const count = (taken[c] as number) * lot;
    counts[item] = (counts[item] as number) + count;
    c -= count * width;
  }
  return counts;
}

/** 1, 2, 4, … and a rest: any number up to `most` is a sum of some of them. */
function binaryLots(most: number): number[] {
  const lots: number[] = [];
  let left = most;
  for (let lot = 1; left > 0; lot *= 2) {
    lots.push(Math.min(lot, left));
    left -= lot;
  }
  return lots;
}
