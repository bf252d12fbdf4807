import type { FastifyInstance } from 'fastify';
import { QuickDesk } from '../cutting-table/quick/desk.ts';
import { QuickDrawer } from '../cutting-table/quick/drawer.ts';
import type { House } from '../web/house.ts';
import { PlanDesk } from './desk.ts';
import { Planner } from './planner.ts';

interface Planning {
  readonly desk: PlanDesk;
  readonly quick: QuickDesk;
}

const opened = new WeakMap<House, Planning>();

/** Gives a house its one planner, which ends with the app. */
export function openPlanning(app: FastifyInstance, house: House): void {
  const planner = new Planner();
  const drawer = new QuickDrawer();
  app.addHook('onClose', async () => {
    await Promise.all([planner.close(), drawer.close()]);
  });
  opened.set(house, { desk: new PlanDesk(planner), quick: new QuickDesk(planner, drawer) });
}

/** Questions to the planner that no page waits for. */
export function deskOf(house: House): PlanDesk {
  return planningOf(house).desk;
}

export function quickDeskOf(house: House): QuickDesk {
  return planningOf(house).quick;
}

function planningOf(house: House): Planning {
  const planning = opened.get(house);
  if (!planning) throw new Error('a house has its planner before its routes are used');
  return planning;
}
