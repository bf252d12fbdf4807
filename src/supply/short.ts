import type { SupplyWanted } from './wanted.ts';
import type { SupplyNeed } from './weighed.ts';

interface KeptSupply {
  readonly id: number;
  /** on hand less what is held for garments */
  readonly free: number;
}

/** What is called for of a supply beyond what is held, by whom, and what of it has to be got; amounts are of its measure. */
export interface SupplyCall<S> {
  readonly supply: S;
  readonly forBatches: number;
  readonly batches: readonly string[];
  readonly forGarments: number;
  readonly garments: readonly string[];
  readonly onOrder: number;
  /** what is called for beyond what is free */
  readonly shortBy: number;
  /** what of that nothing on order brings */
  readonly toGet: number;
}

/**
 * What batches and garments call for of each supply, added up, against what is free and what is on order: the one figure
 * that the stock, Short, Today, the order form and the basket tell. Those to get come first, then those that are short.
 */
export function supplyCalls<S extends KeptSupply>(
  needs: readonly SupplyNeed<S>[],
  wanted: readonly SupplyWanted<S>[],
  onOrderOf: (supply: S) => number,
): SupplyCall<S>[] {
  const supplies = new Map([...needs, ...wanted].map(({ supply }) => [supply.id, supply]));
  const calls = [...supplies.values()].map((supply) => {
    const need = needs.find((each) => each.supply.id === supply.id);
    const want = wanted.find((each) => each.supply.id === supply.id);
    const [forBatches, forGarments] = [need?.amount ?? 0, want?.amount ?? 0];
    const onOrder = onOrderOf(supply);
    const shortBy = Math.max(0, forBatches + forGarments - supply.free);
    return {
      supply,
      forBatches,
      batches: need?.batches ?? [],
      forGarments,
      garments: want?.garments ?? [],
      onOrder,
      shortBy,
      toGet: Math.max(0, shortBy - onOrder),
    };
  });
  const urgency = ({ toGet, shortBy }: SupplyCall<S>) => Number(toGet > 0) * 2 + Number(shortBy > 0);
  return calls.toSorted((a, b) => urgency(b) - urgency(a));
}
