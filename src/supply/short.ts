import { fitLengths, type WantedLength } from './lengths.ts';
import type { SupplyWanted } from './wanted.ts';
import type { SupplyNeed } from './weighed.ts';

interface KeptSupply {
  readonly id: number;
  /** on hand less what is held for garments */
  readonly free: number;
  /** what is free of each of its lengths; null where it is not kept by single lengths */
  readonly freeLengths: readonly number[] | null;
}

/** What orders still bring of a supply, and in what lengths. */
export interface SupplyOnOrder {
  readonly amount: number;
  readonly lengths: readonly number[];
}

/** What is called for of a supply beyond what is held, by whom, and what of it has to be got; amounts are of its measure. */
export interface SupplyCall<S> {
  readonly supply: S;
  readonly forBatches: number;
  readonly batches: readonly string[];
  readonly forGarments: number;
  readonly garments: readonly string[];
  readonly onOrder: number;
  /** what is called for beyond what is free; a length that must be in one is short whole where none is long enough */
  readonly shortBy: number;
  /** what of that nothing on order brings */
  readonly toGet: number;
  /** of what is kept by single lengths, those that come to it */
  readonly lengthsToGet: readonly WantedLength[];
}

/**
 * What batches and garments call for of each supply, added up, against what is free and what is on order: the one figure
 * that the stock, Short, Today, the order form and the basket tell. Those to get come first, then those that are short.
 */
export function supplyCalls<S extends KeptSupply>(
  needs: readonly SupplyNeed<S>[],
  wanted: readonly SupplyWanted<S>[],
  onOrderOf: (supply: S) => SupplyOnOrder,
): SupplyCall<S>[] {
  const supplies = new Map([...needs, ...wanted].map(({ supply }) => [supply.id, supply]));
  const calls = [...supplies.values()].map((supply) => {
    const need = needs.find((each) => each.supply.id === supply.id);
    const want = wanted.find((each) => each.supply.id === supply.id);
    const [forBatches, forGarments] = [need?.amount ?? 0, want?.amount ?? 0];
    const onOrder = onOrderOf(supply);
    const short = lackedOf(supply, { amount: forBatches + forGarments, lengths: want?.lengths ?? [] });
    const coming = supply.freeLengths === null ? null : onOrder.lengths;
    const get = lackedOf({ free: onOrder.amount, freeLengths: coming }, short);
    return {
      supply,
      forBatches,
      batches: need?.batches ?? [],
      forGarments,
      garments: want?.garments ?? [],
      onOrder: onOrder.amount,
      shortBy: short.amount,
      toGet: get.amount,
      lengthsToGet: get.lengths,
    };
  });
  const urgency = ({ toGet, shortBy }: SupplyCall<S>) => Number(toGet > 0) * 2 + Number(shortBy > 0);
  return calls.toSorted((a, b) => urgency(b) - urgency(a));
}

/** What is called for beyond what is free: by single lengths where they are kept so, else by the sum. */
export function lackedOf(
  { free, freeLengths }: Omit<KeptSupply, 'id'>,
  { amount, lengths }: Pick<SupplyWanted<unknown>, 'amount' | 'lengths'>,
): Pick<SupplyWanted<unknown>, 'amount' | 'lengths'> {
  if (freeLengths === null) return { amount: Math.max(0, amount - free), lengths: [] };
  const { missing, missingTicks } = fitLengths(lengths, freeLengths);
  return { amount: missingTicks, lengths: missing };
}
