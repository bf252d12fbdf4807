import { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Tx } from '../../database/book.ts';
import { textField } from '../../kit/fields.ts';
import { undoRequest } from '../../ledger/undo.ts';
import { exportWorkroom } from '../../ledger/whole-workroom.ts';
import { conflict } from '../../refusal.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { troublePage } from '../../web/trouble-page.ts';

const UNDO = z.strictObject({ undoes: textField({ max: 80 }) });

export function ledgerRoutes(app: FastifyInstance, house: House): void {
  const { answer, takeForm } = answering(app, house);
  takeForm('/undo', ({ asker, save }) =>
    save({
      schema: UNDO,
      write: (tx, form) => {
        if (!asker.undoesOthers) refuseOthersWork(tx, form.undoes, asker.personId);
        return undoRequest(tx, form.undoes);
      },
      redraw: () => ({ view: 'errors/not-undone', data: {}, title: 'Not undone', room: null }),
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

function refuseOthersWork(tx: Tx, key: string, personId: number): void {
  const done = tx.first(
    tx.db
      .selectFrom('request')
      .innerJoin('person', 'person.id', 'request.person_id')
      .select(['person.id', 'person.name'])
      .where('key', '=', key),
  );
  if (done && done.id !== personId)
    throw conflict(`${done.name} did this. What others did is undone by them or by a keeper.`);
}
