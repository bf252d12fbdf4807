import { sql } from 'kysely';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { cuttingPath, garmentPath, piecePath, pleatingPath, stripsPleatedPath } from '../../kit/paths.ts';
import { daysBetween, showDay } from '../../kit/when.ts';
import { countOf, wordFor } from '../../kit/words.ts';
import { inForce } from '../../ledger/standing.ts';
import { unknown } from '../../refusal.ts';

const allPleatings = prepared((db) =>
  db
    .selectFrom('pleating')
    .innerJoin('piece', 'piece.id', 'pleating.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .innerJoin('other_use', 'other_use.id', 'pleating.other_use_id')
    .leftJoin('garment', 'garment.id', 'other_use.garment_id')
    .leftJoin('pleating_back as back', (join) =>
      join.on(
        'back.id',
        '=',
        sql<number>`(SELECT max(id) FROM pleating_back WHERE pleating_id = pleating.id)`,
      ),
    )
    .selectAll('pleating')
    .select(['piece.code as piece', 'cloth.name as cloth', 'shade.name as shade', 'lot.code as lot'])
    .select(['garment.code as garment', 'garment.name as garmentName'])
    .select([
      'back.back_on as backOn',
      'back.length_ticks as backTicks',
      'back.width_ticks as backWidthTicks',
    ])
    .select([
      sql<number>`(SELECT coalesce(sum(held_ticks), 0) FROM entry WHERE other_use_id = other_use.id)`.as(
        'heldTicks',
      ),
      sql<number>`(SELECT count(*) FROM entry AS cut WHERE cut.other_use_id = other_use.id AND cut.kind = 'cut' AND ${inForce('cut')})`.as(
        'cuts',
      ),
    ])
    .orderBy('pleating.expected_on')
    .orderBy('pleating.id'),
);

/** What was sent to pleaters and is out or back, the one expected first before the others; what was undone is left out. */
export function readPleatings(reader: Reader) {
  return reader
    .all(allPleatings())
    .filter(({ heldTicks, cuts }) => heldTicks > 0 || cuts > 0)
    .map((row) => ({ ...row, isOut: row.heldTicks > 0 }));
}

export type Pleating = ReturnType<typeof readPleatings>[number];

/** What of a piece is out. */
export function readAtPleater(reader: Reader, pieceId: number, units: Units) {
  return readPleatings(reader)
    .filter(({ piece_id: id, isOut }) => isOut && id === pieceId)
    .map((row) => shapePleating(row, units, null));
}

/** So many days before it is expected back it is told: time enough to ask (our rule). */
const NEAR_DAYS = 3;

/** Lengths and strips that are out or back, the one expected first before the others. */
export function readAllPleatings(reader: Reader): (Pleating | StripsPleated)[] {
  return [...readPleatings(reader), ...readStripsPleated(reader)].sort(
    (a, b) => Number(a.expected_on > b.expected_on) - Number(a.expected_on < b.expected_on),
  );
}

/** What should be back by a day and is not, and what is expected soon after it. */
export function readDuePleatings(reader: Reader, units: Units, today: string) {
  return readAllPleatings(reader)
    .filter((row) => row.isOut && daysBetween(today, row.expected_on) <= NEAR_DAYS)
    .map((row) => shapePleating(row, units, today));
}

const stripsPleated = prepared((db) =>
  db
    .selectFrom('strips_pleated')
    .innerJoin('tier', 'tier.id', 'strips_pleated.tier_id')
    .innerJoin('garment', 'garment.id', 'tier.garment_id')
    .selectAll('strips_pleated')
    .select(['tier.name as tier', 'garment.code as garment', 'garment.name as garmentName'])
    .where('called_off', '=', 0)
    .orderBy('strips_pleated.expected_on')
    .orderBy('strips_pleated.id'),
);

/** Strips that were cut, and were sent to pleaters; a sending that was called off is left out. */
export function readStripsPleated(reader: Reader) {
  return reader.all(stripsPleated()).map((row) => ({
    ...row,
    isOut: row.back_on === null,
    backOn: row.back_on,
    backTicks: row.back_length_ticks,
    backWidthTicks: row.back_width_ticks,
  }));
}

export type StripsPleated = ReturnType<typeof readStripsPleated>[number];

/** @throws {Refusal} unknown, also where its sending was called off */
export function readOneStripsPleated(reader: Reader, id: number): StripsPleated {
  const found = readStripsPleated(reader).find((row) => row.id === id);
  if (!found) throw unknown('such strips at a pleater');
  return found;
}

/** @throws {Refusal} unknown, also where its sending was undone */
export function readPleating(reader: Reader, pleatingId: number): Pleating {
  const found = readPleatings(reader).find(({ id }) => id === pleatingId);
  if (!found) throw unknown('such cloth at a pleater');
  return found;
}

/** A pleating as pages show it; how late it is on a day that is given. */
export function shapePleating(row: Pleating | StripsPleated, units: Units, today: string | null) {
  const late = row.isOut && today !== null ? Math.max(0, daysBetween(row.expected_on, today)) : 0;
  const size = (lengthTicks: number, widthTicks: number) =>
    `${showLength(lengthTicks, units, 'near')} × ${showSize(widthTicks, units, 'near')}`;
  const before = size(row.length_ticks, row.width_ticks);
  return {
    ...('strips' in row ? whatOfStrips(row) : whatOfPiece(row)),
    pleater: row.pleater,
    asked: row.asked,
    garment: row.garment
      ? { code: row.garment, name: row.garmentName ?? '', href: garmentPath(row.garment) }
      : null,
    sent: showDay(row.sent_on),
    expected: showDay(row.expected_on),
    isOut: row.isOut,
    /** "3 days late"; '' where it is not */
    late: late === 0 ? '' : `${late} ${wordFor(late, 'day', 'days')} late`,
    before: 'strips' in row ? `${before}, ${countOf(row.strips, 'strip', 'strips')}` : before,
    /** '' while it is out, or where nobody measured it */
    after: row.isOut || row.backOn === null ? '' : size(row.backTicks ?? 0, row.backWidthTicks ?? 0),
    back: row.isOut || row.backOn === null ? '' : showDay(row.backOn),
  };
}

function whatOfPiece(row: Pleating) {
  return {
    href: pleatingPath(row.id),
    /** where what was sent stands */
    of: { code: row.piece, text: row.shade, more: row.cloth, href: piecePath(row.piece) },
    /** "lot L3", '' of strips, which may be of several */
    lot: row.lot,
  };
}

function whatOfStrips(row: StripsPleated) {
  const { garment, tier, tier_id: tierId } = row;
  return {
    href: stripsPleatedPath(row.id),
    of: { code: garment, text: tier, more: row.garmentName, href: cuttingPath(garment, tierId) },
    lot: '',
  };
}
