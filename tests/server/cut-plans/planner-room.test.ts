import { EventEmitter } from 'node:events';
import { afterEach, expect, it, vi } from 'vitest';
import { cm } from '../../lengths.ts';

vi.mock(import('../../../server/thread.ts'), () => ({ startThread: vi.fn() }));

class Thread extends EventEmitter {
  unref = () => undefined;
  postMessage = () => undefined;
  terminate = async () => 0;
}

const JOB = {
  pieces: [{ id: 1, lotId: 1, lengthTicks: cm(500), usableWidthTicks: cm(150), flaws: [] }],
  strips: [{ id: 1, cutTicks: cm(30), stripTicks: cm(70), count: 4, direction: 'across', lotIds: null }],
};

// Files of one worker share their modules: this one takes its own, and leaves none of them to the next.
vi.resetModules();
afterEach(() => vi.resetModules());

it('a machine without room for another thread refuses the plans that wait, and the program goes on', async () => {
  const { Planner } = await import('../../../server/cut-plans/planner.ts');
  const { Refusal } = await import('../../../server/refusal.ts');
  const { startThread } = await import('../../../server/thread.ts');
  const first = new Thread();
  vi.mocked(startThread)
    .mockReturnValueOnce(first as never)
    .mockImplementation(() => {
      throw new Error('ERR_WORKER_INIT_FAILED');
    });
  const planner = new Planner();
  const stopped = planner.plan({ job: JOB as never, seconds: null }).catch((error) => error);
  const waiting = planner.plan({ job: JOB as never, seconds: null }).catch((error) => error);
  first.emit('exit', 1);
  await stopped;
  expect(await waiting).toBeInstanceOf(Refusal);
  expect(planner.busyWith).toBe(0);
  await planner.close();
});
