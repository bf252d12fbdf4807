import type { FastifyInstance } from 'fastify';
import { dayOf } from '../../kit/when.ts';
import { readDrafts } from '../../orders/order/queries.ts';
import { readBody } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { readForm } from '../../web/post.ts';
import { basketForm, readToBuy, typedFromShort } from '../basket/form.ts';
import type { PlanBasket } from '../basket/plan.ts';
import { shoppingFrom, shoppingFromDrafts, shoppingFromShort } from './page.ts';

/** The shopping list: `from=drafts` or `from=short`; drafts go first where there are any. */
export function shoppingRoutes(app: FastifyInstance, house: House, plan: PlanBasket): void {
  const { book } = house;
  app.get<{ Querystring: { from?: string } }>('/orders/shopping', async (request, reply) => {
    const asker = whoAsks(house, request);
    const today = dayOf(book.now());
    const [drafts, toBuy] = [readDrafts(book), readToBuy(book, asker, today)];
    if (shoppingFrom(drafts, request.query.from) === 'drafts')
      return sendPage(house, request, reply, shoppingFromDrafts(book, asker, drafts, toBuy));
    const { typed } = typedFromShort(book, asker, today, toBuy);
    const form = readForm(basketForm(book, asker), readBody(typed).body);
    const short = { drafts, toBuy, neededBy: form.needed_by };
    return sendPage(house, request, reply, shoppingFromShort(book, asker, await plan(form), short));
  });
}
