import type { z } from 'zod';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { placeChoices } from '../../kit/choices.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { PAGE_ROWS } from '../../kit/paging.ts';
import { PLEATING_PATH, piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import type { Typed } from '../../kit/typed.ts';
import { whichCanUndo } from '../../ledger/undo.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { canBeInspected } from '../inspection/store.ts';
import { type EntryRow, selectEntries, shapeEntries } from '../ledger/entries.ts';
import { readAtPleater } from '../pleating/store.ts';
import type { ShelfTold } from '../told.ts';
import { type PieceFacts, readPieceFacts } from './facts.ts';
import { shapeFlaws } from './flaw-form.ts';
import { readFlawsOf } from './flaws.ts';
import { PIECE_FORM_NAMES, PIECE_FORMS, type PieceFormName, pieceFields } from './forms.ts';
import { drawUseForms, type RefusedUse } from './other-use-form.ts';
import { readWidths } from './width.ts';

/** A piece by its number, with one of its forms drawn again where that was refused. */
export function piecePage(
  reader: Reader,
  pieceId: number,
  asker: Asker,
  { readNeeded }: Pick<ShelfTold, 'readNeeded'>,
  options: {
    readonly before?: number | null;
    readonly open?: PieceFormName;
    readonly typed?: Typed;
    readonly refusedUse?: RefusedUse;
  } = {},
) {
  const needed = readNeeded(reader);
  const piece = readPieceFacts(reader, pieceId, asker, needed);
  const before = options.before ?? null;
  const fields = pieceFields(asker, placeChoices(reader));
  const data = {
    waiting: needed.waiting,
    piece,
    tapeStep: sayTapeStep(piece.tapeMaxTicks, asker.units),
    ...readEntries(reader, piece, asker, before),
    newest: before === null ? null : `${piecePath(piece.code)}#ledger`,
    flaws: shapeFlaws(readFlawsOf(reader, pieceId), piece.usableWidthTicks, asker.units),
    pleatingHref: `${piecePath(piece.code)}/pleating`,
    pleatingListHref: PLEATING_PATH,
    /** what of it is out at a pleater */
    atPleater: readAtPleater(reader, pieceId, asker.units),
    flawsHref: `${piecePath(piece.code)}/flaws`,
    /** where it is inspected as it came; '' where lengths of it were used since, or it came without a delivery */
    inspectHref: canBeInspected(reader, piece) ? `${piecePath(piece.code)}/inspections` : '',
    widths: readWidths(reader, pieceId, asker.units),
    forms: formsOf(piece).map((name) => ({
      ...PIECE_FORMS[name],
      name,
      action: `${piecePath(piece.code)}/${PIECE_FORMS[name].resource}`,
      requestKey: mintKey(),
      open: options.open === name,
      fields: Object.values(
        drawFields<Record<string, z.ZodType>>(
          fields[name],
          options.open === name
            ? (options.typed ?? {})
            : name === 'move'
              ? { place_id: readPlaceId(reader, pieceId) }
              : {},
        ),
      ),
    })),
    /** cutting and holding for something besides a tier */
    useForms: drawUseForms(reader, piece, asker, options.refusedUse),
  };
  return { view: 'shelf/piece/piece', data, title: `Piece ${piece.code}`, room: 'shelf' } satisfies Page;
}

/** A piece that is gone can still be found again or put right, but nothing can be taken off it. */
function formsOf(piece: PieceFacts): PieceFormName[] {
  if (piece.onHandTicks === 0) return ['recount'];
  return PIECE_FORM_NAMES.filter((name) => name !== 'return' || piece.millBought);
}

const placeOf = prepared((db, pieceId: Param<number>) =>
  db.selectFrom('piece').select('place_id').where('id', '=', pieceId),
);

function readPlaceId(reader: Reader, pieceId: number): string {
  const row = reader.first(placeOf(pieceId));
  return String(row?.place_id ?? '');
}

const entriesBefore = prepared((db, pieceId: Param<number>, before: Param<number>, most: Param<number>) =>
  selectEntries(db)
    .where('entry.piece_id', '=', pieceId)
    .where('entry.id', '<', before)
    .orderBy('entry.id', 'desc')
    .limit(most),
);

function readEntries(reader: Reader, piece: PieceFacts, asker: Asker, before: number | null) {
  const rows = reader.all(entriesBefore(piece.id, before ?? Number.MAX_SAFE_INTEGER, PAGE_ROWS + 1));
  const here = shapeEntries(reader, rows.slice(0, PAGE_ROWS), asker);
  const last = here.at(-1);
  const keys = whichCanUndo(reader, [...new Set(here.map(({ requestKey }) => requestKey))], asker);
  const undoable = here.filter(
    ({ requestKey }, place) => isFirstOfRequest(here, place) && keys.has(requestKey),
  );
  const pieces = countPieces(
    reader,
    undoable.map(({ requestKey }) => requestKey),
  );
  return {
    entries: here.map((entry) => ({
      ...entry,
      /** request key for its Undo form; '' where Undo is not offered */
      undoKey: undoable.includes(entry) ? mintKey() : '',
      /** other pieces that the same request changed, and that its Undo changes back */
      undoesOthers: undoable.includes(entry) ? (pieces.get(entry.requestKey) ?? 1) - 1 : 0,
    })),
    older:
      rows.length > PAGE_ROWS && last
        ? `${address(piecePath(piece.code), { before: last.id })}#ledger`
        : null,
  };
}

const pieceCounts = prepared((db, requestKeys: Param<readonly string[]>) =>
  db
    .selectFrom('entry')
    .select((entry) => ['request_key', entry.fn.count<number>('piece_id').distinct().as('pieces')])
    .where('request_key', 'in', inList(requestKeys))
    .groupBy('request_key'),
);

/** How many pieces each request changed. */
function countPieces(reader: Reader, requestKeys: readonly string[]): Map<string, number> {
  if (requestKeys.length === 0) return new Map();
  const rows = reader.all(pieceCounts([...new Set(requestKeys)]));
  return new Map(rows.map((row) => [row.request_key, row.pieces]));
}

function isFirstOfRequest(entries: readonly EntryRow[], place: number): boolean {
  return entries[place - 1]?.requestKey !== entries[place]?.requestKey;
}
