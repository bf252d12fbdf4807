import { z } from 'zod';
import { showLength } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { writeMoney } from '../../src/quantity/written-money.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readGarment } from '../garments/garment/records.ts';
import type { Chip } from '../kit/chip.ts';
import { moneyField } from '../kit/fields.ts';
import { costPath, garmentPath } from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import { readClothNames, readShadeNames, type ShadeName } from '../shelf/names.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page.ts';
import { type ClothCost, readClothCosts } from './garment-cost.ts';

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

/** What a garment costs in all, and by cloth and shade. */
export interface CostSums {
  readonly planned: string;
  /** cloths and shades that no price is known of */
  readonly unpriced: number;
  readonly committed: string;
  readonly spent: string;
  readonly left: string;
  readonly rows: readonly CostRow[];
}

/** Spent, committed and still planned on one scale with the budget, in hundredths of the whole. */
interface Bar {
  readonly spent: number;
  readonly committed: number;
  readonly planned: number;
  readonly budgetAt: number | null;
}

interface CostRow {
  readonly cloth: string;
  readonly chip: Chip;
  readonly plannedLength: string;
  readonly planned: string;
  readonly priceFrom: string;
  readonly held: string;
  readonly cut: string;
  readonly left: string;
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

function sumOf(costs: readonly ClothCost[], of: (cost: ClothCost) => number): number {
  return costs.reduce((sum, cost) => sum + of(cost), 0);
}

export function shapeCosts(reader: Reader, costs: readonly ClothCost[], asker: Asker): CostSums {
  const money = (minor: number) => showMoney(minor, asker.currency);
  const cloths = readClothNames(reader, [...new Set(costs.map(({ clothId }) => clothId))]);
  const shades = readShadeNames(reader);
  return {
    planned: money(sumOf(costs, ({ plannedMinor }) => plannedMinor ?? 0)),
    unpriced: costs.filter(({ plannedMinor }) => plannedMinor === null).length,
    committed: money(sumOf(costs, ({ heldMinor }) => heldMinor)),
    spent: money(sumOf(costs, ({ spentMinor }) => spentMinor)),
    left: money(sumOf(costs, ({ leftMinor }) => leftMinor)),
    rows: costs.map((cost) => ({
      cloth: cloths.get(cost.clothId)?.name ?? '',
      chip: chipOf(shades.get(cost.shadeId)),
      plannedLength:
        cost.plannedTicks === null
          ? 'a strip is too large'
          : showLength(cost.plannedTicks, asker.units, 'up'),
      planned: cost.plannedMinor === null ? 'no price known' : money(cost.plannedMinor),
      priceFrom:
        cost.price === null ? '' : { shelf: 'as on the shelf', order: 'as last ordered' }[cost.price.from],
      held: cost.heldTicks === 0 ? '' : money(cost.heldMinor),
      cut: cost.cutTicks === 0 ? '' : money(cost.spentMinor),
      left: cost.leftMinor === 0 ? '' : money(cost.leftMinor),
    })),
  };
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

function chipOf(shade: ShadeName | undefined): Chip {
  if (!shade) throw new Error('a cost is of a shade that is in the book');
  return { colour: shade.colour, name: shade.name };
}
