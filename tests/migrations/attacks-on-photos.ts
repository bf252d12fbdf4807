import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const FREE_SET = 3;
const OTHER_HASH = 'c'.repeat(64);

/** What photos of cloth refuse. Photo 2 was left out, photo 3 is not marked, of set 3 there is none. */
export const ATTACKS_ON_PHOTOS: readonly Attack[] = [
  ...keeps('photo_set', /stay of what they were taken of/, `id = ${FREE_SET}`, { id: FREE_SET }),
  ...keeps('photo_marking', /a marking stays/, 'id = 1', { id: 1 }),
  ...keeps('photo_result', /a result stays/, "request_key = 'request-0'", { request_key: 'request-0' }),
  ...['photo_set', 'photo', 'photo_marking'].map((table) =>
    told(table, 'a number below one', put(table, { id: 0 }), CHECK),
  ),
  set('of nothing', { lot_id: null }),
  set('of two things', { swatch_id: 1 }),
  set('of a pair with nothing beside it', { to_lot_id: null }),
  set('of a pair with a lot and a swatch beside it', { to_swatch_id: 1 }),
  set('of a pair with a lot and a shade beside it', { to_shade_id: 1 }),
  set('of one cloth with a lot beside it', { kind: 'alone' }),
  set('of a kind that is none', { kind: 'heap', to_lot_id: null }),
  set('of a lot beside itself', { to_lot_id: 1 }),
  set('of a swatch beside itself', { lot_id: null, swatch_id: 1, to_lot_id: null, to_swatch_id: 1 }),
  set('of a pair over nothing', { backing: null }),
  set('over white and black and over white', { kind: 'backings', to_lot_id: null }),
  ...['to_swatch_id', 'to_shade_id'].map((column) =>
    told(
      'photo_set',
      `no such ${column}`,
      put('photo_set', { to_lot_id: null, [column]: 999_999 }),
      /FOREIGN KEY/,
    ),
  ),
  told(
    'photo_set',
    'no such swatch_id',
    put('photo_set', { lot_id: null, swatch_id: 999_999 }),
    /FOREIGN KEY/,
  ),
  told('photo', 'a name that is no hash', put('photo', { sha256: `${'c'.repeat(60)}/../` }), CHECK),
  told('photo', 'a name that is too short', put('photo', { sha256: 'c'.repeat(63) }), CHECK),
  told('photo', 'its removal', ['DELETE FROM photo WHERE id = 2'], /never removed/),
  told('photo', 'another in its place', [replaced({ id: 2, sha256: OTHER_HASH })], /is there once/),
  told('photo', 'the same in its set again', [replaced({ sha256: 'd'.repeat(64) })], /is there once/),
  told(
    'photo',
    'the same file twice in a set',
    ['DROP TRIGGER photo_never_replaced', ...put('photo', { sha256: 'a'.repeat(64) })],
    /UNIQUE/,
  ),
  told(
    'photo',
    'leaving out twice',
    ["UPDATE photo SET left_out_key = 'request-0' WHERE id = 2"],
    /left out once/,
  ),
  told(
    'photo',
    'leaving out by no request',
    ["UPDATE photo SET left_out_key = 'request-nowhere' WHERE id = 1"],
    /FOREIGN KEY/,
  ),
  ...['id', ...Object.keys(LAWFUL.photo ?? {}).filter((column) => column !== 'left_out_key')].map((column) =>
    told('photo', `another ${column}`, [`UPDATE photo SET ${column} = ${column}`], /never changed/),
  ),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function set(what: string, changes: Row): Attack {
  return told('photo_set', `photos ${what}`, put('photo_set', changes), CHECK);
}

function replaced(changes: Row): string {
  return insert('photo', { ...LAWFUL.photo, ...changes }, 'INSERT OR REPLACE');
}

/** A table of which no row is ever changed, removed or replaced. */
function keeps(table: string, refused: RegExp, where: string, key: Row): Attack[] {
  const [column = ''] = Object.keys(LAWFUL[table] ?? {});
  return [
    told(table, 'a change', [`UPDATE ${table} SET ${column} = ${column} WHERE ${where}`], refused),
    told(table, 'its removal', [`DELETE FROM ${table} WHERE ${where}`], refused),
    told(
      table,
      'another in its place',
      [insert(table, { ...LAWFUL[table], ...key }, 'INSERT OR REPLACE')],
      refused,
    ),
  ];
}
