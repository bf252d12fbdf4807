import type { FastifyInstance } from 'fastify';
import { queryText } from '../kit/address.ts';
import { draftOrder, newOrderPage, orderForm } from '../orders/order/form.ts';
import { readDrafts } from '../orders/order/queries.ts';
import { answering } from '../web/answering.ts';
import { readBody } from '../web/body.ts';
import type { House } from '../web/house.ts';
import { readForm } from '../web/post.ts';
import { basketForm } from './basket/form.ts';
import { basketPlanner } from './basket/plan.ts';
import { basketRoutes } from './basket/routes.ts';
import { dyeOrBuyPage } from './dye-or-buy/page.ts';
import { basketFromShort, orderFromShort, readToBuy, withWaiting } from './from-short.ts';
import { GRADING_FORM, rulesPage, setGradingRule, setSpare, spareForm } from './rules.ts';
import { listDrafts, listShort, shoppingPage } from './shopping/page.ts';

/** Buying what is short: orders filled in, the basket, dye or buy, the shopping list, and the rules of buying. */
export function buyingRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showKeyedPage, showPage, takeForm } = answering(app, house);
  showKeyedPage('/orders/new', ({ asker, today, query }) => {
    const fromShort = queryText(query, 'from') === 'short';
    if (!fromShort) return newOrderPage(book, asker, today, {}, false);
    return withWaiting(book, newOrderPage(book, asker, today, orderFromShort(book, asker, today), true));
  });
  takeForm('/orders/new', ({ asker, today, typed, save }) =>
    save({
      schema: orderForm(book, asker, today, typed),
      write: (tx, form) => draftOrder(tx, form, asker),
      redraw: (again) => newOrderPage(book, asker, today, again, again.from === 'short'),
    }),
  );

  const plan = basketPlanner(app, book);
  basketRoutes(app, house, plan);

  showPage('/orders/dye-or-buy', ({ asker, today, query }) => dyeOrBuyPage(book, query, asker, today));

  // `from=drafts` or `from=short`; where nobody says, drafts go first where there are any.
  showPage('/orders/shopping', async ({ asker, today, query }) => {
    const from = queryText(query, 'from');
    const [drafts, toBuy] = [readDrafts(book), readToBuy(book, asker, today)];
    if (from !== 'short' && (from === 'drafts' || drafts.length > 0))
      return withWaiting(book, shoppingPage(listDrafts(book, asker, drafts, toBuy)));
    const { typed } = basketFromShort(book, asker, today, toBuy);
    const form = readForm(basketForm(book, asker), readBody(typed).body);
    const short = { drafts, toBuy, neededBy: form.needed_by };
    return withWaiting(book, shoppingPage(listShort(book, asker, await plan(form), short)));
  });

  showPage('/orders/rules', () => rulesPage(book));
  takeForm('/orders/rules', ({ save }) =>
    save({ schema: GRADING_FORM, write: setGradingRule, redraw: (typed) => rulesPage(book, typed) }),
  );
  takeForm('/orders/rules/spares', ({ save }) =>
    save({ schema: spareForm(book), write: setSpare, redraw: (typed) => rulesPage(book, typed) }),
  );
}
