import type { FastifyInstance } from 'fastify';
import { idIn } from '../../kit/address.ts';
import { dayOf } from '../../kit/when.ts';
import { orProblems } from '../../refusal.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { goToKeyedAddress } from '../../web/keyed-address.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost, readForm } from '../../web/post.ts';
import { inspectionPage } from '../inspection/page.ts';
import { readGradingRule } from '../inspection/rule.ts';
import { inspectionForm, inspectPiece } from '../inspection/store.ts';
import { readPieceId } from '../piece/facts.ts';
import { receiveCheckPage } from './check.ts';
import { claimPage } from './claim.ts';
import { deliveryForm, FIRST_ROWS, receiveDelivery, receivePage, startedRow } from './page.ts';
import { receiptPage } from './receipt-page.ts';
import { rowsIn } from './rows.ts';

/** Receiving is drawn, checked and only then put on the shelf: a receipt is created by its own address. */
export function receiveRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get('/shelf/receive', (request, reply) => {
    if (goToKeyedAddress(request, reply)) return reply;
    const asker = whoAsks(house, request);
    return sendPage(house, request, reply, receivePage(book, asker, startedRow(request.query)));
  });

  // Writes nothing: draws more rows, the rows once more, or what was understood of them.
  app.post('/shelf/receive', (request, reply) => {
    const asker = whoAsks(house, request);
    const { body, typed } = readBody(request.body);
    const { step, ...asked } = withoutKey(body);
    if (step === 'more') {
      const rows = rowsIn(typed) + FIRST_ROWS;
      return sendPage(house, request, reply, receivePage(book, asker, typed, rows));
    }
    if (step === 'edit') return sendPage(house, request, reply, receivePage(book, asker, typed));
    const { value: form, problems } = orProblems(() => readForm(deliveryForm(book, asker), asked));
    if (form) return sendPage(house, request, reply, receiveCheckPage(book, form, typed, asker));
    return sendPage(house, request, reply, { ...receivePage(book, asker, typed), problems });
  });

  app.post('/shelf/receipts', (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: deliveryForm(book, asker),
      write: receiveDelivery,
      redraw: (typed) => receivePage(book, asker, typed),
    });
  });

  app.get('/shelf/receipts/:id', (request, reply) =>
    sendPage(house, request, reply, receiptPage(book, idIn(request.params), whoAsks(house, request))),
  );

  app.get('/shelf/receipts/:id/claim', (request, reply) =>
    sendPage(
      house,
      request,
      reply,
      claimPage(book, idIn(request.params), whoAsks(house, request), dayOf(book.now())),
    ),
  );
  inspectionRoutes(app, house);
}

interface OnePiece {
  Params: { code: string };
}

/** What is measured and found on a piece that came. */
function inspectionRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get<OnePiece>('/shelf/pieces/:code/inspections', (request, reply) =>
    sendPage(house, request, reply, inspectionPage(book, request.params.code, whoAsks(house, request))),
  );
  app.post<OnePiece>('/shelf/pieces/:code/inspections', (request, reply) => {
    const asker = whoAsks(house, request);
    const { code } = request.params;
    const pieceId = readPieceId(book, code);
    return handlePost(house, request, reply, {
      schema: inspectionForm(asker),
      write: (tx, form) =>
        inspectPiece(tx, pieceId, form, readGradingRule(tx), readBody(request.body).typed, asker),
      redraw: (typed) => inspectionPage(book, code, asker, typed),
    });
  });
}
