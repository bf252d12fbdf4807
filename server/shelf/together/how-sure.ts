import { groupLots } from '../../../src/colour/lot-groups.ts';
import { type PairAnswer, type ShadeBands, USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import { judgeTwoLots, type LotEvidence, lotPairKey } from '../../../src/colour/lots-judged.ts';
import { listed } from '../../kit/words.ts';
import { sayHowSure } from './words.ts';

/** A lot as it is named where lots are compared. */
export interface NamedLot {
  readonly id: number;
  readonly code: string;
}

/** How some lots compare, each two of them, by `lotPairKey`. */
export type LotAnswers = ReadonlyMap<string, PairAnswer>;

function answersOf(evidence: LotEvidence, lotIds: readonly number[], bands: ShadeBands): LotAnswers {
  return new Map(
    lotIds.flatMap((one, at) =>
      lotIds
        .slice(at + 1)
        .map((other) => [lotPairKey(one, other), judgeTwoLots(evidence, one, other, bands)] as const),
    ),
  );
}

/** Lots in groups in which each may be sewn to each. */
export function groupByAnswers<T extends { readonly id: number }>(
  lots: readonly T[],
  answers: LotAnswers,
): T[][] {
  const answerOf = (one: number, other: number) =>
    answers.get(lotPairKey(lots[one]?.id ?? 0, lots[other]?.id ?? 0));
  const groups = groupLots({
    count: lots.length,
    mayMeet: (one, other) => answerOf(one, other)?.verdict === 'may meet',
    apart: (one, other) => answerOf(one, other)?.measured?.deltaE ?? null,
  });
  return groups.map((places) => places.flatMap((place) => lots[place] ?? []));
}

/**
 * Whether some lots of a cloth and shade may be sewn together and how sure that is, in one line; '' of fewer than two. What
 * every page says that chooses among lots.
 */
export function sayTogether(
  evidence: LotEvidence,
  lots: readonly NamedLot[],
  bands: ShadeBands = USUAL_BANDS,
): string {
  if (lots.length < 2) return '';
  const ids = lots.map(({ id }) => id);
  const answers = answersOf(evidence, ids, bands);
  const sure = sayHowSure([...answers.values()]);
  const groups = groupByAnswers(lots, answers).map((group) => group.map(({ code }) => code));
  const together = groups.filter((group) => group.length > 1).map((group) => group.join(' + '));
  const alone = groups.filter((group) => group.length === 1).flat();
  if (together.length === 0) return `${listed(alone)} are not known to match. ${sure}`;
  const rest =
    alone.length === 0
      ? ''
      : `; ${listed(alone)} ${alone.length === 1 ? 'goes by itself' : 'go by themselves'}`;
  return `${listed(together)} may be sewn together${rest}. ${sure}`;
}
