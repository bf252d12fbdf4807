import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { buildApp } from '../../server/app.ts';
import { openBook } from '../../server/database/open.ts';
import { largestQuick } from './largest-quick.ts';

// How long another page waits while the largest lawful quick plan is read, planned and drawn.
const MOST_MS = 100;

const folder = mkdtempSync(join(tmpdir(), 'clothroom-bench-'));
const book = await openBook(folder, { clock: () => new Date() });
const app = buildApp(book);
await app.listen({ host: '127.0.0.1', port: 0 });
const { port } = app.server.address() as { port: number };
const origin = `http://127.0.0.1:${port}`;

// The first page of all is slow by itself, and the first threads too.
await (await fetch(`${origin}/shelf`)).text();
await plan(largestQuick(2, 1));
let isSlow = false;
for (const seconds of [null, '3', '30']) {
  const waits: number[] = [];
  let isDone = false;
  const delay = monitorEventLoopDelay({ resolution: 5 });
  delay.enable();
  const turns = watchTurns();
  const planned = plan({ ...largestQuick(), ...(seconds === null ? {} : { seconds }) }).finally(() => {
    isDone = true;
  });
  while (!isDone) {
    const asked = performance.now();
    await (await fetch(`${origin}/shelf`)).text();
    waits.push(performance.now() - asked);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  delay.disable();
  const ownMs = turns.longestMs();
  waits.sort((a, b) => a - b);
  const longest = waits.at(-1) ?? 0;
  isSlow ||= longest > MOST_MS;
  process.stdout.write(
    `${seconds ?? 'usual'} seconds: ${await planned}; the shelf meanwhile: ${waits.length} times, median ` +
      `${Math.round(waits[waits.length >> 1] ?? 0)} ms, longest ${Math.round(longest)} ms; ` +
      `longest hold-up of the thread ${Math.round(delay.max / 1e6)} ms, of which its own work ${Math.round(ownMs)} ms at most\n`,
  );
}
await app.close();
book.close();
rmSync(folder, { recursive: true });
if (isSlow) process.stdout.write(`another page waited longer than ${MOST_MS} ms\n`);
process.exitCode = isSlow ? 1 : 0;

/** What the thread of the pages itself works between two timers, so that a busy machine is not taken for a busy thread. */
function watchTurns(): { longestMs(): number } {
  let longest = 0;
  let before = process.threadCpuUsage();
  const timer = setInterval(() => {
    const { user, system } = process.threadCpuUsage(before);
    longest = Math.max(longest, (user + system) / 1000);
    before = process.threadCpuUsage();
  }, 5);
  return {
    longestMs() {
      clearInterval(timer);
      return longest;
    },
  };
}

/** Has a plan made as a script does, and asks again until it is there. What came of it, in a few words. */
async function plan(asked: object): Promise<string> {
  const headers = { origin, accept: 'application/json', 'content-type': 'application/json' };
  const body = JSON.stringify({ ...asked, cures: 'no' });
  let answer = await fetch(`${origin}/cutting-table/quick`, { method: 'POST', headers, body });
  while (answer.status === 202) {
    await answer.text();
    answer = await fetch(`${origin}${answer.headers.get('location')}`, { headers });
  }
  // What a plan of ten thousand strips says is not read here: that would hold up the waits that are measured.
  const bytes = (await answer.arrayBuffer()).byteLength;
  return `status ${answer.status}, ${Math.round(bytes / 1000)} kB`;
}
