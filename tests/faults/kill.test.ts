import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBook } from '../../server/database/open.ts';
import { checkBook } from '../../server/ledger/check.ts';

const ROOT = new URL('../../', import.meta.url).pathname;
const KILLS = 20;

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'clothroom-kill-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Lets a writer tell so many keys and then kills it at once; gives the keys that it told. */
function killAfter(keys: number, ...extra: string[]): Promise<string[]> {
  const child = spawn(process.execPath, ['--import', 'tsx', 'tests/faults/writer.ts', folder, ...extra], {
    cwd: ROOT,
  });
  let told = '';
  let failed = '';
  child.stderr.on('data', (text) => {
    failed += text;
  });
  child.stdout.on('data', (text) => {
    told += text;
    if (told.split('\n').length > keys) child.kill('SIGKILL');
  });
  return new Promise((resolve, reject) => {
    child.once('exit', (_, signal) => {
      if (signal === 'SIGKILL') resolve(told.split('\n').filter((key) => key.startsWith('bolt-')));
      else reject(new Error(failed));
    });
  });
}

/** Opens the book as after a crash: what was found wrong, and which of the keys are not in it. */
async function lookAt(keys: readonly string[]): Promise<{ findings: readonly string[]; lost: string[] }> {
  const book = await openBook(folder, { clock: () => new Date() });
  try {
    return { findings: checkBook(book).findings, lost: keys.filter((key) => !book.answerOf(key)) };
  } finally {
    book.close();
  }
}

describe('a server that is killed', () => {
  it(`keeps all that it answered, ${KILLS} times over, and nothing by half`, async () => {
    const told: string[] = [];
    for (let at = 0; at < KILLS; at += 1) {
      told.push(...(await killAfter(1 + ((at * 7) % 13))));
      expect(await lookAt(told)).toEqual({ findings: [], lost: [] });
    }
    expect(told.length).toBeGreaterThanOrEqual(KILLS);
    // Starting so many programs takes its time on a small machine.
  }, 240_000);

  it('would be found out if it answered before it had written', async () => {
    let lost = 0;
    for (let at = 0; at < 10 && lost === 0; at += 1)
      lost = (await lookAt(await killAfter(3, 'tell first'))).lost.length;
    expect(lost).toBeGreaterThan(0);
  });
});
