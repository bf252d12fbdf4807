import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type BetterSqlite3 from 'better-sqlite3';

interface LedgerProgram {
  readonly name: string;
  readonly file: string;
  /** the head of the file, and one entry of it */
  readonly head: (pieces: number) => string;
  readonly entry: (day: string, piece: number, millimetres: number) => string;
  readonly balances: (file: string) => readonly string[];
}

const PROGRAMS: readonly LedgerProgram[] = [
  {
    name: 'hledger',
    file: 'shelf.journal',
    head: () => '',
    entry: (day, piece, mm) => `${day} *\n  Shelf:B${piece}  ${mm} mm\n  Outside\n\n`,
    balances: (file) => ['hledger', '-f', file, 'balance', 'Shelf', '--flat', '--no-total'],
  },
  {
    name: 'ledger',
    file: 'shelf.ledger',
    head: () => '',
    entry: (day, piece, mm) => `${day} *\n  Shelf:B${piece}  ${mm} mm\n  Outside\n\n`,
    balances: (file) => ['ledger', '-f', file, 'balance', 'Shelf', '--flat', '--no-total'],
  },
  {
    name: 'bean-query',
    file: 'shelf.beancount',
    head: (pieces) =>
      `2000-01-01 open Assets:Outside\n${Array.from({ length: pieces }, (_, n) => `2000-01-01 open Assets:Shelf:B${n + 1}\n`).join('')}`,
    entry: (day, piece, mm) => `${day} * ""\n  Assets:Shelf:B${piece}  ${mm} MM\n  Assets:Outside\n\n`,
    balances: (file) => [
      'bean-query',
      '--no-errors',
      file,
      "SELECT account, sum(position) WHERE account ~ 'Shelf' GROUP BY account",
    ],
  },
];

/**
 * What LibreOffice Calc takes for one more cut in a sheet of the same rows that sums every piece with SUMIFS: to open it,
 * work it out and save it. Milliseconds, or why there is no figure.
 */
export function oneMoreCutInSheet(book: BetterSqlite3.Database, entries: number, mostEntries: number) {
  if (spawnSync('soffice', ['--version']).error) return 'not installed';
  if (entries > 1.1 * mostEntries) return 'not tried';
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-bench-sheet-'));
  try {
    const file = join(folder, 'shelf.fods');
    writeSheet(file, book);
    const startMs = performance.now();
    const asked = [`-env:UserInstallation=file://${folder}/profile`, '--headless', '--convert-to', 'ods'];
    const ran = spawnSync('soffice', [...asked, '--outdir', folder, file], { timeout: LONGEST_MS });
    const ms = performance.now() - startMs;
    return ran.status === 0 ? ms : `gave up after ${Math.round(ms / 1000)} s`;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The ledger in the columns A and B, a cut more at its end, and the sum of each piece on hand in D. */
function writeSheet(file: string, book: BetterSqlite3.Database): void {
  const cell = (value: string | number) =>
    typeof value === 'number'
      ? `<table:table-cell office:value-type="float" office:value="${value}"/>`
      : `<table:table-cell table:formula="${value}" office:value-type="float"/>`;
  const rows = book
    .prepare<[], [number, number]>('SELECT piece_id, length_ticks / 160 FROM entry WHERE length_ticks <> 0')
    .raw()
    .all();
  const pieces = book
    .prepare<[], number>('SELECT id FROM piece WHERE on_hand_ticks > 0 ORDER BY id')
    .pluck()
    .all();
  rows.push([pieces[0] ?? 0, -100]);
  const sum = (at: number) => `of:=SUMIFS([.B$1:.B$${rows.length}];[.A$1:.A$${rows.length}];[.C${at}])`;
  const lines = rows.map(([piece, mm], place) => {
    const onHand = pieces[place];
    const sums = onHand === undefined ? '' : cell(onHand) + cell(sum(place + 1));
    return `<table:table-row>${cell(piece)}${cell(mm)}${sums}</table:table-row>`;
  });
  const names = ['office', 'table', 'text', 'style'].map(
    (name) => `xmlns:${name}="urn:oasis:names:tc:opendocument:xmlns:${name}:1.0"`,
  );
  writeFileSync(
    file,
    `<?xml version="1.0" encoding="UTF-8"?><office:document ${names.join(' ')} xmlns:of="urn:oasis:names:tc:opendocument:xmlns:of:1.2" office:version="1.2" office:mimetype="application/vnd.oasis.opendocument.spreadsheet"><office:body><office:spreadsheet><table:table table:name="Shelf">${lines.join('\n')}</table:table></office:spreadsheet></office:body></office:document>`,
  );
}

/** What the plain text ledgers of Debian take for the balance of every piece: milliseconds, or why there is no figure. */
export function balancesElsewhere(
  book: BetterSqlite3.Database,
  entries: number,
  mostEntries: number,
): [program: string, figure: number | string][] {
  return PROGRAMS.map((program) => [program.name, balancesBy(program, book, entries, mostEntries)]);
}

const LONGEST_MS = 4 * 60_000;

function balancesBy(program: LedgerProgram, book: BetterSqlite3.Database, entries: number, most: number) {
  if (spawnSync(program.name, ['--version']).error) return 'not installed';
  if (entries > 1.1 * most) return 'not tried';
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-bench-ledger-'));
  try {
    const file = join(folder, program.file);
    writeJournal(program, file, book);
    const [command = '', ...args] = program.balances(file);
    const startMs = performance.now();
    const ran = spawnSync(command, args, { encoding: 'utf8', maxBuffer: 2 ** 30, timeout: LONGEST_MS });
    const ms = performance.now() - startMs;
    if (ran.status !== 0) return `gave up after ${Math.round(ms / 1000)} s`;
    const found = ran.stdout.split('\n').filter((line) => /Shelf:B\d+/.test(line)).length;
    if (found === 0) throw new Error(`${program.name} told no balance: ${ran.stdout.slice(0, 500)}`);
    return ms;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function writeJournal(program: LedgerProgram, file: string, book: BetterSqlite3.Database): void {
  const pieces = book.prepare<[], { id: number }>('SELECT max(id) AS id FROM piece').get()?.id ?? 0;
  const rows = book
    .prepare<[], [string, number, number]>(
      'SELECT substr(at, 1, 10), piece_id, length_ticks / 160 FROM entry WHERE length_ticks <> 0 ORDER BY id',
    )
    .raw();
  const out = openSync(file, 'w');
  let part = program.head(pieces);
  for (const [day, piece, mm] of rows.iterate()) {
    part += program.entry(day, piece, mm);
    if (part.length > 1e6) {
      writeSync(out, part);
      part = '';
    }
  }
  writeSync(out, part);
  closeSync(out);
}
