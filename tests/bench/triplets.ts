import type { PlanJob, PlanKind } from '../../src/cut-plan/job.ts';
import { seededRandom } from '../../src/cut-plan/random.ts';

const MM = 160;
const BIN_MM = 1000;

/** Items in threes that fill bins exactly, so that the least number of bins is known (after Falkenauer, 1996). */
export function tripletJob(bins: number, seed: number, way: 'pieces' | 'lays'): PlanJob {
  const chance = seededRandom(seed);
  const counts = new Map<number, number>();
  for (let n = 0; n < bins; n += 1) {
    const first = 380 + Math.floor(chance() * 111);
    const second = 250 + Math.floor(chance() * ((BIN_MM - first) / 2 - 250));
    for (const item of [first, second, BIN_MM - first - second])
      counts.set(item, (counts.get(item) ?? 0) + 1);
  }
  const kinds = [...counts].map(([item, count], kindId): PlanKind => {
    const size = way === 'lays' ? [item * MM, MM] : [MM, item * MM];
    const [lengthTicks = 0, depthTicks = 0] = size;
    return { kindId, lengthTicks, depthTicks, count, direction: 'across', lots: 'any', group: 0 };
  });
  const bin = { pieceId: 0, lotId: 0, flaws: [] };
  const piece =
    way === 'lays'
      ? { ...bin, widthTicks: BIN_MM * MM, lengthTicks: 3 * bins * MM, count: 1 }
      : { ...bin, widthTicks: MM, lengthTicks: BIN_MM * MM, count: 3 * bins };
  const usefulTicks = way === 'lays' ? 0 : BIN_MM * MM;
  return {
    kinds,
    pieces: [piece],
    meets: [],
    usefulTicks,
    tableTicks: MM,
    flaws: 'skip',
    stacks: true,
    seed,
  };
}
