import type { SupplyMeasure } from './amount.ts';
import { lengthsStillWanted, type WantedLength } from './lengths.ts';

/** What a part of a garment takes: a length in ticks of 1/160 mm, or so many of a thing. */
export interface WantedThing {
  readonly what: string;
  readonly ticks: number | null;
  /** the single lengths of which that is the sum */
  readonly lengths: readonly WantedLength[];
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
  /** of what is kept by length, the lengths that come to it */
  readonly lengths: readonly WantedLength[];
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
    const ofEach = new Map<string, { amount: number; lengths: WantedLength[] }>();
    for (const { what, ticks, lengths, count, garment } of things) {
      const more = supply.measure === 'length' ? ticks : supply.measure === 'count' ? count : null;
      if (more === null || key(what) !== key(supply.name)) continue;
      const before = ofEach.get(garment) ?? { amount: 0, lengths: [] };
      ofEach.set(garment, { amount: before.amount + more, lengths: [...before.lengths, ...lengths] });
    }
    const open = [...ofEach]
      .map(([garment, { amount, lengths }]) => {
        const had = Math.max(0, provided(supply, garment));
        return { garment, amount: amount - had, lengths: lengthsStillWanted(lengths, had) };
      })
      .filter(({ amount }) => amount > 0);
    if (open.length === 0) return [];
    return [
      {
        supply,
        amount: open.reduce((sum, each) => sum + each.amount, 0),
        lengths: supply.measure === 'length' ? open.flatMap(({ lengths }) => lengths) : [],
        garments: open.map(({ garment }) => garment),
      },
    ];
  });
}
