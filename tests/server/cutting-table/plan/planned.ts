import type { cutPlanPage } from '../../../../server/cutting-table/plan/page.ts';
import type { PlanView } from '../../../../server/cutting-table/plan/proposals.ts';
import { makeGarment, makeTierOf, stockOf } from '../../garments/making.ts';
import type { Stock, TestHouse } from '../../support.ts';

type CutPlanData = ReturnType<typeof cutPlanPage>['data'];

/** A garment with two tiers of one shade, on the planner's table. */
export interface ToPlan {
  readonly code: string;
  readonly stock: Stock;
  readonly tiers: readonly [number, number];
  readonly path: string;
}

/**
 * A ring of 95 cm at fullness 3, so 285 cm flat. Tier 1: strips 49 cm long (47 without seams), 7 of them, 30 cm deep.
 * Tier 2: strips 30 cm long (28 without seams), 11 of them, 20 cm deep.
 */
export async function toPlan(house: TestHouse, fields: object = {}): Promise<ToPlan> {
  return planOf(house, stockOf(house), fields);
}

export async function planOf(
  house: TestHouse,
  stock: Stock,
  fields: object = {},
  garment: object = {},
): Promise<ToPlan> {
  const code = await makeGarment(house, garment);
  const one = await makeTierOf(house, code, stock, { strip_length: '49', ...fields });
  const two = await makeTierOf(house, code, stock, {
    name: 'Tier 2',
    depth: '20',
    strip_length: '30',
    ...fields,
  });
  return { code, stock, tiers: [one, two], path: `/cutting-table/${code}/plan` };
}

export async function planPageOf(house: TestHouse, path: string): Promise<CutPlanData> {
  const answer = await house.data(path);
  if (answer.status !== 200) throw new Error(JSON.stringify(answer.body));
  return answer.body;
}

/** The page once the planner has nothing more to do for it. */
export async function doneOf(house: TestHouse, path: string): Promise<CutPlanData> {
  for (let tries = 0; tries < 3000; tries += 1) {
    const page = await planPageOf(house, path);
    if (page.awaited === '') return page;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('the planner goes on and on');
}

export async function needOf(house: TestHouse, path: string): Promise<CutPlanData['needs'][number]> {
  const { needs } = await doneOf(house, path);
  const [need] = needs;
  if (!need || needs.length > 1) throw new Error(`${needs.length} needs`);
  return need;
}

export async function bestOf(house: TestHouse, path: string): Promise<PlanView> {
  const [plan] = (await needOf(house, path)).plans;
  if (!plan) throw new Error('a plan was found');
  return plan;
}

/** Sends the form of a plan. */
export function hold(house: TestHouse, { hold: form }: PlanView) {
  if (!form) throw new Error('the plan can be held');
  return house.send(form.action, { request_key: form.requestKey, ...form.fields });
}
