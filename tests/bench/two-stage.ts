import { readFileSync } from 'node:fs';
import type { PlanJob } from '../../src/cut-plan/job.ts';

// See two-stage/SOURCES.md for where the instances come from. A unit of theirs is a millimetre here.

const MM = 160;
const rowsOf = (name: string) =>
  readFileSync(new URL(`./two-stage/${name}`, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));

export interface Instance {
  readonly name: string;
  readonly bestKnown: number;
  readonly bestBound: number;
}

export function instances(): Instance[] {
  return rowsOf('optima.csv').map(([name = '', best, bound]) => ({
    name,
    bestKnown: Number(best),
    bestBound: Number(bound),
  }));
}

/** Plates as pieces whose ends are never useful; items lie one behind the other in no column (two stages). */
export function instanceJob(name: string, firstCut: 'across' | 'along'): PlanJob {
  const items = rowsOf(`${name}_items.csv`).map((row) => row.map(Number));
  const plates = rowsOf(`${name}_bins.csv`).map((row) => row.map(Number));
  const turn = (width = 0, height = 0) =>
    firstCut === 'across' ? { across: width, along: height } : { across: height, along: width };
  return {
    kinds: items.map(([, width, height, count = 0], kindId) => {
      const { across, along } = turn(width, height);
      const size = { lengthTicks: across * MM, depthTicks: along * MM };
      return { kindId, ...size, count, direction: 'across', lots: 'any', group: 0 };
    }),
    pieces: plates.map(([, width, height], pieceId) => {
      const { across, along } = turn(width, height);
      const size = { widthTicks: across * MM, lengthTicks: along * MM };
      return { pieceId, lotId: 0, ...size, flaws: [], count: 3000 };
    }),
    meets: [],
    usefulTicks: 1_000_000_000,
    tableTicks: 1,
    flaws: 'skip',
    stacks: false,
    seed: 1,
  };
}

/** Square ticks as area in the instance's own units. */
export function unitsOf(area: number): number {
  return area / MM ** 2;
}
