import type { PairAnswer } from '../../../src/colour/lot-pair.ts';
import { lotPairKey } from '../../../src/colour/lots-judged.ts';
import { mayMeet, meetingSets } from '../../../src/fit/lots.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { countOf, listed } from '../../kit/words.ts';
import type { NeedOfLots } from '../told.ts';
import type { ComparedLot } from './lots.ts';

interface Compared {
  readonly lots: readonly ComparedLot[];
  readonly ids: readonly number[];
  readonly answers: ReadonlyMap<string, PairAnswer>;
}

const MOST_SHOWN = 6;

const RULE_WORDS: Readonly<Record<NeedOfLots['rule'], string>> = {
  one: 'One lot is asked for. Choose “from matching lots” in the tier’s colour block to use a group.',
  meet: '',
  any: 'Any lots are taken.',
};

/** Which lots serve the need of a garment with least cloth. */
export function shapeNeed(need: NeedOfLots, { lots, ids, answers }: Compared, units: Units) {
  const pairs = ids.flatMap((one, at) =>
    ids
      .slice(at + 1)
      .filter((other) => answers.get(lotPairKey(one, other))?.verdict === 'may meet')
      .map((other) => [one, other] as const),
  );
  const inUse = need.inUseLotIds.filter((id) => ids.includes(id));
  const sets = meetingSets(ids, pairs).filter((set) => inUse.every((id) => set.includes(id)));
  const codeOf = (id: number) => lots.find((lot) => lot.id === id)?.code ?? '';
  const isTorn = inUse.some((one) => inUse.some((other) => !mayMeet(pairs, one, other)));
  return {
    garment: need.garment,
    wants:
      need.strips === 0
        ? 'Everything is cut or held.'
        : `${countOf(need.strips, 'strip', 'strips')} still to find, for ${listed(need.tiers)}.`,
    inUse: inUse.length === 0 ? '' : `In use already: ${listed(inUse.map(codeOf))}. What follows must match.`,
    torn: isTorn ? 'Lots are in use together that are not known to match.' : '',
    rule: need.strips === 0 ? '' : RULE_WORDS[need.rule],
    sets:
      need.strips === 0
        ? []
        : need
            .fit(sets)
            .slice(0, MOST_SHOWN)
            .map((fit, at) => ({
              lots: fit.lotIds.map(codeOf).join(' + '),
              gives: fit.missingStrips === 0 ? 'all' : `${fit.madeStrips} of ${need.strips}`,
              takes: showLength(fit.usedTicks, units, 'up'),
              isBest: at === 0,
            })),
  };
}
