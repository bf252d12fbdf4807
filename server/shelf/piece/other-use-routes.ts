import type { FastifyInstance } from 'fastify';
import type { Answer, Tx } from '../../database/book.ts';
import { answering } from '../../web/answering.ts';
import type { Asker, House } from '../../web/house.ts';
import type { ShelfTold } from '../told.ts';
import { readPieceId } from './facts.ts';
import { cutHeld, cutOrHold, heldUseForm, otherUseForm, releaseHeld } from './other-use-form.ts';
import { piecePage } from './page.ts';

/** Lengths of a piece cut and held for something besides a tier. */
export function otherUseRoutes(app: FastifyInstance, house: House, told: ShelfTold): void {
  const { book } = house;
  const { takeForm } = answering(app, house, { POST: 'hand' });

  takeForm('/shelf/pieces/:code/uses', ({ asker, params, save }) => {
    const pieceId = readPieceId(book, params.code);
    return save({
      schema: otherUseForm(book, asker),
      write: (tx, form) => cutOrHold(tx, pieceId, form, asker),
      redraw: (typed) => piecePage(book, pieceId, asker, told, { refusedUse: { otherUseId: 0, typed } }),
    });
  });

  type HeldUse = Parameters<typeof cutHeld>[3];
  const takeHeld = (
    what: 'cuts' | 'releases',
    write: (tx: Tx, pieceId: number, otherUseId: number, form: HeldUse, asker: Asker) => Answer,
  ) =>
    takeForm(`/shelf/pieces/:code/uses/:id/${what}`, ({ asker, id, params, save }) => {
      const pieceId = readPieceId(book, params.code);
      return save({
        schema: heldUseForm(asker),
        write: (tx, form) => write(tx, pieceId, id, form, asker),
        redraw: (typed) => piecePage(book, pieceId, asker, told, { refusedUse: { otherUseId: id, typed } }),
      });
    });
  takeHeld('cuts', cutHeld);
  takeHeld('releases', releaseHeld);
}
