import { sql } from 'kysely';
import { allCloth, type MadeOf, shareOf, togetherOf } from '../../src/buying/made-of.ts';
import { divideRounded, exactly, stored } from '../../src/quantity/figure-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { inForce } from '../ledger/standing.ts';
import { isOfGarment } from './garment-cost.ts';

/** What a garment's cloth is made of: what was cut for it, less what was kept, and what is held for it. */
export interface GarmentMadeOf {
  readonly spent: MadeOf;
  readonly held: MadeOf;
}

/**
 * The cloth that a garment cost and holds, by parts. Each cut and each hold takes its share of every part that its piece is
 * made of, so that the parts add up to what the costs of the garment say.
 */
export function readMadeOf(reader: Reader, garmentId: number): GarmentMadeOf {
  const cuts = readCuts(reader, garmentId);
  const holds = readHolds(reader, garmentId);
  const pieces = readPiecesMadeOf(
    reader,
    [...cuts, ...holds].map(({ pieceId }) => pieceId),
  );
  const parts = (rows: readonly { readonly pieceId: number; readonly minor: number }[]) =>
    togetherOf(rows.map(({ pieceId, minor }) => shareOf(minor, pieces.get(pieceId) ?? allCloth(0))));
  return { spent: parts(cuts), held: parts(holds) };
}

function readCuts(reader: Reader, garmentId: number) {
  return reader.all(
    reader.db
      .selectFrom('entry')
      .select('entry.piece_id as pieceId')
      .select(
        sql<number>`sum(-entry.cost_minor) - coalesce(sum((SELECT sum(kept.cost_minor) FROM entry AS kept
          WHERE kept.pair_id = entry.id AND kept.kind = 'joined' AND ${inForce('kept')})), 0)`.as('minor'),
      )
      .where(isOfGarment(garmentId, 'entry'))
      .where('entry.kind', '=', 'cut')
      .where(inForce('entry'))
      .groupBy('entry.piece_id'),
  );
}

function readHolds(reader: Reader, garmentId: number) {
  const rows = reader.all(
    reader.db
      .selectFrom('hold')
      .innerJoin('piece', 'piece.id', 'hold.piece_id')
      .select(['piece.id as pieceId', 'hold.held_ticks', 'piece.cost_minor', 'piece.on_hand_ticks'])
      .where(isOfGarment(garmentId, 'hold')),
  );
  return rows.map(({ pieceId, held_ticks, cost_minor, on_hand_ticks }) => ({
    pieceId,
    minor: stored(divideRounded(exactly(cost_minor) * exactly(held_ticks), exactly(on_hand_ticks), 'near')),
  }));
}

const linesOf = prepared((db, pieceIds: Param<readonly number[]>) =>
  db
    .withRecursive('line', (cte) =>
      cte
        .selectFrom('piece')
        .select(['piece.id', 'piece.parent_id'])
        .where('piece.id', 'in', inList(pieceIds))
        .union(
          cte
            .selectFrom('piece')
            .innerJoin('line', 'line.parent_id', 'piece.id')
            .select(['piece.id', 'piece.parent_id']),
        ),
    )
    .selectFrom('line')
    .innerJoin('entry', (join) =>
      join.on(
        'entry.id',
        '=',
        sql<number>`(SELECT min(first.id) FROM entry AS first WHERE first.piece_id = line.id
          AND first.kind IN ('received', 'joined', 'back-from-dye'))`,
      ),
    )
    .leftJoin('entry as sent', 'sent.id', 'entry.pair_id')
    .leftJoin('received_cost', 'received_cost.entry_id', 'entry.id')
    .select(['line.id', 'line.parent_id', 'entry.kind', 'entry.cost_minor', 'sent.cost_minor as sent_minor'])
    .select(['cloth_minor', 'cut_fees_minor', 'freight_minor', 'tax_minor'])
    .orderBy('line.id'),
);

/**
 * What pieces are made of as they came onto the shelf: by what their delivery cost, a part of a piece as the piece, dyed cloth
 * as what was sent and what the dyeing added.
 */
function readPiecesMadeOf(reader: Reader, pieceIds: readonly number[]): ReadonlyMap<number, MadeOf> {
  const made = new Map<number, MadeOf>();
  if (pieceIds.length === 0) return made;
  // A piece comes after the one that it is of.
  for (const row of reader.all(linesOf([...new Set(pieceIds)]))) {
    const parent = made.get(row.parent_id ?? 0) ?? allCloth(0);
    if (row.kind === 'received') {
      const { cloth_minor, cut_fees_minor, freight_minor, tax_minor } = row;
      made.set(row.id, {
        ...allCloth(cloth_minor ?? row.cost_minor),
        cutFeesMinor: cut_fees_minor ?? 0,
        freightMinor: freight_minor ?? 0,
        taxMinor: tax_minor ?? 0,
      });
    } else if (row.kind === 'back-from-dye') {
      const sentMinor = -(row.sent_minor ?? 0);
      const sent = shareOf(sentMinor, parent);
      made.set(row.id, { ...sent, dyeingMinor: sent.dyeingMinor + row.cost_minor - sentMinor });
    } else made.set(row.id, shareOf(row.cost_minor, parent));
  }
  return made;
}

const NAMES: readonly (readonly [part: keyof MadeOf, name: string])[] = [
  ['clothMinor', 'Cloth'],
  ['cutFeesMinor', 'Cut fees'],
  ['freightMinor', 'Freight'],
  ['taxMinor', 'Tax'],
  ['dyeingMinor', 'Dyeing'],
];

/** The parts as a table, none where it is all cloth; each column adds up to the sum below it. */
export function shapeMadeOf({ spent, held }: GarmentMadeOf, currency: string) {
  const money = (minor: number) => showMoney(minor, currency);
  const both = togetherOf([spent, held]);
  const sumOf = (parts: MadeOf) => NAMES.reduce((sum, [part]) => sum + parts[part], 0);
  const rows = NAMES.filter(([part]) => both[part] !== 0);
  if (rows.every(([part]) => part === 'clothMinor')) return null;
  return {
    rows: rows.map(([part, name]) => ({
      name,
      spent: money(spent[part]),
      held: money(held[part]),
      both: money(both[part]),
    })),
    spent: money(sumOf(spent)),
    held: money(sumOf(held)),
    both: money(sumOf(both)),
  };
}
