import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { basketCase } from '../../../../server/buying/basket/job.ts';
import { basketRoutes } from '../../../../server/buying/basket/routes.ts';
import { loadBasketSolver } from '../../../../server/buying/basket/solver.ts';
import { Hasher } from '../../../../server/let-in/hashing.ts';
import type { Door } from '../../../../server/web/door.ts';
import { KeptPages } from '../../../../server/web/kept.ts';
import { Tries } from '../../../../server/web/limits.ts';
import { RuleBook } from '../../../../server/web/rules.ts';
import { type BasketSolver, solvedBasket } from '../../../../src/buying/basket/plan.ts';
import { makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;
const apps: FastifyInstance[] = [];

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Copper Sheers', lead_days: '5' }).expect(200);
  await house
    .send('/orders/suppliers/1/offers/new', {
      cloth_id: String(stock.clothId),
      shade_id: String(stock.shadeId),
      price_per: 'm',
      bolts: [{ length: '50', price: '180' }],
      prices: [{ length: '', price: '5' }],
    })
    .expect(200);
});
afterEach(async () => {
  await Promise.all(apps.splice(0).map((app) => app.close()));
  await house.shut();
});

/** The page of the basket for 38 m, in a house whose solver answers so. */
async function basketBy(solve: BasketSolver, accept: string): Promise<string> {
  const app = Fastify();
  apps.push(app);
  app.register(cookie);
  app.register(formbody);
  const { book } = house;
  const door: Door = {
    book,
    port: () => 0,
    hasher: new Hasher(),
    tries: new Tries(),
    rules: new RuleBook(),
    served: null,
  };
  basketRoutes(app, { book, port: door.port, keptPages: new KeptPages(), door }, async (form) => {
    const basket = basketCase(book, form, '2026-03-02');
    return { basket, plan: await solvedBasket(basket.job, solve) };
  });
  const needs = {
    'needs.0.cloth_id': String(stock.clothId),
    'needs.0.shade_id': String(stock.shadeId),
    'needs.0.length': '38',
  };
  const answer = await app.inject({ url: '/orders/basket', query: needs, headers: { accept } });
  expect(answer.statusCode).toBe(200);
  return answer.body;
}

const PROVED = 'No way of buying this is cheaper at these prices';
const NOT_PROVED = 'The cheapest that was found; that nothing is cheaper was not proved in time';

describe('a basket that was not proved', () => {
  it('says so, whether the solver found nothing or its clock cut it off, and is bought all the same', async () => {
    const solver = await loadBasketSolver();
    const cutOff: BasketSolver = async (program) => {
      const solved = solver(program);
      return solved && { ...solved, proved: false };
    };
    for (const solve of [async () => null, cutOff]) {
      const text = await basketBy(solve, 'text/html');
      expect(text).toContain(NOT_PROVED);
      expect(text).not.toContain(PROVED);
      const { basket } = JSON.parse(await basketBy(solve, 'application/json'));
      // 38 m at 5.00 are 190.00, and the bolt of 50 m is 180.00.
      expect(basket).toMatchObject({ proved: false, total: '€180.00' });
    }
  });

  it('is told from one that was', async () => {
    const needs = { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId), length: '38' };
    const query = Object.entries(needs).map(([name, text]) => [`needs.0.${name}`, text]);
    const page = await house.page(`/orders/basket?${new URLSearchParams(query)}`).expect(200);
    expect(page.text).toContain(PROVED);
    expect(page.text).not.toContain(NOT_PROVED);
  });
});
