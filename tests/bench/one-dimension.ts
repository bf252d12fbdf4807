import type { PlanJob, PlanKind } from '../../src/cut-plan/job.ts';
import { seededRandom } from '../../src/cut-plan/random.ts';

export const MM = 160;

/** Items by size and the bin that they go into; `bins` is the least number of bins, where it is known beforehand. */
export interface BinPacking {
  readonly name: string;
  readonly binSize: number;
  readonly items: ReadonlyMap<number, number>;
  readonly bins: number | null;
}

/** How a published class is drawn: so many items of sizes from `least` to `most`. */
interface Drawn {
  readonly name: string;
  readonly items: number;
  readonly binSize: number;
  readonly least: number;
  readonly most: number;
}

// Falkenauer's uniform classes (1996); Scholl, Klein and Jürgens' three sets (1997), the third of which is the hard one;
// Schwerin and Wäscher's two classes (1997). As their authors describe how they were drawn.
const DRAWN: readonly Drawn[] = [
  { name: 'u120', items: 120, binSize: 150, least: 20, most: 100 },
  { name: 'u250', items: 250, binSize: 150, least: 20, most: 100 },
  { name: 'u500', items: 500, binSize: 150, least: 20, most: 100 },
  { name: 'N2C1W2', items: 100, binSize: 100, least: 20, most: 100 },
  { name: 'N3C2W1', items: 200, binSize: 120, least: 1, most: 100 },
  { name: 'N4C3W4', items: 500, binSize: 150, least: 30, most: 100 },
  { name: 'N2W1B1', items: 100, binSize: 1000, least: 267, most: 400 },
  { name: 'N3W3B3', items: 200, binSize: 1000, least: 13, most: 247 },
  { name: 'N4W2B2', items: 500, binSize: 1000, least: 100, most: 300 },
  { name: 'N4W1B3', items: 500, binSize: 1000, least: 34, most: 632 },
  { name: 'HARD', items: 200, binSize: 100_000, least: 20_000, most: 35_000 },
  { name: 'BPP1', items: 100, binSize: 1000, least: 150, most: 200 },
  { name: 'BPP2', items: 120, binSize: 1000, least: 150, most: 200 },
];
/** Few enough that they can be planned in a test. */
export const BINS_OF_90: Drawn = { name: 'u90', items: 90, binSize: 150, least: 30, most: 100 };
const TRIPLETS = [60, 120, 249];

/** Two of every class, the triplets with them. */
export function binPackings(seeds: readonly number[] = [1, 2]): BinPacking[] {
  return seeds.flatMap((seed) => [...DRAWN.map((drawn) => drawBins(drawn, seed)), triplets(seed)]);
}

export function drawBins({ name, items, binSize, least, most }: Drawn, seed: number): BinPacking {
  const chance = seededRandom(7919 * seed + items + binSize + least);
  const sizes = Array.from({ length: items }, () => least + Math.floor(chance() * (most - least + 1)));
  return { name: `${name}-${seed}`, binSize, items: counted(sizes), bins: null };
}

/** Items in threes that fill bins exactly (Falkenauer 1996). */
function triplets(seed: number): BinPacking {
  const items = TRIPLETS[seed % TRIPLETS.length] ?? 60;
  const chance = seededRandom(seed);
  const sizes = Array.from({ length: items / 3 }, () => {
    const first = 380 + Math.floor(chance() * 111);
    const second = 250 + Math.floor(chance() * ((1000 - first) / 2 - 250));
    return [first, second, 1000 - first - second];
  });
  return { name: `t${items}-${seed}`, binSize: 1000, items: counted(sizes.flat()), bins: items / 3 };
}

function counted(sizes: readonly number[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const size of sizes) counts.set(size, (counts.get(size) ?? 0) + 1);
  return counts;
}

/** Bins as lays of one long piece, or as pieces of one width. */
export function binJob({ binSize, items }: BinPacking, way: 'pieces' | 'lays'): PlanJob {
  const kinds = [...items].map(([item, count], kindId): PlanKind => {
    const size = way === 'lays' ? [item * MM, MM] : [MM, item * MM];
    const [lengthTicks = 0, depthTicks = 0] = size;
    return { kindId, lengthTicks, depthTicks, count, direction: 'across', lots: 'any', group: 0 };
  });
  const all = kinds.reduce((sum, { count }) => sum + count, 0);
  const bin = { pieceId: 0, lotId: 0, flaws: [] };
  const piece =
    way === 'lays'
      ? { ...bin, widthTicks: binSize * MM, lengthTicks: all * MM, count: 1 }
      : { ...bin, widthTicks: MM, lengthTicks: binSize * MM, count: all };
  const usefulTicks = way === 'lays' ? 0 : binSize * MM;
  return {
    kinds,
    pieces: [piece],
    meets: [],
    usefulTicks,
    tableTicks: MM,
    flaws: 'skip',
    stacks: true,
    seed: 1,
  };
}
