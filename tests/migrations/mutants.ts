import type BetterSqlite3 from 'better-sqlite3';
import { quoted } from './sql.ts';
import { termsOf } from './terms.ts';

export type MutantKind =
  | 'trigger'
  | 'column'
  | 'check'
  | 'reference'
  | 'not null'
  | 'unique'
  | 'strict'
  | 'bound'
  | 'term';

/** A table, an index or a trigger, as the book has it when all steps were run. */
export interface Rule {
  readonly type: 'table' | 'index' | 'trigger';
  readonly name: string;
  readonly table: string;
  readonly sql: string;
}

/** One thing in one of the rules dropped or weakened. */
export interface Mutant {
  readonly kind: MutantKind;
  readonly name: string;
  readonly rule: Rule;
  /** the rule as it is written then; a trigger that is gone is nothing */
  readonly sql: string;
}

interface Edit {
  readonly kind: MutantKind;
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** What the book is made of, in the order in which it was made. */
export function rulesOf(db: BetterSqlite3.Database): Rule[] {
  const sql = `SELECT type, name, tbl_name AS "table", sql FROM sqlite_schema
    WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite~_%' ESCAPE '~' ORDER BY rowid`;
  return (db.prepare(sql).all() as Rule[]).map((rule) =>
    // Columns that were added later stand in one line with the column before them.
    rule.type === 'table'
      ? { ...rule, sql: rule.sql.replaceAll(/, (?=\w+ (?:INTEGER|TEXT|REAL)\b)/g, ',\n  ') }
      : rule,
  );
}

/** Every mutant of every rule, made from the text of the rules alone. */
export function mutantsOf(rules: readonly Rule[]): Mutant[] {
  return rules.flatMap((rule) => {
    const { type, name: of, table, sql } = rule;
    const edits = type === 'trigger' ? editsOfTrigger(of, sql) : editsOfTable(table, sql);
    return edits.map(({ kind, name, start, end, text }) => ({
      kind,
      name,
      rule,
      sql: sql.slice(0, start) + text + sql.slice(end),
    }));
  });
}

/** How many rules of a kind there are, as the database itself counts them. */
export function countedBy(db: BetterSqlite3.Database): Partial<Record<MutantKind, number>> {
  const tables = (db.pragma('table_list') as { name: string; wr: number; strict: number }[]).filter(
    ({ name }) => !name.startsWith('sqlite_'),
  );
  const each = (pragma: string, wanted: (row: Record<string, unknown>, wr: number) => boolean) =>
    tables.flatMap(({ name, wr }) =>
      (db.pragma(`${pragma}(${quoted(name)})`) as Record<string, unknown>[]).filter((row) => wanted(row, wr)),
    ).length;
  return {
    trigger: db.prepare("SELECT count(*) FROM sqlite_schema WHERE type = 'trigger'").pluck().get() as number,
    strict: tables.filter(({ strict }) => strict === 1).length,
    reference: each('foreign_key_list', () => true),
    unique: each('index_list', ({ unique, origin }) => unique === 1 && origin !== 'pk'),
    // The columns of the key of a table without row numbers are never NULL, whether it is written or not.
    'not null': each('table_info', ({ notnull, pk }, wr) => notnull === 1 && !(wr === 1 && pk !== 0)),
  };
}

function editsOfTrigger(trigger: string, text: string): Edit[] {
  const gone: Edit = { kind: 'trigger', name: `${trigger} removed`, start: 0, end: text.length, text: '' };
  const columns = columnsOf(text).map(
    ({ start, end, column }): Edit => ({
      kind: 'column',
      name: `${trigger} without ${column}`,
      start,
      end,
      text: '',
    }),
  );
  const from = text.search(/\bWHEN\b/);
  if (from < 0) return [gone, ...columns];
  const when = text.slice(from, text.search(/\bBEGIN\b/));
  return [
    gone,
    ...columns,
    ...termsOf(when).map(
      ({ start, end, term }): Edit => ({
        kind: 'term',
        name: `${trigger} without ${term}`,
        start: from + start,
        end: from + end,
        text: ' ',
      }),
    ),
  ];
}

/** The columns that a trigger looks at, where it looks at several, each with the comma that goes with it. */
function columnsOf(text: string): { start: number; end: number; column: string }[] {
  const list = /(?<=UPDATE OF\s)[\w,\s]+(?=\sON )/.exec(text);
  if (!list?.[0].includes(',')) return [];
  const whole = list[0];
  return [...whole.matchAll(/\w+/g)].map(({ index, 0: column }) => {
    const comma = whole.indexOf(',', index);
    const [start, end] = comma < 0 ? [whole.lastIndexOf(','), whole.length] : [index, comma + 1];
    return { start: list.index + start, end: list.index + end, column };
  });
}

function editsOfTable(table: string, text: string): Edit[] {
  const column = (at: number) => {
    const line = text.slice(text.lastIndexOf('\n', at) + 1, at);
    return `${table}.${/^ {2}([a-z]\w*) /.exec(line)?.[1] ?? '*'}`;
  };
  const each = (kind: MutantKind, pattern: RegExp, by: (found: RegExpExecArray) => string): Edit[] =>
    [...text.matchAll(pattern)].map((found) => ({
      kind,
      name: `${column(found.index + found[0].search(/\w/))} without ${found[0].replace(/^,/, '').trim()}`,
      start: found.index,
      end: found.index + found[0].length,
      text: by(found as RegExpExecArray),
    }));
  // The columns of the key of a table without row numbers are never NULL, whether it is written or not.
  const key = /WITHOUT ROWID/.test(text) ? (/PRIMARY KEY \(([^)]*)\)/.exec(text)?.[1] ?? '').split(', ') : [];
  const inKey = (name: string) => key.some((part) => name.startsWith(`${table}.${part} `));
  return [
    ...checksOf(text).flatMap(({ start, end }): Edit[] => {
      const check = text.slice(start, end);
      return [
        { kind: 'check', name: `${column(start)} without ${oneLine(check)}`, start, end, text: 'CHECK (1)' },
        ...(check.includes('CASE kind') ? [] : boundsOf(check)).map(
          (bound): Edit => ({
            kind: 'bound',
            name: `${column(start)} with ${bound.text} for ${bound.was}`,
            start: start + bound.start,
            end: start + bound.end,
            text: bound.text,
          }),
        ),
        ...(check.includes('CASE kind')
          ? termsOf(check).map(
              ({ start: from, end: to, term, before }): Edit => ({
                kind: 'term',
                name: `${table}: ${before} without ${term}`,
                start: start + from,
                end: start + to,
                text: ' ',
              }),
            )
          : []),
      ];
    }),
    ...each('reference', / REFERENCES "?\w+"? \(\w+\)( DEFERRABLE INITIALLY DEFERRED)?/g, () => ''),
    ...each('not null', /(?<!IS) NOT NULL/g, () => '').filter(({ name }) => !inKey(name)),
    ...each('unique', / UNIQUE(?! [(I])|,\n {2}UNIQUE \([^)]*\)|(?<=^CREATE) UNIQUE(?= INDEX)/gm, () => ''),
    ...each('strict', /\) STRICT,? ?/g, () => ') '),
  ];
}

function checksOf(text: string): { start: number; end: number }[] {
  return [...text.matchAll(/\bCHECK \(/g)].map(({ index: start }) => {
    let end = start + 'CHECK ('.length;
    for (let depth = 1; depth > 0; end += 1) {
      if (text[end] === '(') depth += 1;
      if (text[end] === ')') depth -= 1;
    }
    return { start, end };
  });
}

/** The two ends of every range, each let out by one. */
function boundsOf(check: string): { start: number; end: number; was: string; text: string }[] {
  return [...check.matchAll(/(BETWEEN )(-?\d+)( AND )(-?\d+)|(<= )(\d+)|(>=? )(\d+)/g)].flatMap((found) => {
    const [whole, between = '', least, and = '', most, upTo = '', last, downTo = '', first] = found;
    const change = (start: number, was: string, by: number) => ({
      start,
      end: start + was.length,
      was: whole,
      text: String(Number(was) + by),
    });
    if (last !== undefined) return [change(found.index + upTo.length, last, 1)];
    if (first !== undefined) return [change(found.index + downTo.length, first, -1)];
    if (least === undefined || most === undefined) return [];
    const from = found.index + between.length;
    return [change(from, least, -1), change(from + least.length + and.length, most, 1)];
  });
}

function oneLine(text: string): string {
  const line = text.replaceAll(/\s+/g, ' ');
  return line.length > 90 ? `${line.slice(0, 88)}…` : line;
}
