import type { FastifyInstance } from 'fastify';
import type { House } from '../web/house.ts';
import { PlanDesk } from './desk.ts';
import { Planner } from './planner.ts';

interface Planning {
  readonly planner: Planner;
  readonly desk: PlanDesk;
}

const opened = new WeakMap<House, Planning>();

/** Gives a house its one planner, which ends with the app. */
export function openPlanning(app: FastifyInstance, house: House): void {
  const planner = new Planner();
  app.addHook('onClose', () => planner.close());
  opened.set(house, { planner, desk: new PlanDesk(planner) });
}

/** Questions to the planner that no page waits for. */
export function deskOf(house: House): PlanDesk {
  return planningOf(house).desk;
}

export function plannerOf(house: House): Planner {
  return planningOf(house).planner;
}

function planningOf(house: House): Planning {
  const planning = opened.get(house);
  if (!planning) throw new Error('a house has its planner before its routes are used');
  return planning;
}
