import { rmSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';
import {
  joinMachines,
  MACHINE,
  MACHINE_ADDRESS,
  noNetwork,
  partMachines,
  runOn,
} from '../browser/two-machines.ts';
import { killPrograms, startProgram } from '../program.ts';
import { newFolder } from './door.ts';
import { Outboxes, putOutboxBook, type Sent } from './outbox.ts';
import { PATIENCE_MS, report, seededChance, times } from './scale.ts';

const KILLS = times(2, 2000);
const DEVICES = 4;
/** Every so many kills the whole book is proved with "check", and at the end. */
const CHECK_EVERY = 100;
/** Of a network of its own, or free and below those that a system gives to whoever asks for any. */
const PORT = 20_000 + (process.pid % 10_000);
/** Where two machines can be made of this one the forms come over the network, else at the machine itself. */
const overNetwork = noNetwork === '';
const ORIGIN = `http://${overNetwork ? MACHINE_ADDRESS : '127.0.0.1'}:${PORT}`;

beforeEach(() => {
  if (overNetwork) joinMachines();
});
afterEach(() => {
  killPrograms();
  if (overNetwork) partMachines();
});

/** Serves a book, and can be killed once it says that it is open. */
async function serve(folder: string) {
  const args = ['serve', '--data', folder, '--port', String(PORT), '--network'];
  const child = overNetwork ? runOn(MACHINE, ['server/start.js', ...args]) : startProgram(...args).child;
  const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
  let err = '';
  child.stderr?.on('data', (text) => {
    err += text;
  });
  const isOpen = overNetwork ? /^On the network it is open/m : /^Clothroom is open/;
  let out = '';
  for await (const text of child.stdout?.iterator({ destroyOnReturn: false }) ?? []) {
    out += String(text);
    if (isOpen.test(out)) break;
  }
  if (!isOpen.test(out)) throw new Error(err);
  return {
    async kill() {
      child.kill('SIGKILL');
      child.stdout?.resume();
      await ended;
      // At the machine itself it may say that no phone reaches it.
      return overNetwork ? err : '';
    },
  };
}

/** What is wrong in the book: what "check" finds, and every answered form that is not there once, with all its entries. */
async function findWrong(folder: string, answered: readonly Sent[], prefixes: readonly string[]) {
  const book = await openBook(folder, { clock: () => new Date() });
  const entriesOf = book.connection
    .prepare('SELECT (SELECT count(*) FROM entry WHERE request_key = key) FROM request WHERE key = ?')
    .pluck();
  const lost = answered.filter(({ key, entries }) => entriesOf.get(key) !== entries);
  const known = new Set(answered.map(({ key }) => key));
  const keys = book.connection.prepare('SELECT key FROM request').pluck().all() as string[];
  const ofDevices = keys.filter((key) => prefixes.some((prefix) => key.startsWith(prefix)));
  const { findings } = checkBook(book);
  book.close();
  return {
    wrong: [...findings, ...lost.map(({ path, key }) => `${key} to ${path} is lost or there by half`)],
    untold: ofDevices.filter((key) => !known.has(key)),
  };
}

describe('a server that is killed while four devices send what they keep', () => {
  it(
    `has each of their forms once in the end, after ${KILLS} kills`,
    async () => {
      const folder = newFolder();
      const { pieces, outboxes } = await putOutboxBook(folder, {
        count: DEVICES,
        port: PORT,
        atMachine: !overNetwork,
      });
      const prefixes = outboxes.map(({ prefix }) => prefix);
      const chance = seededChance(7);
      let serving = await serve(folder);
      const people = new Outboxes(ORIGIN, outboxes, pieces, { onTablet: overNetwork });
      for (let kills = 1; kills <= KILLS; kills += 1) {
        // At some moment of its work: while it begins to answer, and in the middle of it.
        await people.until(people.answered.length + 1);
        await wait(chance() * 50);
        expect(await serving.kill()).toBe('');
        if (kills % CHECK_EVERY === 0) {
          expect((await findWrong(folder, people.answered, prefixes)).wrong).toEqual([]);
          // What is under way is not answered yet, and how far a long trial has come is told.
          report('kills over HTTP so far', { kills, answered: people.answered.length });
        }
        serving = await serve(folder);
      }
      await people.end();
      await serving.kill();
      expect(people.wrong).toEqual([]);
      expect(people.sentAgain).toBeGreaterThan(0);
      expect(await findWrong(folder, people.answered, prefixes)).toEqual({ wrong: [], untold: [] });
      report(overNetwork ? 'kills over the network' : 'kills over the loopback', {
        kills: KILLS,
        answered: people.answered.length,
        'sent again': people.sentAgain,
      });
      rmSync(folder, { recursive: true, force: true });
    },
    PATIENCE_MS,
  );
});
