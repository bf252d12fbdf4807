import { EventEmitter } from 'node:events';
import { expect, it } from 'vitest';
import { Planner } from '../../../server/cut-plans/planner.ts';
import { Refusal } from '../../../server/refusal.ts';
import { cm } from '../../lengths.ts';

class Thread extends EventEmitter {
  unref = () => undefined;
  postMessage = () => undefined;
  terminate = async () => 0;
}

const JOB = {
  pieces: [{ id: 1, lotId: 1, lengthTicks: cm(500), usableWidthTicks: cm(150), flaws: [] }],
  strips: [{ id: 1, cutTicks: cm(30), stripTicks: cm(70), count: 4, direction: 'across', lotIds: null }],
};

it('a machine without room for another thread refuses the plans that wait, and the program goes on', async () => {
  const first = new Thread();
  let started = 0;
  const planner = new Planner(() => {
    started += 1;
    if (started > 1) throw new Error('ERR_WORKER_INIT_FAILED');
    return first as never;
  });
  const stopped = planner.plan({ job: JOB as never, seconds: null }).catch((error) => error);
  const waiting = planner.plan({ job: JOB as never, seconds: null }).catch((error) => error);
  first.emit('exit', 1);
  await stopped;
  expect(await waiting).toBeInstanceOf(Refusal);
  expect(started).toBeGreaterThan(1);
  expect(planner.busyWith).toBe(0);
  await planner.close();
});
