import type { Flaw, PlanJob, PlanKind, PlanPiece } from '../../src/cut-plan/job.ts';
import { seededRandom } from '../../src/cut-plan/random.ts';

// Invented workroom jobs, seeded: the same class and seed give the same job. Sizes in millimetres.

export const CLASSES = {
  A: 'one kind',
  B: 'kinds of one strip length',
  C: 'mixed lengths',
  D: 'mixed lengths, flaws',
  E: 'short pieces',
  F: 'lots',
  G: 'large, lots and flaws',
  M: 'inches and centimetres mixed, flaws',
  N: 'many kinds on many pieces, flaws',
} as const;

export type JobClass = keyof typeof CLASSES;

const MM = 160;
const EIGHTH_INCH = 508;

interface Traits {
  readonly kinds: readonly [number, number];
  readonly strips: readonly [number, number];
  readonly pieces: readonly [number, number];
  readonly lengthMm: readonly [number, number];
  readonly lots: readonly [number, number];
  readonly flaws: readonly [number, number];
}

const plain: Traits = {
  kinds: [3, 6],
  strips: [160, 280],
  pieces: [2, 4],
  lengthMm: [20_000, 50_000],
  lots: [1, 1],
  flaws: [0, 0],
};

const flawed: Traits = { ...plain, pieces: [4, 6], lengthMm: [12_000, 40_000], flaws: [1, 4] };

const large: Traits = {
  kinds: [30, 40],
  strips: [540, 600],
  pieces: [34, 40],
  lengthMm: [1_500, 20_000],
  lots: [1, 1],
  flaws: [0, 2],
};

const TRAITS: Readonly<Record<JobClass, Traits>> = {
  A: { ...plain, kinds: [1, 1], strips: [100, 240], pieces: [1, 3] },
  B: plain,
  C: plain,
  D: flawed,
  E: { ...plain, strips: [240, 300], pieces: [20, 36], lengthMm: [900, 6_000] },
  F: { ...plain, strips: [220, 300], pieces: [6, 9], lengthMm: [4_000, 14_000], lots: [2, 4] },
  G: { ...large, kinds: [5, 6], lots: [3, 4] },
  M: flawed,
  N: large,
};

export function workroomJob(jobClass: JobClass, seed: number): PlanJob {
  const chance = seededRandom(seed * 101 + jobClass.charCodeAt(0));
  const between = ([least, most]: readonly [number, number]) =>
    least + Math.floor(chance() * (most - least + 1));
  const traits = TRAITS[jobClass];
  const widthMm = [1120, 1370, 1400, 1480, 1500][between([0, 4])] ?? 1400;
  const kindCount = between(traits.kinds);
  const strips = between(traits.strips);
  const oneLengthMm = between([200, 1100]);
  const shares = Array.from({ length: kindCount }, () => 0.3 + chance());
  const all = shares.reduce((sum, share) => sum + share, 0);
  const lotCount = between(traits.lots);
  const kinds = shares.map((share, kindId): PlanKind => {
    const lengthMm = jobClass === 'B' ? oneLengthMm : 5 * between([40, 220]);
    return {
      kindId,
      ...sizeOf(jobClass, Math.min(lengthMm, widthMm), 5 * between([14, 90])),
      count: Math.max(1, Math.round((strips * share) / all)),
      direction: 'across',
      lots: lotCount > 1 ? 'one' : 'any',
      group: lotCount > 1 ? kindId % 3 : 0,
    };
  });
  const area = kinds.reduce((sum, k) => sum + k.count * k.lengthTicks * k.depthTicks, 0) / MM ** 2;
  const pieces = piecesFor(traits, { between, chance, widthMm, lotCount, areaMm2: area });
  return {
    kinds,
    pieces,
    meets: [],
    usefulTicks: 500 * MM,
    tableTicks: 3000 * MM,
    flaws: 'straddle',
    stacks: true,
    seed,
  };
}

/** In mixed units a strip is so many eighths of an inch deep, and a hem of whole millimetres is added to that. */
function sizeOf(
  jobClass: JobClass,
  lengthMm: number,
  depthMm: number,
): Pick<PlanKind, 'lengthTicks' | 'depthTicks'> {
  if (jobClass !== 'M') return { lengthTicks: lengthMm * MM, depthTicks: depthMm * MM };
  const eighths = (mm: number) => Math.floor((mm * MM) / EIGHTH_INCH) * EIGHTH_INCH;
  return { lengthTicks: eighths(lengthMm), depthTicks: eighths(depthMm) + (8 + (depthMm % 7)) * MM };
}

interface PieceParts {
  readonly between: (range: readonly [number, number]) => number;
  readonly chance: () => number;
  readonly widthMm: number;
  readonly lotCount: number;
  readonly areaMm2: number;
}

/** Pieces of random lengths, more of them until there is about 1.6 times the cloth that the strips cover. */
function piecesFor(traits: Traits, parts: PieceParts): PlanPiece[] {
  const { between, chance, widthMm, lotCount, areaMm2 } = parts;
  const count = between(traits.pieces);
  const pieces: PlanPiece[] = [];
  let haveMm2 = 0;
  while (pieces.length < count || haveMm2 < 1.6 * areaMm2) {
    const lengthMm = between(traits.lengthMm);
    const flaws = Array.from({ length: between(traits.flaws) }, (): Flaw => {
      const fromMm = between([0, lengthMm - 60]);
      const wide = chance() < 0.4;
      const leftMm = wide ? 0 : between([0, widthMm - 80]);
      return {
        fromTicks: fromMm * MM,
        toTicks: (fromMm + between([10, 50])) * MM,
        leftTicks: leftMm * MM,
        rightTicks: (wide ? widthMm : leftMm + between([10, 70])) * MM,
      };
    });
    pieces.push({
      pieceId: pieces.length,
      lotId: pieces.length % lotCount,
      widthTicks: widthMm * MM,
      lengthTicks: lengthMm * MM,
      flaws,
      count: 1,
    });
    haveMm2 += widthMm * lengthMm;
    if (pieces.length >= 40) break;
  }
  return pieces;
}
