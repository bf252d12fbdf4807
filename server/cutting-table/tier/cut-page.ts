import { cutInLengths, isWorthKeeping, leftoverOf, type Rectangle } from '../../../src/fit/cut-length.ts';
import { stripsFromPiece } from '../../../src/fit/tier-cuts.ts';
import { freeTicks } from '../../../src/ledger/entries.ts';
import { showLength, showSize } from '../../../src/quantity/length-show.ts';
import { writeLength, writeSize } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { placeChoices } from '../../kit/choices.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { cutPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { cutForm } from './cut-form.ts';
import { namesAtTable } from './cut-list.ts';
import { stripSizeKey } from './cutting.ts';
import { sayCutLengths, shapeShadeFigures, shapeTierHead } from './head.ts';
import { findNamedPiece, readFreePieceCodes } from './hold-page.ts';
import { sayLotsToMatch } from './lots.ts';
import type { PieceForTier } from './piece.ts';
import { shapePieceCard } from './piece-card.ts';
import { readSources, type Sources } from './sources.ts';
import { readTierAtTable, sayTier } from './table.ts';

/** What a cut page is asked for in its address: a piece, perhaps another number of strips, and where to go on. */
export interface AskedCutPage {
  readonly piece: string;
  readonly strips: number | null;
  readonly back: string;
  readonly typed?: Typed;
}

export function cutPage(reader: Reader, code: string, tierId: number, asker: Asker, asked: AskedCutPage) {
  const { units } = asker;
  const table = readTierAtTable(reader, code, tierId);
  const sources = readSources(reader, table);
  const { typed } = asked;
  const named = typed?.piece ?? (asked.piece || firstPlanned(reader, sources));
  const { piece, problems } = findNamedPiece(reader, table, named, asker);
  const filled = fillIn(reader, piece, typed ? asWhole(typed.strips) : asked.strips, asker);
  const shown: Typed = {
    // What the form is drawn for, to be told from what is changed in it.
    size: piece ? stripSizeKey(piece.shade) : '',
    planned_strips: filled.typed.strips,
    planned_length: filled.typed.length,
    ...(typed ?? { ...filled.typed, piece: named, back: asked.back }),
  };
  const fields = drawFields(cutForm(units, placeChoices(reader)).shape, shown);
  const data = {
    ...shapeTierHead(table),
    requestKey: mintKey(),
    action: cutPath(code, tierId),
    fields,
    card: shapePieceCard(reader, table, named, asker),
    strips: piece ? shapeShadeFigures(piece.shade, namesAtTable(reader, table), units) : null,
    /** "8 strips in 8 cut lengths of 33 cm, 1 strip a length: 2.64 m"; '' where no piece is named yet */
    needs: filled.needs,
    /** what is left beside the strips, "98 cm wide, 33 cm long"; '' where they take the whole width */
    rest: filled.rest,
    usefulFrom: showLength(readWorkroom(reader).usefulRemnantTicks, units, 'up'),
    lotsInUse: piece ? sayLotsToMatch(reader, table.garment, piece, units) : '',
    asksMore:
      piece !== null && (Number(shown.strips) > piece.shade.leftStrips || fields.more_than_wanted.checked),
    suggest: [
      ...new Set([...table.held.map(({ pieceCode }) => pieceCode), ...readFreePieceCodes(reader, sources)]),
    ],
  };
  const found = typed ? {} : { problems };
  return {
    view: 'cutting-table/tier/cut',
    data,
    title: `Cut for ${sayTier(table)}`,
    room: 'cutting-table',
    ...found,
  } satisfies Page;
}

function firstPlanned(reader: Reader, sources: readonly Sources[]): string {
  const [first] = sources.flatMap(({ plan }) => plan.cuts);
  if (!first) return '';
  const byId = reader.db.selectFrom('piece').select('code').where('id', '=', first.pieceId);
  return reader.first(byId)?.code ?? '';
}

/** What planned work needs no typing for: the strips, their length, and what becomes of the rest. */
function fillIn(reader: Reader, piece: PieceForTier | null, strips: number | null, asker: Asker) {
  const { units } = asker;
  const width = piece?.state.usableWidthTicks ?? 1;
  const wanted = strips ?? (piece ? fittingStrips(piece) : 0);
  const cut = piece && wanted > 0 ? cutInLengths(piece.shade, width, wanted) : null;
  const rest = piece && cut ? leftoverOf(piece.shade, width, cut) : null;
  const keeps =
    piece && rest ? isWorthKeeping(rest, piece.shade, readWorkroom(reader).usefulRemnantTicks) : false;
  return {
    typed: {
      strips: wanted > 0 ? String(wanted) : '',
      length: cut ? writeLength(cut.lengthTicks, units) : '',
      rest: keeps ? 'keep' : 'waste',
      leftover_width: rest ? writeSize(rest.widthTicks, units) : '',
      leftover_length: rest ? writeLength(rest.lengthTicks, units) : '',
    },
    needs: piece && cut ? sayCutLengths(piece.shade, width, wanted, units) : '',
    rest: rest ? sayRestSize(rest, asker) : '',
  };
}

function fittingStrips({ shade, state, heldForTierTicks }: PieceForTier): number {
  const { usableWidthTicks: widthTicks } = state;
  return stripsFromPiece(shade, { widthTicks, heldTicks: heldForTierTicks, freeTicks: freeTicks(state) });
}

export function sayRestSize(rest: Rectangle, { units }: Asker): string {
  return `${showSize(rest.widthTicks, units, 'down')} wide, ${showLength(rest.lengthTicks, units, 'down')} long`;
}

function asWhole(text: string | undefined): number | null {
  return /^[1-9][0-9]{0,4}$/.test(text?.trim() ?? '') ? Number(text) : null;
}
