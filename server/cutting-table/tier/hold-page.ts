import { lengthForStrips } from '../../../src/fit/cut-length.ts';
import { freeTicks } from '../../../src/ledger/entries.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { holdPath, releasePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { orProblems } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { namesAtTable } from './cut-list.ts';
import { shapeShadeFigures, shapeTierHead } from './head.ts';
import { holdForm, releaseForm } from './holding.ts';
import { sayLotsToMatch } from './lots.ts';
import { type PieceForTier, readPieceForTier } from './piece.ts';
import { shapePieceCard } from './piece-card.ts';
import { readSources, type Sources } from './sources.ts';
import { readTierAtTable, sayTier, type TierAtTable } from './table.ts';

/** The form that holds length, for the piece named; `typed` where it was refused. */
export function holdPage(
  reader: Reader,
  code: string,
  tierId: number,
  asker: Asker,
  given: { readonly piece: string; readonly typed?: Typed },
) {
  const table = readTierAtTable(reader, code, tierId);
  const sources = readSources(reader, table);
  const named = given.typed?.piece ?? given.piece;
  const looked = findNamedPiece(reader, table, named, asker);
  const source = sources.find(({ shade }) => shade.shadeId === looked.piece?.shade.shadeId);
  const missingStrips = source?.missingStrips ?? 0;
  const { typed } = given;
  const planned = { length: prefill(missingStrips, looked.piece, asker) };
  const data = {
    ...shared(reader, table, named, asker),
    action: holdPath(code, tierId),
    fields: drawFields(holdForm(asker.units).shape, { ...(typed ?? planned), piece: named }),
    /** the strips that the piece would be for; null where it is not known yet */
    strips: looked.piece
      ? shapeShadeFigures(looked.piece.shade, namesAtTable(reader, table), asker.units)
      : null,
    /** of the strips left, those that do not fit into what the tier holds */
    missingStrips,
    /** which lots are in use where the piece is of another, as a sentence; else '' */
    lotsInUse: looked.piece ? sayLotsToMatch(reader, table.garment, looked.piece, asker.units) : '',
    /** codes of pieces that would do */
    suggest: readFreePieceCodes(reader, sources),
  };
  const problems = typed ? {} : { problems: looked.problems };
  return {
    view: 'cutting-table/tier/hold',
    data,
    title: `Hold for ${sayTier(table)}`,
    room: 'cutting-table',
    ...problems,
  } satisfies Page;
}

/** The form that gives held length back. */
export function releasePage(
  reader: Reader,
  code: string,
  tierId: number,
  asker: Asker,
  given: { readonly piece: string; readonly typed?: Typed },
) {
  const table = readTierAtTable(reader, code, tierId);
  const named = given.typed?.piece ?? given.piece;
  const head = shared(reader, table, named, asker);
  const held = head.card?.heldHereTicks ?? 0;
  const { typed } = given;
  const all = { length: held === 0 ? '' : writeLength(held, asker.units) };
  const data = {
    ...head,
    action: releasePath(code, tierId),
    fields: drawFields(releaseForm(asker.units).shape, { ...(typed ?? all), piece: named }),
    /** why there is nothing to release of the piece named, as a sentence; else '' */
    nothing:
      head.card && held === 0 && !typed
        ? `Nothing of ${head.card.piece.code} is held for ${table.tier.name}.`
        : '',
    suggest: table.held.map(({ pieceCode }) => pieceCode),
  };
  return {
    view: 'cutting-table/tier/release',
    data,
    title: `Release from ${sayTier(table)}`,
    room: 'cutting-table',
  } satisfies Page;
}

function shared(reader: Reader, table: TierAtTable, named: string, asker: Asker) {
  return {
    ...shapeTierHead(table),
    requestKey: mintKey(),
    card: shapePieceCard(reader, table, named, asker),
  };
}

/** The piece that was named, or what stands against it, without refusing the page. */
export function findNamedPiece(reader: Reader, table: TierAtTable, named: string, asker: Asker) {
  const { value: piece, problems } = orProblems(() =>
    named === '' || table.closed !== '' ? null : readPieceForTier(reader, table, named, asker.units),
  );
  return { piece, problems };
}

function prefill(missingStrips: number, piece: PieceForTier | null, asker: Asker): string {
  if (!piece) return '';
  const { usableWidthTicks: widthTicks } = piece.state;
  const stretch = { widthTicks, lengthTicks: freeTicks(piece.state) };
  const lengthTicks = lengthForStrips(piece.shade, stretch, missingStrips);
  return lengthTicks === 0 ? '' : writeLength(lengthTicks, asker.units);
}

/** Codes of free pieces that give a strip, best first. */
export function readFreePieceCodes(reader: Reader, sources: readonly Sources[]): string[] {
  const ids = sources.flatMap(({ free }) => free.slice(0, 20).map(({ pieceId }) => pieceId));
  if (ids.length === 0) return [];
  const rows = reader.all(reader.db.selectFrom('piece').select(['id', 'code']).where('id', 'in', ids));
  const codes = new Map(rows.map((row) => [row.id, row.code]));
  return ids.flatMap((id) => codes.get(id) ?? []);
}
