import { FLAW_LIMITS_TICKS, HOLE_LIMIT_TICKS, type HoleRule } from '../../../src/buying/grading.ts';
import { ABOUT } from '../../../src/quantity/figure-show.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength, writeSize } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { countTyped } from '../../kit/form-drawing.ts';
import { clothPath, piecePath, receiptPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type TypedRow, typedRows } from '../../web/typed-rows.ts';
import { type Judged, judgePiece } from './judged.ts';
import { readGradingRule } from './rule.ts';
import { isUsed, MOST_FOUND_FLAWS, readInspections } from './store.ts';

const FLAW_ROWS = 3;

export interface InspectionData {
  readonly requestKey: string;
  readonly code: string;
  readonly href: string;
  readonly cloth: { readonly name: string; readonly href: string };
  readonly chip: Chip;
  /** '' where it came without a receipt, such as by a list */
  readonly receipt: string;
  readonly ordered: string;
  readonly judged: Judged | null;
  /** true where lengths of it were used since: it is inspected no more */
  readonly used: boolean;
  readonly unit: 'm' | 'yd';
  readonly sizeUnit: 'cm' | 'in';
  readonly areaUnit: string;
  readonly typed: Readonly<
    Record<'marked' | 'length' | 'width' | 'swatch_area' | 'swatch_mass' | 'note', string>
  >;
  readonly flaws: readonly TypedFlaw[];
  /** how many points a flaw gets by its length, in the reader's units */
  readonly points: string;
  /** pieces of the same receipt that were not inspected yet: the next one first */
  readonly next: { readonly code: string; readonly href: string } | null;
}

type TypedFlaw = TypedRow<'from' | 'length' | 'left' | 'what'> & { readonly hole: boolean };

/** Inspecting a piece that came: what is known of it fills the form. @throws {Refusal} unknown */
export function inspectionPage(reader: Reader, code: string, asker: Asker, refused?: Typed): Page {
  const piece = readArrived(reader, code);
  const found = readInspections(reader, [piece.id]).get(piece.id);
  const typed = refused ?? found?.typed ?? {};
  const { units } = asker;
  const orderedTicks = piece.bolts
    ? (piece.lineTicks ?? 0) / piece.bolts
    : piece.linePieces === 1
      ? piece.lineTicks
      : null;
  const data: InspectionData = {
    requestKey: mintKey(),
    code: piece.code,
    href: piecePath(piece.code),
    cloth: { name: piece.cloth, href: clothPath(piece.clothId) },
    chip: shadeChip(piece),
    receipt: piece.receiptId === null ? '' : receiptPath(piece.receiptId),
    ordered: orderedTicks === null ? '' : showLength(orderedTicks, units, 'near'),
    judged: found ? judgePiece(found, units) : null,
    used: isUsed(reader, piece),
    unit: lengthUnit(units),
    sizeUnit: sizeUnit(units),
    areaUnit: units.system === 'metric' ? 'cm²' : 'sq in',
    typed: {
      marked: typed.marked ?? (orderedTicks === null ? '' : writeLength(orderedTicks, units)),
      length: typed.length ?? writeLength(piece.onHandTicks, units),
      width: typed.width ?? writeSize(piece.widthTicks, units),
      swatch_area: typed.swatch_area ?? '',
      swatch_mass: typed.swatch_mass ?? '',
      note: typed.note ?? '',
    },
    flaws: typedFlaws(typed),
    points: sayPoints(readGradingRule(reader).holes, units),
    next: nextOf(reader, piece.receiptId, piece.id),
  };
  return { view: 'shelf/inspection/inspection', data, title: `Inspect ${piece.code}`, room: 'shelf' };
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

/** Whether a piece came with a delivery and is still as it came, so that it can be inspected. */
export function canBeInspected(reader: Reader, piece: { readonly id: number; readonly onHandTicks: number }) {
  const received = reader.db.selectFrom('entry').select('id').where('piece_id', '=', piece.id);
  return reader.first(received.where('kind', '=', 'received')) !== undefined && !isUsed(reader, piece);
}

function nextOf(reader: Reader, receiptId: number | null, pieceId: number): InspectionData['next'] {
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

function typedFlaws(typed: Typed): TypedFlaw[] {
  const count = Math.min(countTyped(typed, 'flaws') + FLAW_ROWS, MOST_FOUND_FLAWS);
  const rows = typedRows(typed, 'flaws', ['from', 'length', 'hole', 'left', 'what'], count);
  return rows.map((row) => ({ ...row, hole: row.hole !== '' }));
}
