import { createServer } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { killPrograms, type Program, startProgram } from '../program.ts';
import { makeBolt, makeStock, openTestBook } from '../server/support.ts';
import { PATIENCE_MS, report, seededChance, times } from './scale.ts';

const KILLS = times(2, 2000);
const CLIENTS = 4;
/** Every so many kills the whole book is proved with "check", and at the end. */
const CHECK_EVERY = 100;

afterEach(killPrograms);

/** A form that a client sends until somebody answers it. */
interface Sent {
  readonly key: string;
  readonly path: string;
  readonly fields: Readonly<Record<string, string>>;
  /** how many entries of the ledger it makes */
  readonly entries: number;
}

/** Four people at four devices, each of whom sends one form after another, and each again until it is answered. */
class Clients {
  readonly answered: Sent[] = [];
  /** where a form was answered with, the first time and every time after */
  readonly wrong: string[] = [];
  repeated = 0;
  readonly #origin: string;
  readonly #pieces: readonly string[];
  #isOver = false;
  readonly #lanes: Promise<void>[];

  constructor(origin: string, pieces: readonly string[]) {
    this.#origin = origin;
    this.#pieces = pieces;
    this.#lanes = Array.from({ length: CLIENTS }, (_, at) => this.#work(at));
  }

  /** Each sees its last form through, and stops. */
  async end(): Promise<void> {
    this.#isOver = true;
    await Promise.all(this.#lanes);
  }

  async #work(lane: number): Promise<void> {
    const chance = seededChance(lane);
    for (let at = 0; !this.#isOver; at += 1) {
      const sent = this.#form(lane, at);
      const status = await this.#untilAnswered(sent);
      if (status === 200) this.answered.push(sent);
      else this.wrong.push(`${sent.path} was answered with ${status}`);
      // Now and then somebody sends a form that was answered once more, as from a page gone back to.
      const earlier = this.answered[Math.floor(chance() * this.answered.length)];
      if (earlier && chance() < 0.2) {
        const again = await this.#untilAnswered(earlier);
        if (again !== 200) this.wrong.push(`${earlier.path}, sent again, was answered with ${again}`);
      }
      await wait(5);
    }
  }

  #form(lane: number, at: number): Sent {
    const key = `client-${lane}-form-${at}-${process.pid}`;
    const piece = this.#pieces[(lane + at) % this.#pieces.length];
    switch (at % 4) {
      case 0:
        return {
          key,
          path: '/setup/people',
          fields: { name: `Hand ${lane} ${at}`, length_system: 'metric' },
          entries: 0,
        };
      case 1:
        return {
          key,
          path: `/shelf/pieces/${piece}/splits`,
          fields: { length: '1 cm', place_id: '', why: '' },
          entries: 2,
        };
      case 2:
        return {
          key,
          path: `/shelf/pieces/${piece}/write-offs`,
          fields: { length: '2 mm', why: `${lane} ${at}` },
          entries: 1,
        };
      default:
        return { key, path: '/shelf/places', fields: { name: `Rack ${lane} ${at}` }, entries: 0 };
    }
  }

  async #untilAnswered({ key, path, fields }: Sent): Promise<number> {
    for (;;) {
      try {
        const reply = await fetch(`${this.#origin}${path}`, {
          method: 'POST',
          headers: {
            accept: 'application/json',
            'content-type': 'application/json',
            origin: this.#origin,
          },
          body: JSON.stringify({ request_key: key, ...fields }),
        });
        await reply.text();
        return reply.status;
      } catch {
        // Nobody answered, or only half: whether it was saved is not known.
        this.repeated += 1;
        await wait(20);
      }
    }
  }
}

/** A port that is free, and below those that a system gives to whoever asks for any: nobody is given it in between. */
async function freePort(): Promise<number> {
  for (let port = 20_000 + (process.pid % 10_000); ; port += 1) {
    const server = createServer();
    const isFree = await new Promise<boolean>((resolve) => {
      server.once('error', () => resolve(false));
      server.listen(port, '127.0.0.1', () => resolve(true));
    });
    await new Promise((resolve) => server.close(resolve));
    if (isFree) return port;
  }
}

async function folderWithBolts() {
  const { write, putDown, close } = await openTestBook();
  const pieces = write((tx) => {
    const { lotId } = makeStock(tx);
    return [1, 2, 3].map(() => makeBolt(tx, lotId, '5000 m').code);
  });
  const folder = putDown();
  close();
  return { folder, pieces };
}

/** What is wrong in the book: what "check" finds, and every answered form that is not there once, with all its entries. */
async function findWrong(folder: string, answered: readonly Sent[]): Promise<string[]> {
  const book = await openBook(folder, { clock: () => new Date() });
  const entriesOf = book.connection
    .prepare('SELECT (SELECT count(*) FROM entry WHERE request_key = key) FROM request WHERE key = ?')
    .pluck();
  const lost = answered.filter(({ key, entries }) => entriesOf.get(key) !== entries);
  const known = new Set(answered.map(({ key }) => key));
  const untold = book.connection.prepare("SELECT key FROM request WHERE key LIKE 'client-%'").pluck().all();
  const { findings } = checkBook(book);
  book.close();
  return [
    ...findings,
    ...lost.map(({ path, key }) => `${key} to ${path} is lost or there by half`),
    ...untold.filter((key) => !known.has(key as string)).map((key) => `${key} was never answered`),
  ];
}

async function started(folder: string, port: number): Promise<Program> {
  const program = startProgram('serve', '--data', folder, '--port', String(port));
  while (!program.said.out.includes('\n')) {
    if (program.child.exitCode !== null) throw new Error(program.said.err);
    await wait(5);
  }
  return program;
}

describe('a server that is killed while four devices send forms', () => {
  it(
    `has each of their forms once in the end, after ${KILLS} kills`,
    async () => {
      const { folder, pieces } = await folderWithBolts();
      const port = await freePort();
      const clients = new Clients(`http://127.0.0.1:${port}`, pieces);
      const chance = seededChance(7);
      let program = await started(folder, port);
      for (let kills = 1; kills <= KILLS; kills += 1) {
        // At some moment of its work: while it begins to answer, and in the middle of it.
        const before = clients.answered.length;
        while (clients.answered.length < before + 1) await wait(1);
        await wait(chance() * 50);
        program.child.kill('SIGKILL');
        await program.ended;
        expect(program.said.err).toBe('');
        if (kills % CHECK_EVERY === 0) {
          const wrong = await findWrong(folder, clients.answered);
          // What is under way is not answered yet.
          expect(wrong.filter((said) => !said.endsWith('was never answered'))).toEqual([]);
        }
        program = await started(folder, port);
      }
      await clients.end();
      program.child.kill('SIGKILL');
      await program.ended;
      expect(clients.wrong).toEqual([]);
      expect(clients.repeated).toBeGreaterThan(0);
      expect(await findWrong(folder, clients.answered)).toEqual([]);
      report('kills over HTTP', {
        kills: KILLS,
        answered: clients.answered.length,
        'sent again': clients.repeated,
      });
    },
    PATIENCE_MS,
  );
});
