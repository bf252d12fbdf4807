import { type Lab, labToScreen } from '../../../src/colour/lab.ts';
import { USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { lotPath, togetherPath } from '../../kit/paths.ts';
import { type KeptEvidence, readLotEvidence } from '../lot/store.ts';
import { readLotCodes } from '../names.ts';
import type { LotSums } from '../stock/kept-lots.ts';
import { sayPairOfLots } from '../together/words.ts';
import type { WallTile } from './tiles.ts';

/** So many lots hang beside each other, those that came last. */
const MOST_LOTS = 6;

/** The lots of the tiles of a page, all read at once; those that count as one are one. */
export function shapeLotsOf(reader: Reader, tiles: readonly WallTile[], units: Units) {
  const lotsOf = new Map(tiles.map((tile) => [tile, joinedLots(tile.lots)]));
  const shown = [...lotsOf.values()].flatMap((lots) => lots.slice(-MOST_LOTS).map(({ id }) => id));
  const evidence = readLotEvidence(reader, shown);
  const codes = readLotCodes(reader, shown);
  return (tile: WallTile) => {
    const all = lotsOf.get(tile) ?? [];
    const lots = lightToDark(all.slice(-MOST_LOTS), evidence).map(({ id, onHandTicks, lab }) => ({
      id,
      code: codes.get(id) ?? '',
      href: lotPath((codes.get(id) ?? '').split(' + ')[0] ?? ''),
      onHand: showLength(onHandTicks, units, 'down'),
      /** as it was read; null where nobody did */
      colour: lab && labToScreen(lab),
    }));
    return {
      lots,
      /** lots that lie there and are not shown */
      left: all.length - lots.length,
      pairs: sayNeighbours(lots, evidence, tile.lab),
      together: lots.length > 1 ? togetherPath(tile) : null,
    };
  };
}

function joinedLots(lots: readonly LotSums[]) {
  return [...grouped(lots, ({ countsAsId }) => countsAsId)]
    .map(([id, own]) => ({ id, onHandTicks: own.reduce((sum, { onHand }) => sum + onHand, 0) }))
    .sort((one, other) => one.id - other.id);
}

/** Neighbours are the likest; what nobody read hangs last. */
function lightToDark(lots: ReturnType<typeof joinedLots>, { read }: KeptEvidence) {
  const seen = lots.map((lot) => ({ ...lot, lab: read.get(lot.id)?.colours[0]?.lab ?? null }));
  return seen.sort((one, other) => (other.lab?.l ?? -1) - (one.lab?.l ?? -1));
}

/** How each lot differs from the one before it. */
function sayNeighbours(
  lots: readonly { readonly id: number; readonly code: string }[],
  evidence: KeptEvidence,
  near: Lab | null,
) {
  return lots.slice(1).map((lot, before) => {
    const other = lots[before] ?? lot;
    const { verdict, said, sure, differs } = sayPairOfLots(evidence, [other.id, lot.id], USUAL_BANDS, near);
    return {
      name: `${other.code} and ${lot.code}`,
      verdict,
      said,
      differs: differs === '' ? '' : `${lot.code} is ${differs}.`,
      sure,
    };
  });
}
