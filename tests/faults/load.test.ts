import { readFileSync } from 'node:fs';
import { Agent, request } from 'node:http';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, it } from 'vitest';
import { addressOf, killPrograms, startProgram } from '../program.ts';
import { newFolder } from './door.ts';
import { isFull, PATIENCE_MS, report, seededChance } from './scale.ts';

const CONNECTIONS = 50;
const WARM_MS = 20_000;
const WORK_MS = 60_000;
const PAGES = [
  '/',
  '/shelf',
  '/garments',
  '/orders',
  '/dye-bench',
  '/cutting-table',
  '/short',
  '/setup/people',
];

afterEach(killPrograms);

/** The memory that a process holds, MB; what the system says of it. */
function memoryOf(pid: number): number {
  const status = readFileSync(`/proc/${pid}/status`, 'utf8');
  return Number(/^VmRSS:\s+(\d+) kB/m.exec(status)?.[1]) / 1024;
}

/** Asks over one of the connections; the status once all of the answer has come. */
function ask(agent: Agent, address: string, sent: { accept: string; body: string | null }): Promise<number> {
  return new Promise((resolve, reject) => {
    const isForm = sent.body !== null;
    const asked = request(
      address,
      {
        agent,
        method: isForm ? 'POST' : 'GET',
        headers: {
          accept: sent.accept,
          ...(isForm && { 'content-type': 'application/json', origin: new URL(address).origin }),
        },
      },
      (reply) => reply.resume().once('end', () => resolve(reply.statusCode ?? 0)),
    );
    asked.once('error', reject);
    asked.end(sent.body ?? undefined);
  });
}

describe('a workroom that is busier than any', () => {
  it.skipIf(!isFull || process.platform !== 'linux')(
    `answers ${CONNECTIONS} connections for a minute with no failure of its own, in the memory that it has when it is warm`,
    async () => {
      const program = startProgram('demo', '--data', newFolder(), '--port', '0');
      const origin = await addressOf(program);
      const pid = program.child.pid ?? 0;
      // Kept and counted: an address has 64 connections at most.
      const agent = new Agent({ keepAlive: true, maxSockets: CONNECTIONS });
      const counts: Record<number, number> = {};
      const begun = performance.now();
      const isOver = () => performance.now() - begun > WARM_MS + WORK_MS;
      const one = async (lane: number) => {
        const chance = seededChance(lane);
        for (let at = 0; !isOver(); at += 1) {
          const isForm = chance() < 0.2;
          const path = isForm ? '/shelf/places' : (PAGES[Math.floor(chance() * PAGES.length)] ?? '/');
          const status = await ask(agent, `${origin}${path}`, {
            accept: chance() < 0.5 || isForm ? 'application/json' : 'text/html',
            body: isForm
              ? JSON.stringify({ request_key: `load-${lane}-${at}-key`, name: `Rack ${lane} ${at}` })
              : null,
          });
          counts[status] = (counts[status] ?? 0) + 1;
        }
      };
      const lanes = Promise.all(Array.from({ length: CONNECTIONS }, (_, lane) => one(lane)));
      await wait(WARM_MS);
      const warm = memoryOf(pid);
      const later: number[] = [];
      while (!isOver()) {
        await wait(1000);
        later.push(memoryOf(pid));
      }
      await lanes;
      agent.destroy();
      const failed = Object.keys(counts).filter((status) => Number(status) >= 500);
      expect(failed).toEqual([]);
      expect(program.said.err).toBe('');
      expect(counts[200]).toBeGreaterThan(1000);
      const last = later.slice(-10);
      const end = last.reduce((sum, megabytes) => sum + megabytes, 0) / last.length;
      report('load', {
        answers: Object.entries(counts)
          .map(([status, count]) => `${count} x ${status}`)
          .join(' '),
        'MB when warm': Math.round(warm),
        'MB at the end': Math.round(end),
      });
      expect(end).toBeLessThan(warm * 1.2);
    },
    PATIENCE_MS,
  );
});
