import type { FastifyInstance } from 'fastify';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { fuelForm, fuelPage, setFuelPrices } from './fuel-page.ts';
import { budgetForm, garmentCostPage, setBudget } from './garment-page.ts';
import { spendPage } from './spend-page.ts';
import { valuePage } from './value-page.ts';

/** What things cost: a garment, the shelf, the months. */
export function costRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage('/garments/:code/cost', ({ asker, params }) => garmentCostPage(book, params.code, asker));
  takeForm('/garments/:code/budgets', ({ asker, params: { code }, save }) =>
    save({
      schema: budgetForm(asker),
      write: (tx, form) => setBudget(tx, code, form, asker),
      redraw: (typed) => garmentCostPage(book, code, asker, typed),
    }),
  );
  showPage('/setup/fuel', ({ asker }) => fuelPage(book, asker));
  takeForm('/setup/fuel', ({ asker, save }) =>
    save({
      schema: fuelForm(asker),
      write: (tx, form) => setFuelPrices(tx, form, asker),
      redraw: (typed) => fuelPage(book, asker, typed),
    }),
  );
  showPage('/shelf/value', ({ asker }) => valuePage(book, asker));
  showPage('/orders/spend', ({ asker }) => spendPage(book, book.now(), asker));
}
