// Serves the invented workroom on the Node named, walks through 300 pages, writes, stops, and wants exit status 0:
// node .ci/serve-on.js NODE
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const PAGES = 300;
const node = process.argv[2];
if (!node) throw new Error('name a Node');
const folder = mkdtempSync(join(tmpdir(), 'clothroom-node-'));
const program = spawn(node, ['server/start.js', 'demo', '--data', folder, '--port', '0'], {
  stdio: ['ignore', 'pipe', 'inherit'],
});
const ended = once(program, 'exit');
try {
  const origin = await Promise.race([address(), ended.then(([code]) => fail(`it ended with ${code}`))]);
  const read = await walk(origin);
  await write(origin);
  program.kill('SIGTERM');
  const [code] = await ended;
  if (code !== 0) fail(`it ended with ${code} when asked to stop`);
  process.stdout.write(`${node}: ${read} pages read, one thing written, stopped with 0\n`);
} finally {
  program.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
}

async function address() {
  let said = '';
  for await (const part of program.stdout) {
    said += part;
    const line = /^Clothroom is open at (\S+)$/m.exec(said);
    if (line) return line[1];
  }
  return fail('it told no address');
}

async function walk(origin) {
  const waiting = ['/'];
  const seen = new Set(waiting);
  let read = 0;
  while (read < PAGES) {
    const path = waiting.shift() ?? fail(`only ${read} pages are reached by links`);
    const page = await fetch(`${origin}${path}`);
    if (page.status !== 200) fail(`${path} answers ${page.status}`);
    read++;
    if (!page.headers.get('content-type')?.startsWith('text/html')) continue;
    for (const [, href] of (await page.text()).matchAll(/\bhref="(\/[^"#]*)/g)) {
      const link = href.replaceAll('&amp;', '&');
      if (link.startsWith('/assets/') || seen.has(link)) continue;
      seen.add(link);
      waiting.push(link);
    }
  }
  return read;
}

async function write(origin) {
  const asked = { request_key: 'served-on-another-node', name: 'Rail 99' };
  const answer = await fetch(`${origin}/shelf/places`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', accept: 'application/json', origin },
    body: JSON.stringify(asked),
  });
  if (answer.status !== 200) fail(`writing answers ${answer.status}: ${await answer.text()}`);
}

function fail(why) {
  throw new Error(`${node}: ${why}`);
}
