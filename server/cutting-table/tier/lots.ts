import { mayUseLot } from '../../../src/fit/tier-cuts.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import type { CutFor, HeldFor } from '../../garments/garment/done.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { countOf, listed, wordFor } from '../../kit/words.ts';
import type { Problem } from '../../refusal.ts';
import { readMeets } from '../../shelf/lot/colours.ts';
import { readLotCodes } from '../../shelf/names.ts';
import type { LotInUse, ShadeAtTable } from './shade-at-table.ts';

/** The lots of a need that are in use, in the order in which they came to be. */
export function lotsInUse(
  reader: Reader,
  garment: Garment,
  need: { readonly cut: readonly CutFor[]; readonly held: readonly HeldFor[] },
): LotInUse[] {
  const lotIds = [...new Set([...need.cut, ...need.held].map(({ lotId }) => lotId))];
  const codes = readLotCodes(reader, lotIds);
  return lotIds.map((lotId) => {
    const uses = garment.tiers.map((tier) => ({
      tierName: tier.name,
      cutStrips: sumOf(need.cut, lotId, tier.id, ({ count }) => count),
      heldTicks: sumOf(need.held, lotId, tier.id, ({ lengthTicks }) => lengthTicks),
    }));
    return {
      lotId,
      code: codes.get(lotId) ?? '',
      uses: uses.filter(({ cutStrips, heldTicks }) => cutStrips > 0 || heldTicks > 0),
    };
  });
}

/** The pairs of lots of a cloth and shade that may meet in a garment, by their recorded colours. */
export function readMeetingLots(
  reader: Reader,
  garment: Garment,
  of: { readonly clothId: number; readonly shadeId: number },
): (readonly [number, number])[] {
  const lots = reader.all(
    reader.db
      .selectFrom('lot')
      .select('id')
      .where('cloth_id', '=', of.clothId)
      .where('shade_id', '=', of.shadeId),
  );
  return readMeets(
    reader,
    lots.map(({ id }) => id),
    garment.meetCentiDeltaE,
  );
}

function sumOf<T extends { readonly lotId: number; readonly tierId: number }>(
  rows: readonly T[],
  lotId: number,
  tierId: number,
  measure: (row: T) => number,
): number {
  const mine = rows.filter((row) => row.lotId === lotId && row.tierId === tierId);
  return mine.reduce((sum, row) => sum + measure(row), 0);
}

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
