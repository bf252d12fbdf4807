import { afterEach, describe, expect, it } from 'vitest';
import { endProcess, type Loss, type ProcessLimits, ProcessRunner } from '../../server/process.ts';

type Runner = ProcessRunner<string, string, string>;
const started: Runner[] = [];

function runner(limits: Partial<ProcessLimits> = {}): Runner {
  const made: Runner = new ProcessRunner(new URL('./process-at-work.child.ts', import.meta.url), {
    mostMs: 20_000,
    ...limits,
  });
  started.push(made);
  return made;
}
afterEach(() => Promise.all(started.splice(0).map((each) => each.close())));

const lost = (asked: Promise<string>, why: Loss) => expect(asked).rejects.toMatchObject({ why });

/** The process is at work once it has answered. */
async function warm(): Promise<Runner> {
  const asked = runner();
  expect(await asked.ask('first')).toBe('first 1');
  return asked;
}

describe('a process that is asked', () => {
  it('answers one question after the other, in one process', async () => {
    const asked = runner();
    const answers = Promise.all([asked.ask('a'), asked.ask('b'), asked.ask('c')]);
    expect(asked.busyWith).toBe(3);
    expect(await answers).toEqual(['a 1', 'b 2', 'c 3']);
    expect(asked.busyWith).toBe(0);
  });

  it('lets one go before those that wait', async () => {
    const asked = runner();
    const answers = Promise.all([asked.ask('a'), asked.ask('b'), asked.ask('c', { isFirst: true })]);
    expect(await answers).toEqual(['a 1', 'b 3', 'c 2']);
  });

  it('tells the parts before the answer', async () => {
    const heard: string[] = [];
    const answer = await runner().ask('parts', { hear: (part) => heard.push(part) });
    expect([answer, heard]).toEqual(['parts 1', ['one', 'two']]);
  });

  it('ends when it was asked nothing for a while, and starts again for the next question', async () => {
    const asked = runner({ idleMs: 20 });
    expect(await asked.ask('a')).toBe('a 1');
    await expect.poll(() => asked.process).toBeNull();
    expect(await asked.ask('b')).toBe('b 1');
  });

  it('says what went wrong, and stays', async () => {
    const asked = runner();
    await expect(asked.ask('throw')).rejects.toThrow(/^not like this$/);
    expect(await asked.ask('a')).toBe('a 1');
  });

  it('begins anew after each answer where it is for single use', async () => {
    const asked = runner({ isSingleUse: true });
    expect(await Promise.all([asked.ask('a'), asked.ask('b')])).toEqual(['a 1', 'b 1']);
  });
});

describe('a process that goes wrong', () => {
  it('is replaced when it dies, and what waits is answered', async () => {
    const asked = await warm();
    const [dying, waiting] = [asked.ask('die'), asked.ask('a')];
    await lost(dying, 'died');
    expect(await waiting).toBe('a 1');
  });

  it('is replaced when it is ended from outside while idle', async () => {
    const asked = await warm();
    if (asked.process) await endProcess(asked.process);
    expect(await asked.ask('a')).toBe('a 1');
  });

  it('is ended when it is late, by its own limit or by that of the question', async () => {
    const asked = await warm();
    const [hanging, waiting] = [asked.ask('hang', { mostMs: 50 }), asked.ask('a')];
    await lost(hanging, 'late');
    expect(await waiting).toBe('a 1');
    await lost(runner({ mostMs: 50 }).ask('hang'), 'late');
  });

  it('dies of too much memory by itself, and not with the program', async () => {
    const asked = runner({ mostMemoryMb: 24 });
    await lost(asked.ask('grow'), 'died');
    expect(await asked.ask('a')).toBe('a 1');
  });

  it('dies of too much memory that the engine does not count', async () => {
    const asked = runner({ mostInAllMb: 300 });
    await lost(asked.ask('hold'), 'died');
    expect(await asked.ask('a')).toBe('a 1');
  });
});

describe('a question that is stopped', () => {
  it('is given up, waiting or under way, and the others are answered', async () => {
    const asked = await warm();
    const [waits, runs] = [new AbortController(), new AbortController()];
    const running = asked.ask('never', { signal: runs.signal });
    const waiting = asked.ask('b', { signal: waits.signal });
    const last = asked.ask('c');
    waits.abort();
    await lost(waiting, 'stopped');
    runs.abort();
    await lost(running, 'stopped');
    expect(await last).toBe('c 1');
    await lost(asked.ask('a', { signal: runs.signal }), 'stopped');
  });

  it('is lost when the process is closed, and so are those that wait and come later', async () => {
    const asked = await warm();
    const all = ['never', 'a'].map((question) => lost(asked.ask(question), 'closed'));
    await asked.close();
    await Promise.all(all);
    await lost(asked.ask('b'), 'closed');
    expect([asked.process, asked.busyWith]).toEqual([null, 0]);
  });
});

describe('a process that cannot start', () => {
  it('says that there is no room, and for each question anew', async () => {
    const asked = new ProcessRunner<string, string>(new URL('https://127.0.0.1/none.ts'), { mostMs: 1000 });
    await lost(asked.ask('a'), 'no room');
    await lost(asked.ask('b'), 'no room');
  });
});
