import { type RawBuilder, sql } from 'kysely';
import type { Reader, Tx } from '../database/book.ts';
import type { LotJoinTable } from '../database/dye-tables.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { lotPath } from '../kit/paths.ts';
import { showMoment } from '../kit/when.ts';
import { listed } from '../kit/words.ts';
import { conflict, invalid, unknown } from '../refusal.ts';
import { readTierNames } from './tier-names.ts';

/**
 * The lot that a lot counts as wherever lots are kept apart: itself, or the one that somebody judged it to be one with.
 * For queries over `lot`, under the name that it has there.
 */
export function countsAs(name: 'lot' = 'lot'): RawBuilder<number> {
  return sql<number>`coalesce(${sql.ref(`${name}.joined_to_id`)}, ${sql.ref(`${name}.id`)})`;
}

/** The same where the query has the piece alone. */
export const LOT_OF_PIECE = sql<number>`(SELECT coalesce(lot.joined_to_id, lot.id) FROM lot WHERE lot.id = piece.lot_id)`;

interface Judged {
  readonly how: LotJoinTable['how'];
  /** hundredths of a CIEDE2000 unit */
  readonly deltaCenti: number | null;
  readonly note: string;
}

/**
 * Joins two lots of one cloth and shade by a judgement: from then on they count as one wherever lots are kept apart. One
 * of the two is not joined yet, and joins the other or the lot that the other counts as.
 * @throws {Refusal} where they are not of one cloth and shade, are one already, or each is one with others
 */
export function joinLots(
  tx: Tx,
  code: string,
  otherCode: string,
  judged: Judged,
): { lots: [string, string] } {
  const [lot, other] = [readLot(tx, code), readLot(tx, otherCode)];
  if (lot.id === other.id) throw invalid('other', 'Choose another lot.');
  if (lot.cloth_id !== other.cloth_id || lot.shade_id !== other.shade_id) {
    throw invalid('other', `${other.code} is of another cloth or shade: choose a lot of the same.`);
  }
  const [root, otherRoot] = [lot.joined_to_id ?? lot.id, other.joined_to_id ?? other.id];
  if (root === otherRoot) throw conflict(`${lot.code} and ${other.code} count as one lot already.`);
  const alone = [lot, other].find((each) => each.joined_to_id === null && !hasJoined(tx, each.id));
  if (!alone) {
    throw conflict(`${lot.code} and ${other.code} are each joined to others: part one of them first.`, {
      text: `Lot ${other.code}`,
      href: lotPath(other.code),
    });
  }
  tx.run(
    tx.db.insertInto('lot_join').values({
      lot_id: alone.id,
      to_id: alone === lot ? otherRoot : root,
      how: judged.how,
      delta_centi: judged.deltaCenti,
      note: judged.note,
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
      undone_key: null,
    }),
  );
  return { lots: [lot.code, other.code] };
}

function readLot(reader: Reader, code: string) {
  const lot = reader.first(reader.db.selectFrom('lot').selectAll().where('code', '=', code));
  if (!lot) throw unknown(`lot ${code.slice(0, 40)}`);
  return lot;
}

function hasJoined(reader: Reader, lotId: number): boolean {
  const joined = reader.db.selectFrom('lot').select('id').where('joined_to_id', '=', lotId).limit(1);
  return reader.first(joined) !== undefined;
}

const joinsBy = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('lot_join')
    .selectAll()
    .where('request_key', 'in', inList(keys))
    .where('undone_key', 'is', null),
);

/** Which of these requests joined lots that may be parted again. */
export function whichJoinsCanUndo(reader: Reader, requestKeys: readonly string[]): string[] {
  if (requestKeys.length === 0) return [];
  const joins = reader.all(joinsBy(requestKeys));
  return joins.filter((join) => findUsers(reader, join).length === 0).map(({ request_key }) => request_key);
}

/**
 * Parts the lots that a request joined. False where it joined none.
 * @throws {Refusal} conflict where it was undone already, or a tier uses both lots as one
 */
export function undoJoin(tx: Tx, requestKey: string): boolean {
  const join = tx.first(
    tx.db
      .selectFrom('lot_join')
      .leftJoin('request', 'request.key', 'lot_join.undone_key')
      .leftJoin('person', 'person.id', 'request.person_id')
      .selectAll('lot_join')
      .select(['request.at as undoneAt', 'person.name as undoneBy'])
      .where('lot_join.request_key', '=', requestKey),
  );
  if (!join) return false;
  if (join.undone_key !== null) {
    throw conflict(`This was undone already by ${join.undoneBy}, ${showMoment(join.undoneAt ?? '')}.`);
  }
  const users = findUsers(tx, join);
  if (users.length > 0) {
    throw conflict(
      `This cannot be undone: both lots are used as one for ${listed(users)}. Undo that first, or let its lots meet.`,
    );
  }
  tx.run(tx.db.updateTable('lot_join').set({ undone_key: tx.requestKey }).where('id', '=', join.id));
  return true;
}

/** Tiers that want one lot of the shade and have cut or hold cloth of both sides of a judgement. */
function findUsers(reader: Reader, join: { readonly lot_id: number; readonly to_id: number }): string[] {
  const used = (own: RawBuilder<unknown>) => sql`
    SELECT hold.tier_id FROM hold JOIN piece ON piece.id = hold.piece_id JOIN lot ON lot.id = piece.lot_id
    WHERE hold.tier_id IS NOT NULL AND ${own}
    UNION
    SELECT entry.tier_id FROM piece JOIN lot ON lot.id = piece.lot_id JOIN entry ON entry.piece_id = piece.id
    WHERE entry.kind = 'cut' AND entry.tier_id IS NOT NULL AND ${own}
      AND NOT EXISTS (SELECT 1 FROM entry AS undoing WHERE undoing.reverses_id = entry.id)`;
  const mine = used(sql`lot.id = ${join.lot_id}`);
  const others = used(sql`coalesce(lot.joined_to_id, lot.id) = ${join.to_id} AND lot.id <> ${join.lot_id}`);
  const rows = reader.all(
    reader.db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select(['tier.id', 'garment.code'])
      .where(sql<boolean>`tier.id IN (${mine}) AND tier.id IN (${others})`)
      .where(({ exists, selectFrom }) =>
        exists(
          selectFrom('colour_block')
            .innerJoin('lot', 'lot.shade_id', 'colour_block.shade_id')
            .select('colour_block.tier_id')
            .whereRef('colour_block.tier_id', '=', 'tier.id')
            .where('lot.id', '=', join.lot_id)
            .where('colour_block.lots', '=', 'one'),
        ),
      )
      .orderBy('garment.code')
      .orderBy('tier.position'),
  );
  const tierName = readTierNames(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map(({ id, code }) => `${tierName(id)} of ${code}`);
}
