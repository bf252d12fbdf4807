import type { SupplyMeasure } from './amount.ts';

/** What a part of a garment takes: a length in ticks of 1/160 mm, or so many of a thing. */
export interface WantedThing {
  readonly what: string;
  readonly ticks: number | null;
  readonly count: number | null;
  readonly garment: string;
}

interface NamedSupply {
  readonly name: string;
  readonly measure: SupplyMeasure;
}

/** What garments still take of a supply, in its measure, and which. */
export interface SupplyWanted<S> {
  readonly supply: S;
  readonly amount: number;
  readonly garments: readonly string[];
}

/**
 * What garments want of the supplies that go by the name of what they want. A length is wanted
 * of what is kept by length, a number of what is kept by the piece. `provided` is what was
 * used of a supply for a garment already or is held for it: it is wanted no more.
 */
export function suppliesWanted<S extends NamedSupply>(
  things: readonly WantedThing[],
  supplies: readonly S[],
  provided: (supply: S, garment: string) => number,
): SupplyWanted<S>[] {
  const key = (name: string) => name.trim().toLowerCase();
  return supplies.flatMap((supply) => {
    const ofEach = new Map<string, number>();
    for (const { what, ticks, count, garment } of things) {
      const amount = supply.measure === 'length' ? ticks : supply.measure === 'count' ? count : null;
      if (amount === null || key(what) !== key(supply.name)) continue;
      ofEach.set(garment, (ofEach.get(garment) ?? 0) + amount);
    }
    const open = [...ofEach]
      .map(([garment, amount]) => ({ garment, amount: amount - provided(supply, garment) }))
      .filter(({ amount }) => amount > 0);
    const amount = open.reduce((sum, each) => sum + each.amount, 0);
    return open.length === 0 ? [] : [{ supply, amount, garments: open.map(({ garment }) => garment) }];
  });
}
