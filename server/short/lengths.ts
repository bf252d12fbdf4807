import { sql } from 'kysely';
import { type LotSum, spareOf } from '../../src/fit/needed.ts';
import type { ClothShade } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { readDyeing } from '../dye-bench/batch/dyeing.ts';
import { grouped } from '../kit/grouped.ts';
import { batchPath, orderPath } from '../kit/paths.ts';
import { countsAs } from '../ledger/joined-lots.ts';
import type { ComingLength, Lengths, LengthsOf, Needed } from '../shelf/lengths.ts';
import { type LotSums, lotsInOrder } from '../shelf/stock/kept-lots.ts';
import { readNeeded } from './spare.ts';
import { readOnOrder } from './supply.ts';

export function readLengths(reader: Reader, of: LengthsOf, needed: Needed = readNeeded(reader)): Lengths {
  return lengthsWithin(reader, of, needed)(of);
}

/** The same of all that lies within a cloth, a shade or a lot, which is read once. */
export function lengthsWithin(
  reader: Reader,
  of: LengthsOf,
  needed: Needed = readNeeded(reader),
): (part: LengthsOf) => Lengths {
  const lots = readLots(reader, of);
  const byId = new Map(lots.map((lot) => [lot.lotId, lot]));
  const pieces = new Map([...needed.ofPieces].filter(([, { lotId }]) => byId.has(lotId)));
  const piecesOfLot = grouped([...pieces.values()], ({ lotId }) => lotId);
  const beside = readLongestBeside(reader, pieces);
  const coming = of.lotId === undefined ? readComing(reader, of) : [];
  return (part) => {
    const own = lots.filter((lot) => lot.lotId === (part.lotId ?? lot.lotId) && isOf(lot, part));
    const spare = spareOf(
      own,
      own.flatMap(({ lotId }) => piecesOfLot.get(lotId) ?? []),
      beside,
    );
    const sum = (one: (lot: (typeof lots)[number]) => number) =>
      own.reduce((total, lot) => total + one(lot), 0);
    return {
      onHandTicks: sum((lot) => lot.onHandTicks),
      heldTicks: sum((lot) => lot.onHandTicks - lot.freeTicks),
      neededTicks: spare.neededTicks,
      spareTicks: spare.spareTicks,
      longestSpareTicks: spare.longestTicks,
      sparePieces: spare.pieces,
      spareLots: spare.lots,
      coming: coming.filter((length) => isOf(length, part)),
    };
  };
}

function isOf(one: ClothShade, { clothId, shadeId }: LengthsOf): boolean {
  return one.clothId === (clothId ?? one.clothId) && one.shadeId === (shadeId ?? one.shadeId);
}

/** What is on order, in the pot and planned to be dyed of a cloth, a shade, or both; what is expected first comes first. */
export function readComing(reader: Reader, of: LengthsOf): ComingLength[] {
  const ordered = readOnOrder(reader).map(({ orderCode: code, expectedOn, ...line }) => ({
    clothId: line.clothId,
    shadeId: line.shadeId,
    lengthTicks: line.lengthTicks,
    how: 'on order' as const,
    code,
    href: orderPath(code),
    on: expectedOn,
  }));
  const dyed = readDyeing(reader).map(({ inPot, code, ...length }) => ({
    ...length,
    how: inPot ? ('in the pot' as const) : ('to be dyed' as const),
    code,
    href: batchPath(code),
    on: null,
  }));
  return [...dyed, ...ordered].filter((length) => isOf(length, of));
}

type Lot = LotSum & ClothShade & { readonly onHandTicks: number };

/** What lies on the shelf of them, lots that count as one together. */
function readLots(reader: Reader, { lotId, ...of }: LengthsOf): Lot[] {
  const all = lotsInOrder(reader, 'shade');
  const within = of.shadeId === undefined ? all.lots : (all.byShade.get(of.shadeId) ?? []);
  const asked = within.filter((lot) => isOf(lot, of) && lot.countsAsId === (lotId ?? lot.countsAsId));
  return [...grouped(asked, ({ countsAsId }) => countsAsId)].map(([countsAsId, lots]) => {
    const sum = (one: (lot: LotSums) => number) => lots.reduce((total, lot) => total + one(lot), 0);
    const [{ clothId, shadeId }] = lots as [LotSums];
    return {
      lotId: countsAsId,
      clothId,
      shadeId,
      onHandTicks: sum(({ onHand }) => onHand),
      freeTicks: sum(({ free }) => free),
      longestFreeTicks: Math.max(...lots.map(({ longestFree }) => longestFree)),
      freePieces: sum(({ freePieces }) => freePieces),
    };
  });
}

const FREE = sql<number>`piece.on_hand_ticks - piece.held_ticks`;

const longestBeside = prepared((db, lotIds: Param<readonly number[]>, pieceIds: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select((of) => [countsAs().as('lotId'), of.fn.max<number>(FREE).as('ticks')])
    .where('piece.on_hand_ticks', '>', 0)
    .where('piece.lot_id', 'in', (of) =>
      of
        .selectFrom('lot as counted')
        .select('counted.id')
        .where((or) =>
          or.or([or('counted.id', 'in', inList(lotIds)), or('counted.joined_to_id', 'in', inList(lotIds))]),
        ),
    )
    .where('piece.id', 'not in', inList(pieceIds))
    .groupBy(countsAs()),
);

/** Of lots with needed pieces, the longest free piece that nothing is needed of. */
function readLongestBeside(reader: Reader, needed: Needed['ofPieces']): Map<number, number> {
  if (needed.size === 0) return new Map();
  const lotIds = [...new Set([...needed.values()].map(({ lotId }) => lotId))];
  const rows = reader.all(longestBeside(lotIds, [...needed.keys()]));
  return new Map(rows.map(({ lotId, ticks }) => [lotId, ticks]));
}
