import { mayUseLot } from '../../../src/fit/tier-cuts.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { bandsOf, type Garment } from '../../garments/garment/records.ts';
import { countOf, listed, wordFor } from '../../kit/words.ts';
import type { Problem } from '../../refusal.ts';
import { readLotEvidence } from '../../shelf/lot/store.ts';
import { sayTogether } from '../../shelf/together/how-sure.ts';
import type { PieceForTier } from './piece.ts';
import type { LotInUse, ShadeAtTable } from './table.ts';

/** What stands against a second lot of a shade, at the tick that lets the lots meet; nothing where it is ticked. */
export function secondLotProblems(
  shade: ShadeAtTable,
  piece: { readonly code: string; readonly lotId: number; readonly lotCode: string },
  lotsMayMeet: boolean,
  units: Units,
): Problem[] {
  if (lotsMayMeet || mayUseLot(shade, piece.lotId)) return [];
  const rule =
    shade.lots === 'meet' ? 'it is not known to meet what is used, as the rule asks' : 'one lot is wanted';
  const message = `${piece.code} is of lot ${piece.lotCode}, and ${rule}: ${sayLotsInUse(shade.inUse, units)}. Tick “lots may meet” to use both.`;
  return [{ field: 'lots_meet', message }];
}

/** What a piece of another lot is to match, and how sure it is that it does; '' where it needs to match nothing else. */
export function sayLotsToMatch(
  reader: Reader,
  garment: Garment,
  { shade, state, lotCode }: Pick<PieceForTier, 'shade' | 'state' | 'lotCode'>,
  units: Units,
): string {
  if (mayUseLot(shade, state.lotId)) return '';
  const lots = [
    ...shade.inUse.map(({ lotId: id, code }) => ({ id, code })),
    { id: state.lotId, code: lotCode },
  ];
  const evidence = readLotEvidence(
    reader,
    lots.map(({ id }) => id),
  );
  return `${sayLotsInUse(shade.inUse, units)}. ${sayTogether(evidence, lots, bandsOf(garment))}`;
}

/** "lot L3 is in use (4 strips cut for Tier 1; 2.64 m held for Tier 2)". */
export function sayLotsInUse(inUse: readonly LotInUse[], units: Units): string {
  const lots = inUse.map(({ code, uses }) => {
    const said = uses.map(({ tierName, cutStrips, heldTicks }) => {
      const parts = [
        ...(cutStrips > 0 ? [`${countOf(cutStrips, 'strip', 'strips')} cut`] : []),
        ...(heldTicks > 0 ? [`${showLength(heldTicks, units, 'down')} held`] : []),
      ];
      return `${listed(parts)} for ${tierName}`;
    });
    return `${code} (${said.join('; ')})`;
  });
  return `${wordFor(lots.length, 'lot', 'lots')} ${listed(lots)} ${wordFor(lots.length, 'is', 'are')} in use`;
}
