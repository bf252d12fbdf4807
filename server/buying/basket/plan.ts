import type { FastifyInstance } from 'fastify';
import { type BasketPlan, planBasket } from '../../../src/buying/basket/plan.ts';
import type { Book } from '../../database/book.ts';
import { dayOf } from '../../kit/when.ts';
import type { BasketForm } from './form.ts';
import { type BasketCase, basketCase } from './job.ts';
import { BasketWorker } from './worker.ts';

const MOST_KNOWN = 20;

export interface PlannedBasket {
  readonly basket: BasketCase;
  /** null where nothing is asked for, or nobody offers it */
  readonly plan: BasketPlan | null;
}

export type PlanBasket = (form: BasketForm) => Promise<PlannedBasket>;

/** Works out baskets. What was seen is what is drafted: the same job gets the same plan, and at once. */
export function basketPlanner(app: FastifyInstance, book: Book): PlanBasket {
  const worker = new BasketWorker();
  app.addHook('onClose', () => worker.close());
  const known = new Map<string, BasketPlan>();
  return async (form) => {
    const basket = basketCase(book, form, dayOf(book.now()));
    if (basket.job.needs.length === 0) return { basket, plan: null };
    const key = JSON.stringify(basket.job);
    const found = known.get(key) ?? (await planBasket(basket.job, (program) => worker.solve(program)));
    known.delete(key);
    known.set(key, found);
    const [oldest] = known.keys();
    if (known.size > MOST_KNOWN && oldest !== undefined) known.delete(oldest);
    return { basket, plan: found };
  };
}
