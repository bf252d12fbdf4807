import { type LotRead, NOT_READ } from './lot-colour.ts';
import { judgeLots, type LotJudgement, type PairAnswer, type ShadeBands } from './lot-pair.ts';

/** All that tells how some lots compare. */
export interface LotEvidence {
  /** by lot; one that was never read has no entry */
  readonly read: ReadonlyMap<number, LotRead>;
  /** by `lotPairKey`, of each pair the earliest first, the lot with the lower number as the first */
  readonly judgements: ReadonlyMap<string, readonly LotJudgement[]>;
}

/** Two lots, whichever is named first. */
export function lotPairKey(one: number, other: number): string {
  return one < other ? `${one} ${other}` : `${other} ${one}`;
}

/** Whether two lots may be sewn side by side; what was measured is of the first less the other. */
export function judgeTwoLots(
  { read, judgements }: LotEvidence,
  one: number,
  other: number,
  bands: ShadeBands,
): PairAnswer {
  const [low, high] = one < other ? [one, other] : [other, one];
  const answer = judgeLots(
    read.get(low) ?? NOT_READ,
    read.get(high) ?? NOT_READ,
    judgements.get(lotPairKey(low, high)) ?? [],
    bands,
  );
  return low === one ? answer : turnedRound(answer);
}

function turnedRound(answer: PairAnswer): PairAnswer {
  const difference = answer.measured?.difference;
  if (!answer.measured || !difference) return answer;
  const { l, a, b } = difference;
  return { ...answer, measured: { ...answer.measured, difference: { l: -l, a: -a, b: -b } } };
}

/** Pairs of lots that may meet, the lower number first, in order of numbers. */
export function lotsThatMeet(
  lotIds: readonly number[],
  evidence: LotEvidence,
  bands: ShadeBands,
): (readonly [number, number])[] {
  const sorted = lotIds.toSorted((a, b) => a - b);
  return sorted.flatMap((one, at) =>
    sorted
      .slice(at + 1)
      .filter((other) => judgeTwoLots(evidence, one, other, bands).verdict === 'may meet')
      .map((other) => [one, other] as const),
  );
}
