import type { FastifyInstance } from 'fastify';
import type { Answer, Tx } from '../database/book.ts';
import { readGarment, readTierOf } from '../garments/garment/records.ts';
import { finishGarment, reopenGarment } from '../garments/garment/verbs.ts';
import { putBackTier, takeOutTier } from '../garments/tier/verbs.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { backwardsPage } from './backwards-page.ts';
import { garmentPage } from './garment-page.ts';
import { garmentListPage } from './list-page.ts';
import { bookPage } from './printed-page.ts';
import { progressPage } from './progress-page.ts';

/** The garments of the workroom and each of them whole: what it needs, what is short, cut and spent. */
export function garmentBookRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  showPage('/garments', ({ query, today }) => garmentListPage(book, query, today));
  showPage('/garments/:code', ({ params, asker, today }) => garmentPage(book, params.code, asker, today));
  showPage('/garments/:code/progress', ({ params, asker, today }) =>
    progressPage(book, params.code, asker.units, today),
  );
  showPage('/garments/:code/book', ({ params, asker }) => bookPage(book, params.code, asker));
  showPage('/garments/:code/tiers/:id/backwards', ({ params, id, asker }) => {
    const { garment, tier } = readTierOf(book, params.code, id);
    return backwardsPage(book, garment, tier, asker.units);
  });

  const takeStep = (step: string, take: (tx: Tx, code: string) => Answer) =>
    takeForm(`/garments/:code/${step}`, ({ params, asker, today, save }) => {
      const { code } = readGarment(book, params.code);
      return save({
        schema: NOTHING_TYPED,
        write: (tx) => take(tx, code),
        redraw: () => garmentPage(book, code, asker, today),
      });
    });
  takeStep('finished', finishGarment);
  takeStep('reopened', reopenGarment);

  const takeTierStep = (step: string, take: (tx: Tx, code: string, tierId: number) => Answer) =>
    takeForm(`/garments/:code/tiers/:id/${step}`, ({ params, id, asker, today, save }) => {
      const { garment, tier } = readTierOf(book, params.code, id);
      return save({
        schema: NOTHING_TYPED,
        write: (tx) => take(tx, garment.code, tier.id),
        redraw: () => garmentPage(book, garment.code, asker, today),
      });
    });
  takeTierStep('taken-out', takeOutTier);
  takeTierStep('put-back', putBackTier);
}
