import type { FastifyInstance } from 'fastify';
import { dayOf } from '../../kit/when.ts';
import { conflict, orProblems } from '../../refusal.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { goToKeyedAddress } from '../../web/keyed-address.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost, readForm } from '../../web/post.ts';
import { GRADING_FORM, rulesPage, setGradingRule, setSpare, spareForm } from '../rules.ts';
import { basketForm, typedFromShort } from './form.ts';
import { basketCase } from './job.ts';
import { draftBasket } from './orders.ts';
import { basketPage } from './page.ts';
import type { PlanBasket } from './plan.ts';

/** The basket: nothing of it is kept until its orders are drafted. What it is worked out for stands in the address. */
export function basketRoutes(app: FastifyInstance, house: House, plan: PlanBasket): void {
  const { book } = house;
  app.get('/orders/basket', async (request, reply) => {
    if (goToKeyedAddress(request, reply)) return reply;
    const asker = whoAsks(house, request);
    const today = dayOf(book.now());
    const { done: _, ...query } = withoutKey(readBody(request.query).typed);
    const fromShort = !Object.keys(query).some((name) => name.startsWith('needs.'));
    const short = fromShort ? typedFromShort(book, asker, today) : { typed: {}, further: [] };
    const typed = { ...short.typed, ...query };
    const further = short.further.length;
    const schema = basketForm(book, asker);
    const { value: form, problems } = orProblems(() => readForm(schema, readBody(typed).body));
    const planned = form && (await plan(form));
    const page = basketPage(book, asker, today, typed, planned, { fromShort, further });
    return sendPage(house, request, reply, { ...page, problems });
  });

  app.post('/orders/basket', async (request, reply) => {
    const asker = whoAsks(house, request);
    const today = dayOf(book.now());
    const schema = basketForm(book, asker);
    const { total_minor: _, ...asked } = withoutKey(readBody(request.body).body);
    const read = schema.safeParse(asked);
    const planned = read.success ? await plan(read.data) : null;
    return handlePost(house, request, reply, {
      schema,
      write: (tx, form) => {
        const now = basketCase(tx, form, dayOf(tx.at));
        // The basket was worked out a moment before: what it was worked out from must still be so.
        if (!planned?.plan || JSON.stringify(now) !== JSON.stringify(planned.basket))
          throw conflict('The prices were changed meanwhile. Look the basket over and draft it again.');
        return draftBasket(tx, planned.basket, planned.plan, form.total_minor?.value ?? -1, asker);
      },
      redraw: (again) => basketPage(book, asker, today, again, planned),
    });
  });
}

/** Settings of buying. */
export function rulesRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get('/orders/rules', (request, reply) => sendPage(house, request, reply, rulesPage(book)));
  app.post('/orders/rules', (request, reply) =>
    handlePost(house, request, reply, {
      schema: GRADING_FORM,
      write: setGradingRule,
      redraw: (typed) => rulesPage(book, typed),
    }),
  );
  app.post('/orders/rules/spares', (request, reply) =>
    handlePost(house, request, reply, {
      schema: spareForm(book),
      write: setSpare,
      redraw: (typed) => rulesPage(book, typed),
    }),
  );
}
