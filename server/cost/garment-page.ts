import { z } from 'zod';
import { showMoney } from '../../src/quantity/money.ts';
import { writeMoney } from '../../src/quantity/written-money.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readGarment } from '../garments/garment/records.ts';
import { moneyField } from '../kit/fields.ts';
import { costPath, garmentPath } from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readClothCosts } from './garment-cost.ts';
import { type CostSums, shapeCosts, sumOf } from './sums.ts';

const MOST_BUDGET_MINOR = 1_000_000_000_000;

export function budgetForm(asker: Asker) {
  return z.strictObject({ budget: moneyField(asker.currency, { max: MOST_BUDGET_MINOR }) });
}

export interface GarmentCostData {
  readonly code: string;
  readonly garmentHref: string;
  readonly requestKey: string;
  readonly typed: { readonly budget: string };
  readonly currency: string;
  /** '' where none was set */
  readonly budget: string;
  readonly budgetSaid: string;
  readonly sums: CostSums;
  /** "€12.00 under", "€3.00 over", or '' without a budget */
  readonly against: string;
  readonly isOver: boolean;
  readonly bar: Bar | null;
}

/** Spent, committed and still planned on one scale with the budget, in hundredths of the whole. */
interface Bar {
  readonly spent: number;
  readonly committed: number;
  readonly planned: number;
  readonly budgetAt: number | null;
}

/** What a garment is to cost, what is committed to it, what was cut for it and what of that is left. */
export function garmentCostPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}): Page {
  const garment = readGarment(reader, code);
  const money = (minor: number) => showMoney(minor, asker.currency);
  const costs = readClothCosts(reader, garment);
  const budget = readBudget(reader, garment.id);
  const committed = sumOf(costs, ({ heldMinor }) => heldMinor);
  const spent = sumOf(costs, ({ spentMinor }) => spentMinor);
  // What is cut and held of a cloth was planned too: the larger of both is what it comes to.
  const comesTo = sumOf(costs, ({ plannedMinor, heldMinor, spentMinor }) =>
    Math.max(plannedMinor ?? 0, heldMinor + spentMinor),
  );
  const data: GarmentCostData = {
    code: garment.code,
    garmentHref: garmentPath(garment.code),
    requestKey: mintKey(),
    typed: { budget: typed.budget ?? (budget ? writeMoney(budget.minor, asker.currency) : '') },
    currency: asker.currency,
    budget: budget ? money(budget.minor) : '',
    budgetSaid: budget ? `set by ${budget.who}, ${showMoment(budget.at)}` : '',
    sums: shapeCosts(reader, costs, asker),
    against: budget ? sayAgainst(budget.minor - comesTo, money) : '',
    isOver: budget !== null && comesTo > budget.minor,
    bar: shapeBar(spent, committed, comesTo, budget?.minor ?? null),
  };
  return { view: 'cost/garment', data, title: `Cost of ${garment.name}`, room: 'garments' };
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

function readBudget(reader: Reader, garmentId: number): { minor: number; who: string; at: string } | null {
  const row = reader.first(
    reader.db
      .selectFrom('garment_budget')
      .innerJoin('person', 'person.id', 'garment_budget.person_id')
      .select(['budget_minor as minor', 'person.name as who', 'at'])
      .where('garment_id', '=', garmentId)
      .orderBy('garment_budget.id', 'desc'),
  );
  return row ?? null;
}

function sayAgainst(leftMinor: number, money: (minor: number) => string): string {
  return leftMinor >= 0 ? `${money(leftMinor)} under the budget` : `${money(-leftMinor)} over the budget`;
}

function shapeBar(spent: number, committed: number, comesTo: number, budget: number | null): Bar | null {
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
