import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { newFolder } from './door.ts';
import { isFull, PATIENCE_MS, report } from './scale.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** What keeps the book from some harm; the text that is it, what stands there without it, and the test that finds that out. */
interface Protection {
  readonly name: string;
  readonly file: string;
  readonly text: string;
  readonly without: string;
  readonly test: string;
  /** words of the test's name */
  readonly words: string;
}

const PROTECTIONS: readonly Protection[] = [
  {
    name: 'each commit is synced before it is told',
    file: 'server/database/open.ts',
    text: 'synchronous = FULL',
    without: 'synchronous = NORMAL',
    test: 'tests/faults/power-cut.test.ts',
    words: 'loses nothing that was told',
  },
  {
    name: 'a request is carried out once',
    file: 'server/database/book.ts',
    text: 'const seen = this.first(requestOf(request.key));',
    without: "const seen = this.first(requestOf(''));",
    test: 'tests/faults/races.test.ts',
    words: 'receive an order line once',
  },
  {
    name: 'a write-ahead file of another state is refused',
    file: 'server/database/write-ahead.ts',
    text: 'if (last.readUInt32BE(SIZE_IN_PAGES) !== ahead.pages) return true;',
    without: 'return false;',
    test: 'tests/faults/taken-away.test.ts',
    words: 'is told from an honest crash',
  },
  {
    name: 'a file that was replaced is noticed',
    file: 'server/database/file-watch.ts',
    text: 'if (markOf(path) !== mark) return path;',
    without: 'if (mark === path) return path;',
    test: 'tests/faults/taken-away.test.ts',
    words: 'takes no more work where it',
  },
  {
    name: 'no other program can hold the book',
    file: 'server/database/lock.ts',
    text: "connection.pragma('locking_mode = EXCLUSIVE');",
    without: '',
    test: 'tests/faults/taken-away.test.ts',
    words: 'is left alone where only its lock is deleted',
  },
  {
    name: 'a damaged book is only read',
    file: 'server/database/open.ts',
    text: 'if (findings.length > 0) {',
    without: 'if (findings.length > 1000) {',
    test: 'tests/faults/ruined.test.ts',
    words: 'can only be read where it has lost a guard',
  },
  {
    name: 'an old book is brought up to date in one transaction',
    file: 'server/database/migrate.ts',
    text: 'for (const step of steps) if (step.number > from) connection.exec(step.sql);',
    without:
      "for (const step of steps) if (step.number > from) { connection.exec(step.sql); connection.pragma('user_version = ' + step.number); connection.exec('COMMIT; BEGIN IMMEDIATE'); }",
    test: 'tests/faults/every-version.test.ts',
    words: 'comes up to date',
  },
  {
    name: 'room is looked for before a book is brought up to date',
    file: 'server/database/bring-up-to-date.ts',
    text: '  refuseWithoutRoom(dirname(file), needed, room);',
    without: '',
    test: 'tests/faults/every-version.test.ts',
    words: 'comes up to date',
  },
  {
    name: 'a failed disk stops all writing',
    file: 'server/database/driver-errors.ts',
    text: 'trouble: FAILED_DISK,',
    without: 'trouble: null,',
    test: 'tests/server/database/driver-errors.test.ts',
    words: 'where the disk failed',
  },
  {
    name: 'a copy gets its name once it is proven',
    file: 'server/copies/copier.ts',
    text: 'if (findings[0] !== undefined)',
    without: 'if (findings[9] !== undefined)',
    test: 'tests/server/copies/copies.test.ts',
    words: 'that does not agree with itself',
  },
  {
    name: 'a copy with a flipped bit is not put back',
    file: 'server/copies/put-back.ts',
    text: 'if (made !== null && made !== sha256)',
    without: "if (made === '')",
    test: 'tests/server/copies/put-back.test.ts',
    words: 'is refused where it is none',
  },
  {
    name: 'what was carried to the second place is read back',
    file: 'server/copies/second-place.ts',
    text: 'if (fingerprintOf(part).sha256 !== sha256)',
    without: "if (sha256 === '')",
    test: 'tests/server/copies/copies.test.ts',
    words: 'keeps nothing that was read back otherwise',
  },
  {
    name: 'a second place whose drive was pulled is told as absent',
    file: 'server/copies/second-place.ts',
    text: 'const isThere = () => existsSync(join(folder, MARK));',
    without: 'const isThere = () => folder !== MARK;',
    test: 'tests/server/copies/copies.test.ts',
    words: 'is told as absent',
  },
  {
    name: 'a drive that is pulled during a copy is told as absent',
    file: 'server/copies/second-place.ts',
    text: "    if (isThere()) return 'carried';",
    without: "    return 'carried';",
    test: 'tests/server/copies/photos.test.ts',
    words: 'where it was pulled meanwhile',
  },
  {
    name: 'a former book goes with its write-ahead file',
    file: 'server/copies/put-back.ts',
    text: 'for (const name of beside) {',
    without: 'for (const name of [] as string[]) {',
    test: 'tests/faults/each-write.test.ts',
    words: 'putting a copy back',
  },
  {
    name: 'a file is on the disk before it has its name',
    file: 'server/database/make.ts',
    text: '  syncFile(unfinished);\n',
    without: '',
    test: 'tests/faults/synced.test.ts',
    words: 'while making a certificate',
  },
  {
    name: 'a name is on the disk before it is counted on',
    file: 'server/database/make.ts',
    text: '  syncFolder(dirname(path));\n',
    without: '',
    test: 'tests/faults/synced.test.ts',
    words: 'while carrying a copy to the second place',
  },
  {
    name: 'an address has no more connections than its share',
    file: 'server/web/limits.ts',
    text: 'if (theirs.size <= MOST_AN_ADDRESS) return;',
    without: 'return;',
    test: 'tests/server/web/connections.test.ts',
    words: 'is one of 64 from an address',
  },
  {
    name: 'over plain http nobody is more than a hand',
    file: 'server/web/admission.ts',
    text: "if (!isKeeper || !(atMachine || isSecure)) return 'hand';",
    without: "if (!isKeeper) return 'hand';",
    test: 'tests/server/network/matrix.test.ts',
    words: 'is asked over plain http as over the certificate',
  },
  {
    name: 'a token of the machine is nothing on the network',
    file: 'server/web/admission.ts',
    text: 'if (!signIn || signIn.device.isMachine !== atMachine)',
    without: 'if (!signIn)',
    test: 'tests/server/network/matrix.test.ts',
    words: 'answers whom its rule lets in and nobody else',
  },
  {
    name: 'a code lets in once',
    file: 'server/let-in/devices.ts',
    text: "  run(db.deleteFrom('invitation').where('code_hash', '=', invitation.code_hash));\n",
    without: '',
    test: 'tests/server/network/entering.test.ts',
    words: 'is let in once by a code',
  },
  {
    name: 'a wrong PIN is counted before it is tried',
    file: 'server/let-in/secrets.ts',
    text: '    count(book, asked, stored, now);\n',
    without: '',
    test: 'tests/server/network/entering.test.ts',
    words: 'has ten wrong tries at most',
  },
  {
    name: 'a secret is hashed one at a time',
    file: 'server/let-in/hashing.ts',
    text: '    if (this.#waiting > MOST_WAITING)',
    without: '    if (this.#waiting < 0)',
    test: 'tests/server/let-in/hashing.test.ts',
    words: 'is hashed one at a time',
  },
  {
    name: 'what was unused too long is out',
    file: 'server/let-in/sign-ins.ts',
    text: 'isWithin(row.seen_at, now, STAYS_HOURS[kind].unused * HOUR_MS)',
    without: 'isWithin(row.at, now, STAYS_HOURS[kind].inAll * HOUR_MS)',
    test: 'tests/server/network/entering.test.ts',
    words: 'stays chosen for 12 hours, and 4 without use',
  },
  {
    name: 'nobody sends what another person did',
    file: 'server/web/bench-work.ts',
    text: 'if (owner.personId !== asker.personId || !isOwnDevice) {',
    without: 'if (!isOwnDevice) {',
    test: 'tests/server/network/bench-work.test.ts',
    words: 'lets nobody else who works at the device',
  },
  {
    name: 'no secret leaves with an export',
    file: 'server/ledger/whole-workroom.ts',
    text: "SECRET_TABLES.includes(table) ? 'WHERE FALSE ' : ''",
    without: "''",
    test: 'tests/server/network/entering.test.ts',
    words: 'leaves no PIN, passphrase, token or code',
  },
  {
    name: 'a hand sees no prices',
    file: 'server/web/house.ts',
    text: "seesPrices: allows('keeper', admission),",
    without: 'seesPrices: true,',
    test: 'tests/seed-demo/as-hand.test.ts',
    words: 'finds no price on any page',
  },
  {
    name: 'a head or a body that comes slowly is cut off',
    file: 'server/web/limits.ts',
    text: 'headersTimeout: 8000,',
    without: 'headersTimeout: 25_000,',
    test: 'tests/server/web/connections.test.ts',
    words: 'is closed where a head or a body comes a byte a second',
  },
  {
    name: 'a photo is read by three readers alone',
    file: 'server/shelf/photo/process.ts',
    text: "sharp.block({ operation: ['VipsForeignLoad'] });",
    without: '',
    test: 'tests/server/shelf/photo/pictures.test.ts',
    words: 'by the library itself',
  },
  {
    name: 'a photo with other bytes is not carried',
    file: 'server/copies/photos.ts',
    text: 'if (isDamaged(part, name)) damaged.push(name);\n      else putInPlace',
    without: 'putInPlace',
    test: 'tests/server/copies/photos.test.ts',
    words: 'that are damaged are told and not carried',
  },
  {
    name: 'a trial of a copy reads its photos',
    file: 'server/copies/drill.ts',
    text: ', ...photos];',
    without: '];',
    test: 'tests/server/copies/photos.test.ts',
    words: 'are read in the trial of a copy',
  },
  {
    name: 'a key and a certificate are of one another',
    file: 'server/network/certificate/store.ts',
    text: '.checkPrivateKey(createPrivateKey(key)) ?',
    without: ' && createPrivateKey(key) ?',
    test: 'tests/server/network/certificate.test.ts',
    words: 'left the key of another beside it',
  },
];

/** Runs one test of a copy of the project; the names of those that failed. */
async function failuresOf(folder: string, { test, words }: Protection): Promise<string[]> {
  const runner = join(ROOT, 'node_modules', 'vitest', 'vitest.mjs');
  const result = join(folder, 'result.json');
  const told = ['--reporter=json', `--outputFile=${result}`];
  const child = spawn(
    process.execPath,
    [runner, 'run', test, '-t', words, '--config', 'tests/vitest.config.ts', ...told],
    {
      cwd: folder,
      env: { ...process.env, CLOTHROOM_FAULTS: '', VITEST: undefined, VITEST_WORKER_ID: undefined },
      stdio: 'ignore',
    },
  );
  await new Promise((resolve) => child.once('exit', resolve));
  const { testResults } = JSON.parse(readFileSync(result, 'utf8')) as {
    testResults: { assertionResults: { status: string; fullName: string }[] }[];
  };
  return testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status }) => status === 'failed')
    .map(({ fullName }) => fullName);
}

describe('a protection', () => {
  it.each(PROTECTIONS)('is where this table says: $name', ({ file, text }) => {
    expect(readFileSync(join(ROOT, file), 'utf8').split(text)).toHaveLength(2);
  });

  it.skipIf(!isFull).each(PROTECTIONS)(
    'is missed by a test: $name',
    async (one) => {
      const folder = newFolder();
      for (const part of [
        'package.json',
        'tsconfig.json',
        'server',
        'src',
        'views',
        'migrations',
        'seed-demo',
        'tests',
      ])
        cpSync(join(ROOT, part), join(folder, part), { recursive: true });
      mkdirSync(join(folder, '.cache'));
      symlinkSync(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
      const path = join(folder, one.file);
      writeFileSync(
        path,
        readFileSync(path, 'utf8').replace(one.text, () => one.without),
      );
      const failed = await failuresOf(folder, one);
      expect(failed.length).toBeGreaterThan(0);
      report('taken away', { protection: one.name, failed: failed[0] ?? '' });
      rmSync(folder, { recursive: true, force: true });
    },
    PATIENCE_MS,
  );
});
