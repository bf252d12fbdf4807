import type { FastifyInstance } from 'fastify';
import type { Reader } from '../../database/book.ts';
import { queryNumber, queryText } from '../../kit/address.ts';
import { piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { type Asker, type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import type { Page } from '../../web/page-frame.ts';
import { handlePost } from '../../web/post.ts';
import type { ShelfTold } from '../told.ts';
import { type PieceFacts, readPieceFacts, readPieceId } from './facts.ts';
import { type FlawRow, flawForm, markFlaw, shapeFlaws, strikeFlaw, strikeForm } from './flaw-form.ts';
import { readFlawsOf } from './flaws.ts';

/** The flaws of a piece, and marking another. */
export interface FlawPageData {
  readonly piece: PieceFacts;
  readonly tapeStep: string;
  readonly flaws: readonly (FlawRow & { readonly strike: string; readonly requestKey: string })[];
  readonly action: string;
  readonly requestKey: string;
  readonly typed: Typed;
  /** the garment whose bench is gone back to; '' for the piece */
  readonly back: string;
  readonly backHref: string;
  readonly unit: string;
  readonly sizeUnit: string;
}

export function flawPage(
  reader: Reader,
  pieceId: number,
  asker: Asker,
  back: string,
  typed: Typed = {},
): Page {
  const piece = readPieceFacts(reader, pieceId, asker);
  const path = `${piecePath(piece.code)}/flaws`;
  const flaws = shapeFlaws(readFlawsOf(reader, pieceId), piece.usableWidthTicks, asker.units);
  const data: FlawPageData = {
    piece,
    tapeStep: sayTapeStep(piece.tapeMaxTicks, asker.units),
    flaws: flaws.map((flaw) => ({ ...flaw, strike: `${path}/${flaw.id}/strikes`, requestKey: mintKey() })),
    action: path,
    requestKey: mintKey(),
    typed,
    back: typed.back ?? back,
    backHref: back === '' ? piecePath(piece.code) : `/cutting-table/${encodeURIComponent(back)}/bench`,
    unit: lengthUnit(asker.units),
    sizeUnit: sizeUnit(asker.units),
  };
  return { view: 'shelf/piece/flaws', data, title: `Flaws of ${piece.code}`, room: 'shelf' };
}

interface OnePiece {
  Params: { code: string; flaw: string };
}

export function flawRoutes(app: FastifyInstance, house: House, told: ShelfTold): void {
  const { book } = house;
  const backOf = (query: unknown) => queryText(query, 'back').slice(0, 40);
  app.get<OnePiece>('/shelf/pieces/:code/flaws', (request, reply) => {
    const pieceId = readPieceId(book, request.params.code);
    const page = flawPage(book, pieceId, whoAsks(house, request), backOf(request.query));
    return sendPage(house, request, reply, page);
  });
  app.post<OnePiece>('/shelf/pieces/:code/flaws', (request, reply) => {
    const asker = whoAsks(house, request);
    const pieceId = readPieceId(book, request.params.code);
    return handlePost(house, request, reply, {
      schema: flawForm(asker.units),
      write: (tx, form) => told.withFallenOut(tx, pieceId, asker.units, markFlaw(tx, pieceId, form, asker)),
      redraw: (typed) => flawPage(book, pieceId, asker, typed.back ?? '', typed),
    });
  });
  app.post<OnePiece>('/shelf/pieces/:code/flaws/:flaw/strikes', (request, reply) => {
    const asker = whoAsks(house, request);
    const pieceId = readPieceId(book, request.params.code);
    const flawId = queryNumber(request.params, 'flaw') ?? 0;
    return handlePost(house, request, reply, {
      schema: strikeForm(),
      write: (tx, form) => strikeFlaw(tx, pieceId, flawId, form.back, asker),
      redraw: (typed) => flawPage(book, pieceId, asker, typed.back ?? '', {}),
    });
  });
}
