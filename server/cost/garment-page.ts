import { z } from 'zod';
import { showMoney } from '../../src/quantity/money.ts';
import { writeMoney } from '../../src/quantity/written-money.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readGarment } from '../garments/garment/records.ts';
import { moneyField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { costPath, garmentPath } from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import { readStillForGarment, readSuppliesOfGarment } from '../supplies/for-garment.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readClothCosts } from './garment-cost.ts';
import { shapeCosts, sumOf } from './sums.ts';

const MOST_BUDGET_MINOR = 1_000_000_000_000;

function budgetFields({ currency }: Asker) {
  return { budget: moneyField(currency, { max: MOST_BUDGET_MINOR, what: 'budget', label: 'It may cost' }) };
}

export function budgetForm(asker: Asker) {
  return z.strictObject(budgetFields(asker));
}

/** What a garment is to cost, what is committed to it, what was cut for it and what of that is left. */
export function garmentCostPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}) {
  const garment = readGarment(reader, code);
  const money = (minor: number) => showMoney(minor, asker.currency);
  const costs = readClothCosts(reader, garment);
  const budget = readBudget(reader, garment.id);
  const supplies = readSuppliesOfGarment(reader, garment.id, asker);
  const clothHeld = sumOf(costs, ({ heldMinor }) => heldMinor);
  const clothSpent = sumOf(costs, ({ spentMinor }) => spentMinor);
  const committed = clothHeld + supplies.heldMinor;
  const spent = clothSpent + supplies.usedMinor;
  // What is cut and held of a cloth was planned too: the larger of both is what it comes to.
  const clothMinor = sumOf(costs, ({ plannedMinor, heldMinor, spentMinor }) =>
    Math.max(plannedMinor ?? 0, heldMinor + spentMinor),
  );
  // A finished garment takes nothing more.
  const still = readStillForGarment(reader, code, asker);
  const comesTo = clothMinor + supplies.usedMinor + supplies.heldMinor + still.minor;
  const asTyped = { budget: budget ? writeMoney(budget.minor, asker.currency) : '' };
  const data = {
    code: garment.code,
    garmentHref: garmentPath(garment.code),
    requestKey: mintKey(),
    fields: drawFields(budgetFields(asker), { ...asTyped, ...typed }),
    /** '' where none was set */
    budget: budget ? money(budget.minor) : '',
    budgetSaid: budget ? `set by ${budget.who}, ${showMoment(budget.at)}` : '',
    sums: shapeCosts(reader, garment.id, costs, asker),
    /** what was used of the supplies for it or is held for it, and what cloth and supplies cost together */
    supplies: { rows: supplies.rows, cost: supplies.cost, unknown: supplies.unknown },
    /** what its opening and its parts still take of them, by what is on hand */
    still: { rows: still.rows, cost: still.cost },
    together: money(comesTo),
    /** the parts that it is the sum of; those of nothing are left out */
    comesTo: [
      { what: 'cloth spent', minor: clothSpent },
      { what: 'cloth held', minor: clothHeld },
      { what: 'cloth still to take', minor: clothMinor - clothSpent - clothHeld },
      { what: 'supplies used and held', minor: supplies.usedMinor + supplies.heldMinor },
      { what: 'supplies still to use', minor: still.minor },
    ].flatMap(({ what, minor }) => (minor === 0 ? [] : [{ what, amount: money(minor) }])),
    /** "€12.00 under the budget", "€3.00 over the budget", or '' without one */
    against: budget ? sayAgainst(budget.minor - comesTo, money) : '',
    isOver: budget !== undefined && comesTo > budget.minor,
    bar: shapeBar(spent, committed, comesTo, budget?.minor ?? null),
  };
  return { view: 'cost/garment', data, title: `Cost of ${garment.name}`, room: 'garments' } satisfies Page;
}

/** Writes a budget down; the older ones stay. */
export function setBudget(
  tx: Tx,
  code: string,
  form: z.output<ReturnType<typeof budgetForm>>,
  asker: Asker,
): Answer {
  const garment = readGarment(tx, code);
  const values = {
    garment_id: garment.id,
    budget_minor: form.budget.value,
    at: tx.at,
    person_id: tx.personId,
  };
  tx.run(tx.db.insertInto('garment_budget').values(values));
  return {
    location: costPath(code),
    said: `${garment.name} may cost ${showMoney(form.budget.value, asker.currency)}.`,
  };
}

function readBudget(reader: Reader, garmentId: number) {
  return reader.first(
    reader.db
      .selectFrom('garment_budget')
      .innerJoin('person', 'person.id', 'garment_budget.person_id')
      .select(['budget_minor as minor', 'person.name as who', 'at'])
      .where('garment_id', '=', garmentId)
      .orderBy('garment_budget.id', 'desc'),
  );
}

function sayAgainst(leftMinor: number, money: (minor: number) => string): string {
  return leftMinor >= 0 ? `${money(leftMinor)} under the budget` : `${money(-leftMinor)} over the budget`;
}

/** Spent, committed and still planned on one scale with the budget: of 400, as wide as the bar is drawn. */
function shapeBar(spent: number, committed: number, comesTo: number, budget: number | null) {
  const whole = Math.max(comesTo, budget ?? 0);
  if (whole === 0) return null;
  const part = (minor: number) => Math.round((minor * 400) / whole);
  return {
    spent: part(spent),
    committed: part(committed),
    planned: part(comesTo - spent - committed),
    budgetAt: budget === null ? null : part(budget),
  };
}
