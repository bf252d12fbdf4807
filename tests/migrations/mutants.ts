import type { Step } from '../../server/database/migrate.ts';
import { termsOf } from './terms.ts';

export type MutantKind =
  | 'trigger'
  | 'check'
  | 'reference'
  | 'not null'
  | 'unique'
  | 'strict'
  | 'bound'
  | 'term';

/** The steps with one thing in them dropped or weakened. */
export interface Mutant {
  readonly kind: MutantKind;
  readonly name: string;
  readonly table: string;
  readonly steps: readonly Step[];
}

interface Edit {
  readonly kind: MutantKind;
  readonly name: string;
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Every mutant of every step, made from the text of the steps alone. */
export function mutantsOf(steps: readonly Step[]): Mutant[] {
  return steps.flatMap((step) =>
    standingOf(step, steps).flatMap(({ start, text, table: written, trigger }) => {
      // A table that is built again is written under another name and then takes the old one.
      const table = written.replace(/_new$/, '');
      const edits = trigger ? editsOfTrigger(trigger, text) : editsOfTable(table, text);
      return edits.map(({ kind, name, start: from, end, text: by }) => {
        const sql = step.sql.slice(0, start + from) + by + step.sql.slice(start + end);
        return {
          kind,
          name,
          table,
          steps: steps.map((other) => (other === step ? { ...step, sql } : other)),
        };
      });
    }),
  );
}

/** The statements of a step whose tables and triggers no later one takes away again. */
export function standingOf(step: Step, steps: readonly Step[]): Statement[] {
  return statementsOf(step.sql).filter(({ start, table, trigger }) => {
    const later = steps.map(({ number, sql }) =>
      number < step.number ? '' : number > step.number ? sql : sql.slice(start),
    );
    return !later.some(
      (sql) =>
        new RegExp(`^DROP TABLE "?${table}"?;`, 'm').test(sql) ||
        (trigger !== null && new RegExp(`^DROP TRIGGER ${trigger};`, 'm').test(sql)),
    );
  });
}

interface Statement {
  readonly start: number;
  readonly text: string;
  readonly table: string;
  readonly trigger: string | null;
}

function statementsOf(sql: string): Statement[] {
  const whole =
    /^(?:ALTER TABLE (?<altered>\w+) ADD COLUMN [^;]*;|CREATE (?:TABLE "?(?<table>\w+)"? \([\s\S]*?^\)[^;]*;|UNIQUE INDEX \w+ ON (?<on>\w+)[^;]*;|TRIGGER (?<trigger>\w+) (?:BEFORE|AFTER) [\s\S]*? ON "?(?<of>\w+)"?[\s\S]*?END;))/gm;
  return [...sql.matchAll(whole)].map((found) => {
    const { table, on, of, trigger, altered } = found.groups ?? {};
    return {
      start: found.index,
      text: found[0],
      table: table ?? on ?? of ?? altered ?? '',
      trigger: trigger ?? null,
    };
  });
}

function editsOfTrigger(trigger: string, text: string): Edit[] {
  const gone: Edit = { kind: 'trigger', name: `${trigger} removed`, start: 0, end: text.length, text: '' };
  const from = text.search(/\bWHEN\b/);
  if (from < 0) return [gone];
  const when = text.slice(from, text.search(/\bBEGIN\b/));
  return [
    gone,
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

function editsOfTable(table: string, text: string): Edit[] {
  const column = (at: number) => {
    const line = text.slice(text.lastIndexOf('\n', at) + 1, at);
    const added = /^ALTER TABLE \w+ ADD COLUMN (\w+)/.exec(text);
    return `${table}.${added?.[1] ?? /^ {2}([a-z]\w*) /.exec(line)?.[1] ?? '*'}`;
  };
  const each = (kind: MutantKind, pattern: RegExp, by: (found: RegExpExecArray) => string): Edit[] =>
    [...text.matchAll(pattern)].map((found) => ({
      kind,
      name: `${column(found.index)} without ${found[0].trim()}`,
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
    ...each('unique', / UNIQUE(?! [(I])|^ {2}UNIQUE \([^)]*\),\n|(?<=^CREATE) UNIQUE(?= INDEX)/gm, () => ''),
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
  return [...check.matchAll(/(BETWEEN )(-?\d+)( AND )(-?\d+)|(<= )(\d+)/g)].flatMap((found) => {
    const [whole, between = '', least, and = '', most, upTo = '', last] = found;
    const change = (start: number, was: string, by: number) => ({
      start,
      end: start + was.length,
      was: whole,
      text: String(Number(was) + by),
    });
    if (last !== undefined) return [change(found.index + upTo.length, last, 1)];
    if (least === undefined || most === undefined) return [];
    const from = found.index + between.length;
    return [change(from, least, -1), change(from + least.length + and.length, most, 1)];
  });
}

function oneLine(text: string): string {
  const line = text.replaceAll(/\s+/g, ' ');
  return line.length > 90 ? `${line.slice(0, 88)}…` : line;
}
