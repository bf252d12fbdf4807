import { expect, it } from 'vitest';
import { Planner } from '../../../server/cut-plans/planner.ts';
import { Refusal } from '../../../server/refusal.ts';
import { job, kind, piece } from '../../src/cut-plan/small-jobs.ts';

const small = job({ kinds: [kind(0, { count: 5 })], pieces: [piece(0, {})] });

it('a machine without room for a process refuses the plans that wait, and the program goes on', async () => {
  // No process starts from such an address, as none does where memory is short.
  const planner = new Planner(new URL('https://127.0.0.1/none.ts'));
  const asked = [1, 2].map(() => planner.plan({ job: small, seconds: null }).catch((error) => error));
  for (const refused of await Promise.all(asked)) {
    expect(refused).toBeInstanceOf(Refusal);
    expect(refused.message).toMatch(/has no room for the planner just now: ask again/);
  }
  expect(planner.busyWith).toBe(0);
  await planner.close();
});
