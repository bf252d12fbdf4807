import { execFileSync } from 'node:child_process';
import { chmodSync, lstatSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CannotOpen } from '../../server/database/folder.ts';
import { APPLICATION_ID, readMigrationSteps } from '../../server/database/migrate.ts';
import { openCopy } from '../../server/database/open-copy.ts';
import { checkBook } from '../../server/ledger/check.ts';
import { startProgram } from '../program.ts';
import { fingerprint } from '../server/database/folders.ts';
import { makeWorkedBook, tamper } from '../server/ledger/worked-book.ts';
import { copyAfter, copyRuined, newFolder, serveFolder } from './door.ts';

/** What SQLite itself keeps beside a book that is only read. */
const beside = /-shm$|-wal$|^lock\.db/;

interface Tree {
  readonly type: 'table' | 'index';
  readonly name: string;
  readonly rootpage: number;
}

let folder: string;
let trees: Tree[];
beforeAll(async () => {
  folder = await makeWorkedBook();
  const raw = new BetterSqlite3(join(folder, 'clothroom.db'), { readonly: true });
  trees = raw
    .prepare('SELECT type, name, rootpage FROM sqlite_schema WHERE rootpage > 0 ORDER BY rootpage')
    .all() as Tree[];
  raw.close();
  for (const name of ['clothroom.db-wal', 'clothroom.db-shm']) rmSync(join(folder, name), { force: true });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What "check" finds, or the words with which it cannot begin. */
function checkFolder(ruined: string): readonly string[] {
  try {
    const copy = openCopy(ruined, { clock: () => new Date() });
    try {
      return [...copy.damage, ...checkBook(copy.book).findings];
    } finally {
      copy.close();
    }
  } catch (error) {
    if (error instanceof CannotOpen) return [error.message];
    throw error;
  }
}

describe('a ruined page', () => {
  // A page of letters, and one of zeros, which is how a page looks that was never written.
  it.each([
    ['letters', 'table', 0x5a],
    ['zeros', 'index', 0],
  ] as const)(
    'of %s at the root of any %s is never served as good',
    async (_, kind, fill) => {
      const counts = { ruined: 0, readOnly: 0, refused: 0, served: 0 };
      for (const { name, rootpage } of trees.filter(({ type }) => type === kind)) {
        const ruined = copyRuined(folder, [rootpage], fill);
        const before = fingerprint(ruined, beside);
        counts.ruined += 1;
        try {
          const serving = await serveFolder(ruined);
          if (serving.book.trouble) counts.readOnly += 1;
          else counts.served += 1;
          expect((await serving.addPerson('Jonas')).status, name).toBe(503);
          for (const path of ['/', '/setup/people']) {
            const { text } = await serving.page(path);
            expect(text, `${path} with ${name} ruined`).toContain('The book is damaged');
          }
          const { status, text } = await serving.page('/trouble');
          expect(text, name).toMatch(/The file is damaged|could not be read, so the file is damaged/);
          expect([200, 503], name).toContain(status);
          await serving.stop();
        } catch (error) {
          if (!(error instanceof CannotOpen)) throw error;
          expect(error.message, name).toMatch(/is damaged and cannot be opened.*Stop Clothroom/s);
          counts.refused += 1;
        }
        expect(fingerprint(ruined, beside), name).toEqual(before);
        expect(checkFolder(ruined).join(' '), name).toMatch(/damaged/);
        rmSync(ruined, { recursive: true, force: true });
      }
      expect(counts.served).toBe(0);
      expect(counts.readOnly + counts.refused).toBe(counts.ruined);
      expect(counts.ruined).toBeGreaterThan(40);
    },
    300_000,
  );

  it('at the beginning of the file is told, and nothing is written', async () => {
    const ruined = copyRuined(folder, [1]);
    const before = fingerprint(ruined, beside);
    await expect(serveFolder(ruined)).rejects.toThrow(CannotOpen);
    expect(fingerprint(ruined, beside)).toEqual(before);
    expect(checkFolder(ruined)).toHaveLength(1);
  });

  it('that is met while the book is open stops all writing, and every page says so', async () => {
    const serving = await serveFolder(copyAfter(folder));
    expect((await serving.addPerson('Jonas')).status).toBe(200);
    for (const { name, rootpage } of trees) {
      if (!/^(supplier|sqlite_autoindex_supplier_1)$/.test(name)) continue;
      // By another program: opening the file here would drop the locks on it.
      const to = [`of=${serving.book.file}`, 'bs=4096', `seek=${rootpage - 1}`, 'count=1', 'conv=notrunc'];
      execFileSync('dd', ['if=/dev/zero', ...to], { stdio: 'ignore' });
    }
    const orders = await serving.page('/orders/new');
    expect(orders).toMatchObject({ status: 503, text: expect.stringContaining('The book is damaged') });
    expect((await serving.addPerson('Maren')).status).toBe(503);
    expect((await serving.page('/setup/people')).text).toContain('The book is damaged');
    expect((await serving.page('/trouble')).text).toContain('database disk image is malformed');
  });
});

/** After statements that the guards of the file would refuse. */
const tampered = (closed: string, sql: string) => tamper(closed, [sql]);

describe('a book that is not sound', () => {
  it.each([
    [
      'has lost a guard',
      copyAfter,
      'DROP TRIGGER entry_never_goes',
      'The file has lost the trigger entry_never_goes',
    ],
    [
      'has a guard of some other program',
      copyAfter,
      'CREATE TRIGGER quietly AFTER INSERT ON entry BEGIN SELECT 1; END',
      'The file has the trigger quietly, which Clothroom did not make.',
    ],
    [
      'has rows that point nowhere',
      copyAfter,
      "INSERT INTO lot (code, cloth_id, shade_id, origin, supplier_id) VALUES ('L99', 1, 99, 'mill', 99)",
      'of lot points to a shade that is not in the book.',
    ],
    [
      'has an entry without its request',
      tampered,
      'DELETE FROM request WHERE key = (SELECT min(request_key) FROM entry)',
      'of entry points to a request that is not in the book.',
    ],
    [
      'has a balance that is not what its entries say',
      tampered,
      "UPDATE piece SET cost_minor = cost_minor + 1 WHERE code = 'B1'",
      'B1 shows a cost of',
    ],
  ])('can only be read where it %s, and a page says what and what to do', async (_, make, sql, said) => {
    const ruined = make(folder, sql);
    const before = fingerprint(ruined, beside);
    const serving = await serveFolder(ruined);
    expect(serving.book.trouble?.findings.join(' ')).toContain(said);
    expect((await serving.addPerson('Jonas')).status).toBe(503);
    expect((await serving.page('/setup/people')).text).toContain('Nothing is saved');
    expect(await serving.header('/setup/people', 'clothroom-trouble')).toBe('damaged');
    const { text } = await serving.page('/trouble');
    for (const words of [said, 'Stop Clothroom', `There is no copy in ${ruined}`, 'run the command']) {
      expect(text).toContain(words);
    }
    await serving.stop();
    expect(fingerprint(ruined, beside)).toEqual(before);
    expect(checkFolder(ruined).join(' ')).toContain(said);
  });

  it('is told where its newest copy lies', async () => {
    const ruined = copyAfter(folder, 'DROP TRIGGER entry_never_goes');
    const name = 'before-version-24-2026-03-02T12-00-00-000Z.db';
    writeFileSync(join(ruined, name), '');
    const { text } = await (await serveFolder(ruined)).page('/trouble');
    expect(text).toContain(`The newest copy in the folder is ${join(ruined, name)}, of 20`);
  });

  it('is opened as usual where nothing is wrong with it', async () => {
    const serving = await serveFolder(copyAfter(folder));
    expect((await serving.addPerson('Jonas')).status).toBe(200);
    expect(serving.book.trouble).toBeNull();
    expect(await serving.header('/setup/people', 'clothroom-trouble')).toBeNull();
    expect(serving.said).toEqual([]);
    expect((await serving.page('/')).text).not.toContain('Nothing is saved');
    const { text } = await serving.page('/trouble');
    expect(text).toContain('<h1 id="title" tabindex="-1">Today</h1>');
  });
});

describe('check', () => {
  it('writes nothing, makes nothing and brings nothing up to date', async () => {
    const older = newFolder();
    const raw = new BetterSqlite3(join(older, 'clothroom.db'));
    const steps = readMigrationSteps().slice(0, 15);
    for (const step of steps) raw.exec(step.sql);
    raw.pragma(`application_id = ${APPLICATION_ID}`);
    raw.pragma(`user_version = ${steps.length}`);
    raw.pragma('journal_mode = WAL');
    raw.close();
    const before = fingerprint(older);
    expect(checkFolder(older)).toEqual([]);
    expect(fingerprint(older)).toEqual(before);
    const nothing = newFolder();
    expect(checkFolder(nothing)).toEqual([`there is no book in ${nothing}`]);
    expect(readdirSync(nothing)).toEqual([]);
  });

  it('tells in words what is wrong, without a stack trace', async () => {
    const piece = trees.find(({ name }) => name === 'piece')?.rootpage ?? 0;
    const ruined = copyRuined(folder, [piece]);
    const checked = startProgram('check', '--data', ruined);
    expect(await checked.ended).toBe(1);
    expect(checked.said.err).toMatch(/the file is damaged: /i);
    expect(checked.said.out).toMatch(/: \d+ findings\n$/);
    expect(checked.said.err).not.toMatch(/^\s+at /m);
  });
});

describe('a data folder that others can read', () => {
  it('is closed, and that is said once', async () => {
    const open = copyAfter(folder);
    chmodSync(open, 0o755);
    chmodSync(join(open, 'clothroom.db'), 0o644);
    const serving = await serveFolder(open);
    expect(serving.said).toEqual([`others on this machine could read ${open}; it is closed to them now`]);
    const mode = (path: string) => lstatSync(path).mode & 0o777;
    expect(mode(open)).toBe(0o700);
    for (const name of readdirSync(open)) expect(mode(join(open, name)), name).toBe(0o600);
    await serving.stop();
    expect((await serveFolder(open)).said).toEqual([]);
  });

  it('stays as it is where it holds other things too, and only the book is closed', async () => {
    const open = copyAfter(folder);
    chmodSync(open, 0o755);
    chmodSync(join(open, 'clothroom.db'), 0o644);
    writeFileSync(join(open, 'pattern.pdf'), '');
    chmodSync(join(open, 'pattern.pdf'), 0o644);
    const { said } = await serveFolder(open);
    expect(said).toEqual([
      `others on this machine could read the book in ${open}; it is closed to them now`,
      `${open} holds other things too, so others on this machine can still look into it`,
    ]);
    const mode = (path: string) => lstatSync(path).mode & 0o777;
    expect([mode(open), mode(join(open, 'clothroom.db')), mode(join(open, 'pattern.pdf'))]).toEqual([
      0o755, 0o600, 0o644,
    ]);
  });
});
