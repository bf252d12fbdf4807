import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { seedDemo } from '../../seed-demo/seed.ts';
import { buildApp } from '../../server/app.ts';
import { openBook } from '../../server/database/open.ts';
import { addressOf, copyProgram, linkPackages, runProgram } from '../program.ts';

// How long a start takes to its first answered page, and what the program holds then: cold is the first start of a fresh
// copy, warm the second. Then what the building of an app takes, as nearly every test of the server does it.
const ROUNDS = 7;
const APPS = 200;
const PACKAGE = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  scripts: { start: string };
};

/** What `npm start` gives to Node. */
const [, ...START] = PACKAGE.scripts.start.split(' ');

interface Start {
  readonly ms: number;
  /** of the program and of what it waited for, user and system */
  readonly processorMs: number;
  readonly mb: number;
}

const folder = mkdtempSync(join(tmpdir(), 'clothroom-bench-'));
const clock = () => new Date();
const books = { new: join(folder, 'new'), invented: join(folder, 'invented') };
(await openBook(books.new, { clock })).close();
const invented = await openBook(books.invented, { clock });
seedDemo(invented, clock());
invented.close();

for (const [name, data] of Object.entries(books)) {
  const starts: { cold: Start[]; warm: Start[] } = { cold: [], warm: [] };
  for (let round = 0; round < ROUNDS; round += 1) {
    const program = join(folder, `program-${name}-${round}`);
    mkdirSync(program);
    copyProgram(program);
    linkPackages(program);
    starts.cold.push(await start(program, data));
    starts.warm.push(await start(program, data));
    rmSync(program, { recursive: true });
  }
  for (const [how, all] of Object.entries(starts)) {
    const median = (of: keyof Start) =>
      all
        .map((each) => each[of])
        .sort((a, b) => a - b)
        [all.length >> 1]?.toFixed(0);
    say(
      `${name} book, ${how}: first page after ${median('ms')} ms (processor ${median('processorMs')} ms), ${median('mb')} MB`,
    );
  }
}
await buildApps();
rmSync(folder, { recursive: true });

async function start(program: string, data: string): Promise<Start> {
  const began = performance.now();
  const serving = runProgram(process.execPath, [...START, '--data', data, '--port', '0'], program);
  const page = await fetch(await addressOf(serving));
  await page.text();
  const ms = performance.now() - began;
  if (page.status !== 200) throw new Error(`the first page answers ${page.status}`);
  const { pid } = serving.child;
  // Hundredths of a second, behind the name of the program, which is in brackets.
  const stat = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]?.split(' ') ?? [];
  const [, kB] = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? [];
  serving.child.kill('SIGTERM');
  await serving.ended;
  const processorMs = stat.slice(11, 15).reduce((sum, each) => sum + Number(each), 0) * 10;
  return { ms, processorMs, mb: Number(kB) / 1024 };
}

async function buildApps(): Promise<void> {
  const book = await openBook(books.new, { clock });
  const took: number[] = [];
  for (let n = 0; n < APPS; n += 1) {
    const before = process.cpuUsage();
    const app = buildApp(book);
    await app.ready();
    const { user, system } = process.cpuUsage(before);
    took.push((user + system) / 1000);
    await app.close();
  }
  const [first = 0, ...later] = took;
  const mean = later.reduce((sum, each) => sum + each, 0) / later.length;
  say(`an app built: processor ${first.toFixed(0)} ms the first time, ${mean.toFixed(1)} ms on average`);
  book.close();
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}
