import { type PairAnswer, USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import type { Reader } from '../../database/book.ts';
import { togetherPath } from '../../kit/paths.ts';
import { readLotsToCompare } from '../together/lots.ts';
import { sayHowSure, sayPairOfLots } from '../together/words.ts';
import { readLotEvidence } from './store.ts';

/** So many other lots are named; the page of the shade has them all. */
const MOST_OTHERS = 8;

interface LotOfShade {
  readonly id: number;
  readonly code: string;
  readonly cloth_id: number;
  readonly shade_id: number;
  readonly joined_to_id: number | null;
}

/** Whether a lot may be sewn to the others of its cloth and shade that lie on the shelf, and how sure that is. */
export function shapeOtherLots(reader: Reader, lot: LotOfShade) {
  const of = { clothId: lot.cloth_id, shadeId: lot.shade_id };
  const own = lot.joined_to_id ?? lot.id;
  const others = readLotsToCompare(reader, of).filter(({ id }) => id !== own);
  const evidence = readLotEvidence(reader, [own, ...others.map(({ id }) => id)]);
  const pairs = others.map((other) => ({
    ...other,
    ...sayPairOfLots(evidence, [own, other.id], USUAL_BANDS, null),
  }));
  const answers: PairAnswer[] = pairs.map(({ answer }) => answer);
  return {
    /** '' where no other lot lies there */
    sure: sayHowSure(answers),
    rows: pairs.slice(-MOST_OTHERS).map(({ code, href, said, sure }) => ({ code, href, said, sure })),
    left: Math.max(0, pairs.length - MOST_OTHERS),
    href: togetherPath(of),
  };
}
