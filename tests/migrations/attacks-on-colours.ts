import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const NOWHERE = 999_999;
const EYE: Row = {
  how: 'eye',
  verdict: 'look',
  delta_centi: null,
  uncertainty_centi: null,
  diff_l: null,
  diff_a: null,
  diff_b: null,
  light: 'daylight',
};

/** What readings of colours and judgements refuse. Of each table row 1 stands, and the last is undone. */
export const ATTACKS_ON_COLOURS: readonly Attack[] = [
  ...stays('colour_reading', 3, 'a reading'),
  ...stays('pair_judgement', 2, 'a judgement'),
  ...stays('dyed_swatch', 3, 'a dyed swatch'),
  reading('of nothing', { lot_id: null }),
  reading('of two things', { swatch_id: 1 }),
  nowhere('colour_reading', 'swatch', { lot_id: null, swatch_id: NOWHERE }),
  nowhere('pair_judgement', 'swatch', { lot_id: null, swatch_id: NOWHERE }),
  nowhere('pair_judgement', 'swatch to compare', { to_lot_id: null, to_swatch_id: NOWHERE }),
  nowhere('pair_judgement', 'shade to compare', { to_lot_id: null, to_shade_id: NOWHERE }),
  judgement('of nothing', { lot_id: null }),
  judgement('of two things', { swatch_id: 1 }),
  judgement('against nothing', { to_lot_id: null }),
  judgement('against a lot and a swatch', { to_swatch_id: 1 }),
  judgement('against a lot and a shade', { to_shade_id: 1 }),
  judgement('of a lot against itself', { to_lot_id: 1 }),
  judgement('of a swatch against itself', { lot_id: null, swatch_id: 1, to_lot_id: null, to_swatch_id: 1 }),
  judgement('measured with a verdict', { verdict: 'apart' }),
  judgement('by eye without a verdict', { ...EYE, verdict: null }),
  judgement('measured without a figure', { delta_centi: null }),
  judgement('by eye with a figure', { ...EYE, delta_centi: 60 }),
  judgement('measured, of no certainty', { uncertainty_centi: null }),
  judgement('by eye as sure as measured', { ...EYE, uncertainty_centi: 80 }),
  judgement('by eye that is none', { ...EYE, verdict: 'perhaps' }),
  judgement('by eye in no light', { ...EYE, light: '' }),
  judgement('with half a difference', { diff_l: null }),
  judgement('with a difference that lacks a*', { diff_a: null }),
  judgement('with a difference that lacks b*', { diff_b: null }),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function reading(what: string, changes: Row): Attack {
  return told('colour_reading', `a reading ${what}`, put('colour_reading', changes), CHECK);
}

function judgement(what: string, changes: Row): Attack {
  return told('pair_judgement', `a judgement ${what}`, put('pair_judgement', changes), CHECK);
}

function nowhere(table: string, what: string, changes: Row): Attack {
  return told(table, `no such ${what}`, put(table, changes), /FOREIGN KEY constraint failed/);
}

/** A table of which a row is added and undone once, and nothing else. */
function stays(table: string, undoneId: number, named: string): Attack[] {
  const row = LAWFUL[table] ?? {};
  const never = (what: string) => new RegExp(`${named} is (undone, )?never ${what}`);
  return [
    told(table, 'a number below one', put(table, { id: 0 }), CHECK),
    told(table, 'its removal', [`DELETE FROM ${table} WHERE id = ${undoneId}`], never('removed')),
    told(
      table,
      'another in its place',
      [insert(table, { ...row, id: undoneId }, 'INSERT OR REPLACE')],
      never('replaced'),
    ),
    told(
      table,
      'undoing twice',
      [`UPDATE ${table} SET undone_key = 'request-w0' WHERE id = ${undoneId}`],
      /undone once/,
    ),
    ...['id', ...Object.keys(row).filter((column) => column !== 'undone_key')].map((column) =>
      told(
        table,
        `another ${column}`,
        [`UPDATE ${table} SET ${column} = ${column} WHERE id = 1`],
        never('changed'),
      ),
    ),
  ];
}
