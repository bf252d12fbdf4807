import fc from 'fast-check';
import type { Flaw, PlanJob, PlanKind, PlanPiece } from '../../../src/cut-plan/job.ts';
import type { Effort } from '../../../src/cut-plan/solve.ts';

/** Enough for small jobs, without a solver. */
export const LITTLE: Effort = {
  work: 3_000_000,
  rounds: 40,
  stageRounds: 24,
  restarts: 2,
  choices: 5,
  dives: 1,
  repairs: 4,
  nodes: 0,
  regions: 0,
  turns: 1,
  solver: null,
};

export function job(parts: Partial<PlanJob> & Pick<PlanJob, 'kinds' | 'pieces'>): PlanJob {
  return { meets: [], usefulTicks: 3, tableTicks: 12, flaws: 'straddle', stacks: true, seed: 7, ...parts };
}

export function kind(kindId: number, parts: Partial<PlanKind>): PlanKind {
  const plain = {
    lengthTicks: 4,
    depthTicks: 2,
    count: 1,
    direction: 'across',
    lots: 'any',
    group: 0,
  } as const;
  return { kindId, ...plain, ...parts };
}

export function piece(pieceId: number, parts: Partial<PlanPiece>): PlanPiece {
  return { pieceId, lotId: 0, widthTicks: 10, lengthTicks: 20, flaws: [], count: 1, ...parts };
}

const size = (most: number) => fc.integer({ min: 1, max: most });

/** Any small job: sizes in small numbers, so that they meet exactly now and then. */
export const anyJob: fc.Arbitrary<PlanJob> = fc
  .record({
    kinds: fc.array(
      fc.record({
        lengthTicks: size(8),
        depthTicks: size(6),
        count: fc.integer({ min: 0, max: 9 }),
        direction: fc.constantFrom('across' as const, 'along' as const, 'either' as const),
        group: fc.integer({ min: 0, max: 1 }),
      }),
      { minLength: 1, maxLength: 4 },
    ),
    rules: fc.tuple(rule(), rule()),
    pieces: fc.array(
      fc.record({
        widthTicks: size(12),
        lengthTicks: size(24),
        lotId: fc.integer({ min: 0, max: 2 }),
        count: size(2),
        flaws: fc.array(fc.tuple(size(23), size(3), size(11), size(12)), { maxLength: 2 }),
      }),
      { minLength: 1, maxLength: 4 },
    ),
    meets: fc.constantFrom<PlanJob['meets']>(
      [],
      [[0, 1]],
      [[1, 2]],
      [
        [0, 1],
        [1, 2],
      ],
    ),
    usefulTicks: fc.integer({ min: 0, max: 8 }),
    tableTicks: size(14),
    flaws: fc.constantFrom('straddle' as const, 'skip' as const),
    stacks: fc.boolean(),
    seed: fc.integer({ min: 0, max: 99 }),
  })
  .map(({ kinds, rules, pieces, ...rest }) => ({
    ...rest,
    kinds: kinds.map((one, i) => kind(i, { ...one, lots: rules[one.group] ?? 'any' })),
    pieces: pieces.map(({ flaws, ...one }, i) => piece(i, { ...one, flaws: flawsOn(one, flaws) })),
  }));

function rule() {
  return fc.constantFrom('one' as const, 'meet' as const, 'any' as const);
}

function flawsOn(
  { lengthTicks, widthTicks }: Pick<PlanPiece, 'lengthTicks' | 'widthTicks'>,
  places: readonly (readonly [number, number, number, number])[],
): Flaw[] {
  return places.flatMap(([from, long, left, wide]) => {
    const toTicks = Math.min(lengthTicks, from + long);
    const rightTicks = Math.min(widthTicks, left - 1 + wide);
    return from < toTicks && left - 1 < rightTicks
      ? [{ fromTicks: from, toTicks, leftTicks: left - 1, rightTicks }]
      : [];
  });
}
