import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildApp } from '../../server/app.ts';
import { openBook } from '../../server/database/open.ts';

// How long a list of 100,000 rows takes to come in, and how long another page waits meanwhile.
const ROWS = Number(process.argv[2] ?? 100_000);

const folder = mkdtempSync(join(tmpdir(), 'clothroom-bench-'));
const book = await openBook(folder, { clock: () => new Date() });
const app = buildApp(book);
await app.listen({ host: '127.0.0.1', port: 0 });
const { port } = app.server.address() as { port: number };
const origin = `http://127.0.0.1:${port}`;

const lines = Array.from(
  { length: ROWS },
  (_, n) =>
    `Organza ${n % 40},150 cm,Shade ${n % 60},N-${n % 300},${1 + (n % 50)}.${n % 10},Rack ${n % 12},${n % 90}.50`,
);
const form = new FormData();
form.set('request_key', 'bench-list-handed-in');
form.set('pasted', '');
form.set('file', new Blob([`Cloth,Width,Shade,Lot,Length,Place,Cost\n${lines.join('\n')}`]), 'long.csv');

const began = performance.now();
const answer = await fetch(`${origin}/setup/lists`, {
  method: 'POST',
  body: form,
  redirect: 'manual',
  headers: { origin },
});
const path = (answer.headers.get('location') ?? '').split('?')[0] ?? '';
const waits: number[] = [];
await until('ready');
const looked = performance.now();
await post('takings', { skip_twins: 'yes' });
await until('in');
const taken = performance.now();
await post('take-backs', {});
await until('taken back');
const back = performance.now();
const seconds = (from: number, to: number) => ((to - from) / 1000).toFixed(1);
waits.sort((a, b) => a - b);
process.stdout.write(
  `${ROWS} rows: looked at in ${seconds(began, looked)} s, taken in in ${seconds(looked, taken)} s, taken back in ${seconds(taken, back)} s\n` +
    `the shelf meanwhile: ${waits.length} times, median ${Math.round(waits[waits.length >> 1] ?? 0)} ms, longest ${Math.round(waits.at(-1) ?? 0)} ms\n`,
);
await app.close();
book.close();
rmSync(folder, { recursive: true });

async function post(what: string, fields: Record<string, string>): Promise<void> {
  const body = new URLSearchParams({ ...fields, request_key: `bench-${what}-key` });
  await fetch(`${origin}${path}/${what}`, { method: 'POST', body, redirect: 'manual', headers: { origin } });
}

/** Asks for the list twice a second, as its page does, and for the shelf every other second. */
async function until(state: string): Promise<void> {
  for (let asks = 0; ; asks += 1) {
    if (asks % 4 === 0) {
      const asked = performance.now();
      await (await fetch(`${origin}/shelf`)).text();
      waits.push(performance.now() - asked);
    }
    const page = (await (
      await fetch(`${origin}${path}`, { headers: { accept: 'application/json' } })
    ).json()) as {
      state: string;
      working: boolean;
      problem: string;
    };
    if (page.problem) throw new Error(page.problem);
    if (page.state === state && !page.working) return;
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}
