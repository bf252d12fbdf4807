import type { Reason } from '../../src/fit/reasons.ts';
import type { Share } from '../../src/fit/sharing.ts';
import { showLength, showSize, type Units } from '../../src/quantity/length-show.ts';
import { countOf, listed, wordFor } from '../kit/words.ts';
import type { ShortLine } from './queries.ts';

type Lots = ShortLine['lots'];

/** Why strips of one garment are short although there may be length, in sentences. */
export function sayReasons<G>(share: Share<G>, lots: Lots, units: Units): string[] {
  const { short, takenTicks } = share;
  if (short.shortStrips === 0) return [];
  const taken =
    takenTicks > 0
      ? [`Garments that are due before this one take ${showLength(takenTicks, units, 'up')} of what is free.`]
      : [];
  return [...taken, ...short.reasons.map((reason) => say(reason, share, lots, units))];
}

function say<G>(reason: Reason, share: Share<G>, lots: Lots, units: Units): string {
  const length = (ticks: number) => showLength(ticks, units, 'down');
  switch (reason.kind) {
    case 'nothing free':
      return share.takenTicks > 0 ? 'Nothing else is free.' : 'None of it is free on the shelf.';
    case 'used up':
      return `${length(reason.usedTicks)} in ${countOf(reason.pieces, 'free piece', 'free pieces')} is cut up to the end.`;
    case 'too short': {
      const deep = showSize(reason.depthTicks, units, 'up');
      return `${length(reason.freeTicks)} is free in ${countOf(reason.pieces, 'piece', 'pieces')} shorter than a strip, which takes ${deep}.`;
    }
    case 'too narrow': {
      const long = showSize(reason.lengthTicks, units, 'up');
      return `${length(reason.freeTicks)} is free in ${countOf(reason.pieces, 'piece', 'pieces')} narrower than a strip is long, ${long}.`;
    }
    case 'flaws':
      return `${length(reason.freeTicks)} is free in ${countOf(reason.pieces, 'piece', 'pieces')} with flaws that leave no room for a strip.`;
    case 'ends':
      return `${length(reason.freeTicks)} would be left at the ${wordFor(reason.pieces, 'end of 1 piece', `ends of ${reason.pieces} pieces`)}: too little for another strip.`;
    case 'other lots':
      return sayLots(reason, share, lots, length);
    case 'held in other lots':
      return `${length(reason.heldTicks)} is held in another lot than the rest, and ${rule(share)}.`;
    case 'held unused':
      return `${length(reason.heldTicks)} is held that gives no further strip.`;
  }
}

/** The lengths lot by lot, the lot in use first: their sum is what misleads. */
function sayLots<G>(
  reason: Extract<Reason, { kind: 'other lots' }>,
  share: Share<G>,
  lots: Lots,
  length: (ticks: number) => string,
): string {
  const { free, short } = share;
  const codeOf = (id: number) => lots.find((lot) => lot.id === id)?.code ?? '';
  const freeOf = (id: number) =>
    free.filter(({ lotId }) => lotId === id).reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  const inLots = [...short.freeLotIds, ...reason.lotIds]
    .filter((id) => freeOf(id) > 0)
    .map((id) => `${length(freeOf(id))} in lot ${codeOf(id)}`);
  const cutLots = short.cutStrips > 0 ? short.freeLotIds.filter((id) => freeOf(id) === 0) : [];
  const cut = cutLots.length > 0 ? `What is cut came from lot ${listed(cutLots.map(codeOf))}. ` : '';
  const more =
    reason.strips > 0 ? ` Any other lot would give ${countOf(reason.strips, 'strip', 'strips')} more.` : '';
  return `${cut}${inLots.join(', ')} ${wordFor(inLots.length, 'is', 'are')} free, and ${rule(share)}.${more}`;
}

function rule<G>({ need }: Share<G>): string {
  return need.lots === 'meet'
    ? 'only lots found to match may be sewn together: these were not'
    : 'one lot is wanted';
}
