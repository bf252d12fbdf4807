import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { placeChoices } from '../../kit/choices.ts';
import { type Asker, type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import type { ShelfTold } from '../told.ts';
import { readPieceId } from './facts.ts';
import { flawRoutes } from './flaw-page.ts';
import {
  giveBack,
  move,
  moveForm,
  PIECE_FORMS,
  type PieceForm,
  recountForm,
  returnForm,
  splitForm,
  writeOffForm,
  writeOffFromForm,
  writeRecount,
  writeSplit,
} from './forms.ts';
import { piecePage } from './page.ts';
import { measureWidth, widthForm } from './width.ts';

interface OnePiece {
  Params: { code: string };
}

/** A piece: its page, and what can be done to it, each a resource of its own. */
export function pieceRoutes(app: FastifyInstance, house: House, told: ShelfTold): void {
  const { book } = house;
  app.get<OnePiece>('/shelf/pieces/:code', (request, reply) => {
    const page = piecePage(book, readPieceId(book, request.params.code), whoAsks(house, request), {
      before: queryNumber(request.query, 'before'),
    });
    return sendPage(house, request, reply, page);
  });

  /** Carries out one form of a piece; refused, the piece's page is drawn again with that form open. */
  function change<T>(
    name: PieceForm,
    schema: (asker: Asker) => z.ZodType<T>,
    write: (tx: Tx, pieceId: number, form: T, asker: Asker) => Answer,
  ): void {
    app.post<OnePiece>(`/shelf/pieces/:code/${PIECE_FORMS[name]}`, (request, reply) => {
      const asker = whoAsks(house, request);
      const pieceId = readPieceId(book, request.params.code);
      return handlePost(house, request, reply, {
        schema: schema(asker),
        write: (tx, form) => write(tx, pieceId, form, asker),
        redraw: (typed) => piecePage(book, pieceId, asker, { open: name, typed }),
      });
    });
  }

  change('split', ({ units }) => splitForm(units, placeChoices(book)), writeSplit);
  change(
    'recount',
    ({ units }) => recountForm(units),
    (tx, pieceId, form, asker) =>
      told.withPlanWayOn(tx, pieceId, () => writeRecount(tx, pieceId, form, asker)),
  );
  change('write-off', ({ units }) => writeOffForm(units), writeOffFromForm);
  change('return', ({ units }) => returnForm(units), giveBack);
  change(
    'move',
    () => moveForm(placeChoices(book)),
    (tx, pieceId, form) => move(tx, pieceId, form, placeChoices(tx)),
  );
  change(
    'width',
    ({ units }) => widthForm(units),
    (tx, pieceId, form, asker) =>
      told.withFallenOut(tx, pieceId, asker.units, measureWidth(tx, pieceId, form, asker)),
  );
  flawRoutes(app, house, told);
}
