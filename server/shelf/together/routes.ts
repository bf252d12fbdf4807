import type { FastifyInstance } from 'fastify';
import { queryText } from '../../kit/address.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import type { ShelfTold } from '../told.ts';
import { EYE_FORM, eyePage, saveEyeJudgement } from './eye-form.ts';
import { togetherListPage, togetherPage } from './page.ts';

/** Which lots may be sewn together, and judging two of them by eye. Whoever works with cloth may judge. */
export function togetherRoutes(
  app: FastifyInstance,
  house: House,
  told: Pick<ShelfTold, 'readNeedOfLots'>,
): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage('/shelf/together', ({ query, asker }) =>
    queryText(query, 'cloth') === '' ? togetherListPage(book) : togetherPage(book, query, asker, told),
  );
  showPage('/shelf/together/:one/:other', ({ params }) => eyePage(book, params));
  takeForm('/shelf/together/:one/:other', ({ params, save }) =>
    save({
      schema: EYE_FORM,
      write: (tx, form) => saveEyeJudgement(tx, params, form),
      redraw: (typed) => eyePage(book, params, typed),
    }),
  );
}
