import { FLAW_LIMITS_TICKS, HOLE_LIMIT_TICKS, type HoleRule } from '../../../src/buying/grading.ts';
import { ABOUT } from '../../../src/quantity/figure-show.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength, writeSize } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { clothPath, piecePath, receiptPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { inspectionFields } from './form.ts';
import { judgePiece } from './judged.ts';
import { isUsed, readGradingRule, readInspections } from './store.ts';

/** Inspecting a piece that came: what is known of it fills the form. @throws {Refusal} unknown */
export function inspectionPage(reader: Reader, code: string, asker: Asker, refused?: Typed) {
  const piece = readArrived(reader, code);
  const found = readInspections(reader, [piece.id]).get(piece.id);
  const { units } = asker;
  const orderedTicks = piece.bolts
    ? (piece.lineTicks ?? 0) / piece.bolts
    : piece.linePieces === 1
      ? piece.lineTicks
      : null;
  const data = {
    requestKey: mintKey(),
    code: piece.code,
    href: piecePath(piece.code),
    cloth: { name: piece.cloth, href: clothPath(piece.clothId) },
    chip: shadeChip(piece),
    /** '' where it came without a receipt, such as by a list */
    receipt: piece.receiptId === null ? '' : receiptPath(piece.receiptId),
    ordered: orderedTicks === null ? '' : showLength(orderedTicks, units, 'near'),
    judged: found ? judgePiece(found, units) : null,
    /** true where lengths of it were used since: it is inspected no more */
    used: isUsed(reader, piece),
    fields: drawFields(inspectionFields(asker), {
      marked: orderedTicks === null ? '' : writeLength(orderedTicks, units),
      length: writeLength(piece.onHandTicks, units),
      width: writeSize(piece.widthTicks, units),
      ...(refused ?? found?.typed),
    }),
    /** how many points a flaw gets by its length, in the reader's units */
    points: sayPoints(readGradingRule(reader).holes, units),
    /** pieces of the same receipt that were not inspected yet: the next one first */
    next: nextOf(reader, piece.receiptId, piece.id),
  };
  return {
    view: 'shelf/inspection/inspection',
    data,
    title: `Inspect ${piece.code}`,
    room: 'shelf',
  } satisfies Page;
}

/** A piece that was received, with its order line where it has one. */
function readArrived(reader: Reader, code: string) {
  const piece = reader.first(
    reader.db
      .selectFrom('piece')
      .innerJoin('entry', 'entry.piece_id', 'piece.id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('order_line', 'order_line.id', 'entry.order_line_id')
      .leftJoin('order_line_offer', 'order_line_offer.line_id', 'order_line.id')
      .select([
        'piece.id',
        'piece.code',
        'piece.on_hand_ticks as onHandTicks',
        'cloth.id as clothId',
        'cloth.name as cloth',
        'cloth.width_ticks as widthTicks',
        'shade.name',
        'shade.lab_l',
        'shade.lab_a',
        'shade.lab_b',
        'entry.receipt_id as receiptId',
        'order_line.length_ticks as lineTicks',
        'order_line_offer.bolts',
      ])
      .select((entry) =>
        entry
          .selectFrom('entry as beside')
          .select((beside) => beside.fn.countAll<number>().as('count'))
          .whereRef('beside.order_line_id', '=', 'entry.order_line_id')
          .where('beside.kind', '=', 'received')
          .as('linePieces'),
      )
      .where('piece.code', '=', code)
      .where('entry.kind', '=', 'received')
      .orderBy('entry.id'),
  );
  if (!piece) throw unknown(`piece ${code.slice(0, 40)} that came with a delivery`);
  return piece;
}

/** "1 to 7.6 cm, 2 to 15.2 cm, 3 to 22.9 cm, 4 above; holes always 4" */
function sayPoints(holes: HoleRule, units: Units): string {
  // The limits are whole inches; in centimetres they are told to the millimetre.
  const size = (ticks: number) => showSize(ticks, units, 'near').replace(ABOUT, '');
  const steps = FLAW_LIMITS_TICKS.map((ticks, place) => `${place + 1} to ${size(ticks)}`);
  const ofHoles = holes === 'by size' ? `2 to ${size(HOLE_LIMIT_TICKS)}, 4 above` : 'always 4';
  return `${steps.join(', ')}, 4 above; holes ${ofHoles}`;
}

function nextOf(reader: Reader, receiptId: number | null, pieceId: number) {
  if (receiptId === null) return null;
  const pieces = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .select(['piece.id', 'piece.code'])
      .where('entry.receipt_id', '=', receiptId)
      .where('entry.kind', '=', 'received')
      .whereRef('piece.on_hand_ticks', '=', 'entry.length_ticks')
      .where('piece.id', '<>', pieceId)
      .orderBy('piece.id'),
  );
  const found = readInspections(
    reader,
    pieces.map(({ id }) => id),
  );
  const next = pieces.find(({ id }) => !found.has(id));
  return next ? { code: next.code, href: `${piecePath(next.code)}/inspections` } : null;
}
