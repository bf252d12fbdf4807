import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;

/** Rows that nothing points to, so that a rule alone keeps them. */
const FREE: Readonly<Record<string, string>> = {
  swatch_job: " WHERE code = 'W3'",
  swatch: ' WHERE id = 3',
  series: " WHERE code = 'S3'",
  dip: ' WHERE batch_id = 2',
};

/** What swatches, what was seen of them, graded series and gradients refuse. */
export const ATTACKS_ON_SWATCHES: readonly Attack[] = [
  ...keeps('swatch_job', 'note', /keeps its plan/, [
    ['another of its number', { id: 1 }],
    ['another of its code', { code: 'W3' }],
  ]),
  ...keeps('swatch', 'depth_owf_milli', /stays as it was dyed/, [
    ['another of its number', { id: 1 }],
    ['another in its place', { position: 2 }],
  ]),
  ...keeps('swatch_dye_lot', 'dye_lot', /stays as it was dyed/, [['another of its dye', { name: 'Red' }]]),
  ...keeps('dyed_swatch_dye', 'owf_milli', /stays as it was dyed/, [
    ['another of its dye', { swatch_id: 1, owf_milli: 2000 }],
  ]),
  ...keeps('swatch_result', 'note', /the next verdict counts/, [['another of its number', { id: 1 }]]),
  ...keeps('series', 'note', /stays as it was planned/, [
    ['another of its number', { id: 1 }],
    ['another of its code', { code: 'S3' }],
  ]),
  ...keeps('series_step', 'moved_bp', /stays as it was planned/, [['another in its place', { position: 1 }]]),
  ...keeps('dip', 'minutes', /stays as it was planned/, [['another of its batch', { batch_id: 1 }]]),
  ...keeps('dip_move', 'note', /stays written/, [['another of its number', { id: 1 }]]),
  ...onTable('series', [
    ['a number below one', put('series', { id: 0 }), CHECK],
    ['a code twice', unguarded('series', { code: 'S1' }), /UNIQUE/],
  ]),
  ...onTable('dip_move', [['a number below one', put('dip_move', { id: 0 }), CHECK]]),
  ...onTable('swatch_job', [
    ['a number below one', put('swatch_job', { id: 0 }), CHECK],
    ['a code twice', unguarded('swatch_job', { code: 'W1' }), /UNIQUE/],
  ]),
  ...onTable('swatch', [
    ['a number below one', put('swatch', { id: 0 }), CHECK],
    ['a place twice', unguarded('swatch', { position: 1 }), /UNIQUE/],
  ]),
  ...onTable('swatch_result', [
    ['a number below one', put('swatch_result', { id: 0 }), CHECK],
    ['a verdict that is none', put('swatch_result', { verdict: 'perhaps' }), CHECK],
    ['the reading of a lot', put('swatch_result', { reading_id: 1 }), /of another swatch/],
    [
      'the reading of another swatch',
      put('swatch_result', { swatch_id: 2, reading_id: 2 }),
      /of another swatch/,
    ],
    [
      'no such reading',
      ['DROP TRIGGER swatch_result_with_its_reading', ...put('swatch_result', { reading_id: 999_999 })],
      /FOREIGN KEY/,
    ],
  ]),
];

type Told = readonly [what: string, statements: readonly string[], refused: RegExp];

/** A table of which no row is ever changed, removed or replaced. */
function keeps(
  table: string,
  column: string,
  refused: RegExp,
  replacing: readonly (readonly [what: string, row: Row])[],
): Attack[] {
  return onTable(table, [
    ['a change', [`UPDATE ${table} SET ${column} = ${column}`], refused],
    [
      'its removal',
      [...(table === 'dip' ? put('dip') : []), `DELETE FROM ${table}${FREE[table] ?? ''}`],
      refused,
    ],
    ...replacing.map(
      ([what, row]): Told => [
        what,
        [insert(table, { ...LAWFUL[table], ...row }, 'INSERT OR REPLACE')],
        refused,
      ],
    ),
  ]);
}

function onTable(table: string, told: readonly Told[]): Attack[] {
  return told.map(([what, statements, refused]) => ({
    name: `${table}: ${what}`,
    table,
    statements,
    refused,
  }));
}

function unguarded(table: string, changes: Row): string[] {
  return [`DROP TRIGGER ${table}_never_replaced`, ...put(table, changes)];
}
