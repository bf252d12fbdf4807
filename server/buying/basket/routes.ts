import type { FastifyInstance } from 'fastify';
import { dayOf } from '../../kit/when.ts';
import { conflict, orProblems } from '../../refusal.ts';
import { answering } from '../../web/answering.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import type { House } from '../../web/house.ts';
import { readForm } from '../../web/post.ts';
import { basketFromShort, withWaiting } from '../from-short.ts';
import { basketForm } from './form.ts';
import { basketCase } from './job.ts';
import { draftBasket } from './orders.ts';
import { basketPage } from './page.ts';
import type { PlanBasket } from './plan.ts';

/** The basket: nothing of it is kept until its orders are drafted. What it is worked out for stands in the address. */
export function basketRoutes(app: FastifyInstance, house: House, plan: PlanBasket): void {
  const { book } = house;
  const { showKeyedPage, takeForm } = answering(app, house);
  showKeyedPage('/orders/basket', async ({ asker, today, typedInAddress: asked }) => {
    const fromShort = !Object.keys(asked).some((name) => /^(needs|supplies)\./.test(name));
    const short = fromShort ? basketFromShort(book, asker, today) : { typed: {}, further: [] };
    const typed = { ...short.typed, ...asked };
    const further = short.further.length;
    const schema = basketForm(book, asker);
    const { value: form, problems } = orProblems(() => readForm(schema, readBody(typed).body));
    const planned = form && (await plan(form));
    const page = basketPage(book, asker, today, typed, planned, { fromShort, further });
    return { ...(fromShort ? withWaiting(book, page) : page), problems };
  });

  takeForm('/orders/basket', async ({ asker, today, body, save }) => {
    const schema = basketForm(book, asker);
    const { total_minor: _, ...asked } = withoutKey(body);
    const read = schema.safeParse(asked);
    const planned = read.success ? await plan(read.data) : null;
    return save({
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
