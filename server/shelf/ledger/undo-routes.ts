import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { textField } from '../../kit/fields.ts';
import { undoFor } from '../../ledger/undo.ts';
import { exportWorkroom } from '../../ledger/whole-workroom.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { troublePage } from '../../web/trouble-page.ts';

const UNDO = z.strictObject({ undoes: textField({ max: 80 }) });

export function ledgerRoutes(app: FastifyInstance, house: House): void {
  const { answer, takeForm } = answering(app, house);
  takeForm('/undo', ({ asker, save }) =>
    save({
      schema: UNDO,
      write: (tx, form) => undoFor(tx, form.undoes, asker),
      redraw: () => ({ view: 'errors/not-undone', data: {}, title: 'Undo refused', room: null }),
    }),
  );
  answer('/trouble', ({ reply, show }) => {
    const { trouble } = house.book;
    return trouble ? show(troublePage(house.book, trouble)) : reply.redirect('/', 303);
  });
  // Only while nothing is written: reading all of it would otherwise stand in the way of every write.
  answering(app, house, { GET: 'machine' }).answer('/trouble/workroom.json', ({ reply }) => {
    if (!house.book.trouble) return reply.redirect('/', 303);
    reply
      .type('application/json; charset=utf-8')
      .header('content-disposition', 'attachment; filename="workroom.json"');
    return reply.send(Readable.from(exportWorkroom(house.book)));
  });
}
