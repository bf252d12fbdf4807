import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { textField } from '../web/fields.ts';
import type { House } from '../web/house.ts';
import { handlePost } from '../web/post.ts';
import { undoRequest } from './undo.ts';

const UNDO = z.strictObject({ undoes: textField({ max: 80 }) });

export function ledgerRoutes(app: FastifyInstance, house: House): void {
  app.post('/undo', (request, reply) =>
    handlePost(house, request, reply, {
      schema: UNDO,
      write: (tx, form) => undoRequest(tx, form.undoes),
      redraw: () => ({ view: 'ledger/not-undone', data: {}, title: 'Not undone', room: null }),
    }),
  );
}
