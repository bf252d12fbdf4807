import { spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { seedDemo } from '../../seed-demo/seed.ts';
import { buildApp } from '../../server/app.ts';
import { openBook } from '../../server/database/open.ts';
import {
  BARE_PAGES,
  DEEDS,
  type Facts,
  MIXED_DEEDS,
  PAGES,
  PAGES_A_DEED,
  readFacts,
} from './asked-of-workroom.ts';
import { bareCut } from './bare-cut.ts';
import { balancesElsewhere, oneMoreCutInSheet } from './ledgers.ts';
import { type Measured, measuredOf, Served } from './served.ts';
import { fillWorkroom, SIZES } from './workroom.ts';

// Measures the pages and deeds of whole workrooms: `node tests/bench/workrooms.bench.ts [quick] [SIZE ...] [in=FOLDER]
// [json=FILE] [only=WORD]`. Sizes are `demo`, the invented workroom, and 5k, 100k, 1m and 10m entries; `quick` is 5k and
// 100k with few runs. A workroom in a FOLDER is made once and kept there.

const words = process.argv.slice(2);
const wordOf = (name: string) => words.find((word) => word.startsWith(`${name}=`))?.slice(name.length + 1);
const isQuick = words.includes('quick');
const asked = ['demo', ...Object.keys(SIZES)].filter((size) => words.includes(size));
const sizes = asked.length > 0 ? asked : ['5k', '100k'];
const only = wordOf('only');
const effort = isQuick ? { runs: 20, mostMs: 600, warm: 5 } : { runs: 100, mostMs: 4000, warm: 30 };
const DEED_EFFORT = { ...effort, runs: Math.min(effort.runs, 30), warm: 2 };
const REQUESTS_FOR_MEMORY = isQuick ? 300 : 3000;
/** As `npm start` starts it. */
const AS_STARTED = ['--max-semi-space-size=4', '--heap-growing-percent=30', 'server/start.js'];
const SETTLE_MS = isQuick ? 3000 : 60_000;

interface Line {
  readonly what: string;
  readonly unit: string;
  /** by size */
  readonly figures: Record<string, number | string>;
  readonly wall: Record<string, Measured>;
}
const lines = new Map<string, Line>();
const root = wordOf('in') ?? mkdtempSync(join(tmpdir(), 'clothroom-bench-'));

try {
  for (const size of sizes) await benchSize(size);
} finally {
  if (wordOf('in') === undefined) rmSync(root, { recursive: true, force: true });
}
printTable();
const json = wordOf('json');
if (json) writeFileSync(json, JSON.stringify({ machine: machine(), lines: [...lines.values()] }, null, 1));

async function benchSize(size: string): Promise<void> {
  const folder = join(root, size);
  const file = join(folder, 'clothroom.db');
  if (!existsSync(file)) await make(size, folder);
  tell(`${size}: proving`);
  const check = spawnSync(process.execPath, ['server/start.js', 'check', '--data', folder], {
    encoding: 'utf8',
  });
  if (check.status !== 0) throw new Error(`the workroom does not agree with itself: ${check.stderr}`);
  const [entries = 0] = (check.stdout.match(/\d+/) ?? []).map(Number);
  put('File, MB per million entries', 'MB', size, statSync(file).size / 2 ** 20 / (entries / 1e6));
  const book = new BetterSqlite3(file, { readonly: true });
  const facts = readFacts(book);
  const balances = timed(() => book.prepare('SELECT code, on_hand_ticks FROM piece').raw().all());
  const summed = timed(() =>
    book.prepare('SELECT piece_id, sum(length_ticks) FROM entry GROUP BY piece_id').raw().all(),
  );
  if (!only) {
    put('Balance of every piece, as kept', 'ms', size, balances);
    put('Balance of every piece, summed from the entries', 'ms', size, summed);
    for (const [program, ms] of balancesElsewhere(book, entries, isQuick ? 5_000 : 100_000)) {
      put(`Balance of every piece by ${program}`, 'ms', size, ms);
    }
    put('One more cut in LibreOffice Calc', 'ms', size, oneMoreCutInSheet(book, entries, 100_000));
  }
  book.close();
  await bare(size, file, facts);
  await withCopy(folder, async (copy) => {
    if (isAsked('Cut a strip')) {
      const cuts = join(copy, 'clothroom.db');
      putMeasured('bare: cut a strip, no server', size, cutBare(cuts, facts));
      putMeasured('bare: cut a strip', size, await cutBareServed(cuts, facts));
    }
    await program(size, copy, facts);
  });
  if (!only) await withCopy(folder, (copy) => memory(size, copy, facts));
}

/** What is done to a workroom that is kept is done to a copy. */
async function withCopy(folder: string, work: (copy: string) => Promise<void>): Promise<void> {
  const copy = mkdtempSync(join(tmpdir(), 'clothroom-bench-copy-'));
  try {
    cpSync(folder, copy, { recursive: true });
    await work(copy);
  } finally {
    rmSync(copy, { recursive: true, force: true });
  }
}

function cutBare(file: string, facts: Facts): Measured {
  const book = new BetterSqlite3(file);
  const cut = bareCut(book);
  const times: number[] = [];
  const before = process.threadCpuUsage();
  for (let run = 0; run < 30; run += 1)
    times.push(timed(() => cut(facts.piece, facts.tierId, `bare-cut-${run}-${Date.now()}`)));
  const { user, system } = process.threadCpuUsage(before);
  book.close();
  return measuredOf(times, [(user + system) / 1000 / times.length]);
}

async function cutBareServed(file: string, { piece, tierId }: Facts): Promise<Measured> {
  const served = await Served.start('tests/bench/bare.child.ts', file, 'cuts');
  const cut = () => served.post('/cuts', { piece, tier: String(tierId), strips: '1' });
  const measured = await served.measure(cut, DEED_EFFORT);
  await served.stop();
  return measured;
}

async function make(size: string, folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true });
  tell(`${size}: making`);
  const book = await openBook(folder, { clock: () => new Date('2026-03-01T12:00:00.000Z') });
  const app = buildApp(book);
  const host = '127.0.0.1:0';
  let keys = 0;
  const startMs = performance.now();
  const plan = SIZES[size];
  if (!plan) seedDemo(book, new Date());
  else
    await fillWorkroom(
      book,
      async (url, fields) => {
        keys += 1;
        const payload = { request_key: `bench-made-${keys}`, ...fields };
        const headers = { host, origin: `http://${host}`, accept: 'application/json' };
        const { statusCode, body } = await app.inject({ method: 'POST', url, headers, payload });
        if (statusCode >= 400) throw new Error(`${url} answered ${statusCode}: ${body.slice(0, 1000)}`);
      },
      plan,
    );
  await app.close();
  book.close();
  tell(`${size}: made in ${Math.round((performance.now() - startMs) / 1000)} s`);
}

async function bare(size: string, file: string, facts: Facts): Promise<void> {
  const served = await Served.start('tests/bench/bare.child.ts', file);
  for (const [what, path] of Object.entries(BARE_PAGES)) {
    if (!isAsked(what)) continue;
    const name = `bare: ${what}`;
    const address = path(facts);
    if (address)
      putMeasured(name, size, await served.measure(() => served.get(address), { ...effort, warm: 30 }));
  }
  await served.stop();
}

async function program(size: string, folder: string, facts: Facts): Promise<void> {
  const startMs = performance.now();
  const served = await Served.start(...AS_STARTED, 'serve', '--data', folder, '--port', '0');
  const afterStart = await served.longestTurnMs(async () => {
    await wanted(served, '/');
    put('Start to the first page', 'ms', size, performance.now() - startMs);
    await served.settle(SETTLE_MS);
  });
  for (const address of addressesOf(facts)) await wanted(served, address);
  for (const [what, path] of Object.entries(PAGES)) {
    if (!isAsked(what)) continue;
    const address = path(facts);
    if (address) putMeasured(what, size, await served.measure(() => wanted(served, address), effort));
  }
  const keys: string[] = [];
  for (const [what, deed] of Object.entries(DEEDS)) {
    if (!isAsked(what) && !(what !== 'Undo' && isAsked('Undo'))) continue;
    putMeasured(what, size, await served.measure(() => deed(served, facts, keys), DEED_EFFORT));
  }
  await served.stop();
  put('Longest turn while needs are worked out after a start', 'ms', size, afterStart);
  const asked = [...lines.values()].filter(({ what }) => !what.startsWith('bare'));
  const turns = asked.flatMap(({ what, wall }) => ({ what, ms: wall[size]?.longestMs ?? 0 }));
  const longest = turns.reduce((most, turn) => (turn.ms > most.ms ? turn : most), { what: '', ms: 0 });
  put('Longest turn of all these', '', size, `${show(longest.ms)} ms: ${longest.what}`);
}

/** Mixed requests to a server that has just started, and as many again: what it holds then stays. */
async function memory(size: string, folder: string, facts: Facts): Promise<void> {
  const served = await Served.start(...AS_STARTED, 'serve', '--data', folder, '--port', '0');
  const addresses = addressesOf(facts);
  const keys: string[] = [];
  for (let asked = 1; asked <= 2 * REQUESTS_FOR_MEMORY; asked += 1) {
    if (asked % PAGES_A_DEED === 0) {
      const deed = MIXED_DEEDS[(asked / PAGES_A_DEED - 1) % MIXED_DEEDS.length] ?? '';
      await DEEDS[deed]?.(served, facts, keys);
    } else await wanted(served, addresses[asked % addresses.length] ?? '/');
    if (asked % REQUESTS_FOR_MEMORY > 0) continue;
    put(`Memory after ${asked} mixed requests`, 'MB', size, (await served.usage()).residentMb);
  }
  await served.stop();
}

function addressesOf(facts: Facts): string[] {
  return Object.values(PAGES).flatMap((path) => path(facts) ?? []);
}

async function wanted(served: Served, path: string) {
  const reply = await served.get(path);
  if (reply.status >= 400) throw new Error(`${path} answered ${reply.status}`);
  return reply;
}

function isAsked(what: string): boolean {
  return only === undefined || what.toLowerCase().includes(only.toLowerCase());
}

function timed(work: () => unknown): number {
  const startMs = performance.now();
  work();
  return performance.now() - startMs;
}

function lineOf(what: string, unit: string): Line {
  const line = lines.get(what) ?? { what, unit, figures: {}, wall: {} };
  lines.set(what, line);
  return line;
}

function put(what: string, unit: string, size: string, figure: number | string): void {
  lineOf(what, unit).figures[size] = figure;
}

function putMeasured(what: string, size: string, measured: Measured): void {
  const line = lineOf(what, 'ms of CPU');
  line.figures[size] = measured.cpuMs;
  line.wall[size] = measured;
  const { cpuMs, medianMs, p99Ms, bytes, runs } = measured;
  const wall = `median ${medianMs.toFixed(1)}, p99 ${p99Ms.toFixed(1)}`;
  tell(`${size} ${what}: CPU ${cpuMs.toFixed(2)} ms, ${wall}, ${Math.round(bytes / 1000)} kB, ${runs} runs`);
}

/** CPU of the server's thread and, in brackets, median/p99 by the clock; last, times the bare page and the growth. */
function printTable(): void {
  say(machine());
  say(
    `| asked | ${sizes.join(' | ')} | × bare at ${sizes[0]} | ${sizes.at(-1)} ÷ ${sizes[0]} |\n|${' --- |'.repeat(sizes.length + 3)}`,
  );
  const [first = '', last = ''] = [sizes[0], sizes.at(-1)];
  const bareFirst = Number(lines.get('bare: Shelf')?.figures[first]);
  for (const { what, unit, figures, wall } of lines.values()) {
    const cells = sizes.map((size) => {
      const figure = figures[size];
      if (typeof figure !== 'number') return figure ?? '';
      const measured = wall[size];
      return measured
        ? `${show(figure)} (${show(measured.medianMs)}/${show(measured.p99Ms)})`
        : `${show(figure)} ${unit}`;
    });
    const [from, to] = [figures[first], figures[last]];
    const timesBare = wall[first] && bareFirst > 0 ? (Number(from) / bareFirst).toFixed(1) : '';
    const growth =
      typeof from === 'number' && typeof to === 'number' && from > 0 ? (to / from).toFixed(1) : '';
    say(`| ${what} | ${cells.join(' | ')} | ${timesBare} | ${growth} |`);
  }
}

function show(figure: number): string {
  return figure < 10 ? figure.toFixed(2) : figure < 100 ? figure.toFixed(1) : String(Math.round(figure));
}

function machine(): string {
  const memory = /MemTotal:\s+(\d+)/.exec(
    existsSync('/proc/meminfo') ? readFileSync('/proc/meminfo', 'utf8') : '',
  );
  const gigabytes = memory ? `, ${Math.round(Number(memory[1]) / 2 ** 20)} GB` : '';
  return `${availableParallelism()} × ${cpus()[0]?.model ?? 'CPU'}${gigabytes}, Node ${process.version}, ${process.platform}`;
}

function tell(line: string): void {
  process.stderr.write(`${line}\n`);
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}
