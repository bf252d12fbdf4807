import type { FastifyInstance } from 'fastify';
import { PLEATING_PATH } from '../../kit/paths.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { readPieceId } from '../piece/facts.ts';
import { backForm, sendForm } from './form.ts';
import { pleatingPage, pleatingsPage, sendToPleaterPage, stripsPleatedPage } from './pages.ts';
import {
  STRIPS_STEP,
  sendToPleater,
  stepStripsPleated,
  takeBackFromPleater,
  takeBackStrips,
} from './verbs.ts';

/** Cloth that is sent to a pleater and comes back. */
export function pleatingRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  showPage(PLEATING_PATH, ({ asker, today }) => pleatingsPage(book, { ...asker, today }));
  showPage('/shelf/pieces/:code/pleating', ({ params, asker, today }) =>
    sendToPleaterPage(book, readPieceId(book, params.code), { ...asker, today }),
  );
  takeForm('/shelf/pieces/:code/pleating', ({ params, asker, today, save }) => {
    const pieceId = readPieceId(book, params.code);
    return save({
      schema: sendForm(book, asker),
      write: (tx, form) => sendToPleater(tx, pieceId, form, asker.units),
      redraw: (typed) => sendToPleaterPage(book, pieceId, { ...asker, today }, typed),
    });
  });
  showPage(`${PLEATING_PATH}/:id`, ({ id, asker, today }) => pleatingPage(book, id, { ...asker, today }));
  takeForm(`${PLEATING_PATH}/:id/back`, ({ id, asker, today, save }) =>
    save({
      schema: backForm(asker),
      write: (tx, form) => takeBackFromPleater(tx, id, form),
      redraw: (typed) => pleatingPage(book, id, { ...asker, today }, typed),
    }),
  );
  const strips = `${PLEATING_PATH}/strips/:id` as const;
  showPage(strips, ({ id, asker, today }) => stripsPleatedPage(book, id, { ...asker, today }));
  takeForm(`${strips}/back`, ({ id, asker, today, save }) =>
    save({
      schema: backForm(asker),
      write: (tx, form) => takeBackStrips(tx, id, form),
      redraw: (typed) => stripsPleatedPage(book, id, { ...asker, today }, typed),
    }),
  );
  takeForm(`${strips}/steps`, ({ id, asker, today, save }) =>
    save({
      schema: STRIPS_STEP,
      write: (tx, form) => stepStripsPleated(tx, id, form),
      redraw: () => stripsPleatedPage(book, id, { ...asker, today }),
    }),
  );
}
