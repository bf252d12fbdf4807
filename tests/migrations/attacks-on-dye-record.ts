import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

/** A recipe that follows none. */
const FIRST = { name: 'Woad on wool', version: 1, follows_id: null };

const CHECK = /CHECK constraint failed/;

/** What the log of a batch and its tie to the batch that it repeats refuse. */
export const ATTACKS_ON_DYE_RECORD: readonly Attack[] = [
  ...onTable('batch_log', [
    ['a change', ["UPDATE batch_log SET note = 'x'"], /never changed/],
    ['its removal', ['DELETE FROM batch_log WHERE id = 2'], /never removed/],
    ['another in its place', [replaced('batch_log', { id: 2 })], /never replaced/],
    ['another taking back the same', [replaced('batch_log', takingBack(1))], /never replaced/],
    ['a kind of its own', put('batch_log', { kind: 'guessed' }), CHECK],
    ['a temperature of nothing', put('batch_log', { figure: null }), CHECK],
    ['a swatch of neither side', put('batch_log', { kind: 'swatch', what: 'beside' }), CHECK],
    ['a verdict that is none', put('batch_log', { kind: 'result', what: 'perhaps' }), CHECK],
    ...['lab_l', 'lab_a', 'lab_b', 'lab_how'].map(
      (column): Told => [`a colour without ${column}`, put('batch_log', { [column]: null }), CHECK],
    ),
    ['taking back nothing', put('batch_log', { kind: 'undone' }), CHECK],
    ['taking back beside a figure', put('batch_log', { undoes_id: 2, batch_id: 2 }), CHECK],
    ['taking back for another batch', put('batch_log', takingBack(2)), /its own batch/],
    ['taking back what takes back', put('batch_log', takingBack(3)), /its own batch/],
    ['taking back what was never told', unguarded('takes_back_its_own', takingBack(999)), /FOREIGN KEY/],
    ['taking back twice', unguarded('never_replaced', takingBack(1)), /UNIQUE/],
  ]),
  ...onTable('batch_log_auxiliary', [
    [
      'a change',
      [...put('batch_log_auxiliary'), "UPDATE batch_log_auxiliary SET kind = 'x'"],
      /never changed/,
    ],
    ['its removal', [...put('batch_log_auxiliary'), 'DELETE FROM batch_log_auxiliary'], /never removed/],
    [
      'another in its place',
      [...put('batch_log_auxiliary'), replaced('batch_log_auxiliary', {})],
      /never replaced/,
    ],
  ]),
  ...onTable('batch_repeat', [
    ['itself', put('batch_repeat', { of_id: 2 }), CHECK],
    ['a change', [...put('batch_repeat'), 'UPDATE batch_repeat SET of_id = 1'], /repeats what it repeats/],
    ['its removal', [...put('batch_repeat'), 'DELETE FROM batch_repeat'], /repeats what it repeats/],
    [
      'another in its place',
      [...put('batch_repeat'), replaced('batch_repeat', {})],
      /repeats what it repeats/,
    ],
  ]),
  ...onTable('recipe_copy', [
    ['itself', put('recipe_copy', { of_id: 2 }), CHECK],
    ['a change', [...put('recipe_copy'), 'UPDATE recipe_copy SET of_id = 3'], /was copied from/],
    ['its removal', [...put('recipe_copy'), 'DELETE FROM recipe_copy'], /was copied from/],
    ['another in its place', [...put('recipe_copy'), replaced('recipe_copy', {})], /was copied from/],
  ]),
  ...onTable('recipe_fixing', [
    ['a way that there is not', put('recipe_fixing', { how: 'sun' }), CHECK],
    ['a change', [...put('recipe_fixing'), 'UPDATE recipe_fixing SET seconds = 3'], /never changed/],
    ['its removal', [...put('recipe_fixing'), 'DELETE FROM recipe_fixing'], /never changed/],
    ['another in its place', [...put('recipe_fixing'), replaced('recipe_fixing', {})], /never changed/],
    ['one for a recipe that was used', put('recipe_fixing', { recipe_id: 1 }), /never changed/],
  ]),
  ...onTable('recipe', [
    ['a version for another shade', put('recipe', { shade_id: 2 }), /for the shade of the one before/],
    ['a shade that there is not', put('recipe', { ...FIRST, shade_id: 999 }), /FOREIGN KEY/],
    ['no fibre', put('recipe', { ...FIRST, fibre: '' }), CHECK],
    ['a fibre of 61 letters', put('recipe', { ...FIRST, fibre: 'x'.repeat(61) }), CHECK],
    ['a version for another fibre', put('recipe', { fibre: 'wool' }), /for the fibre of the one before/],
  ]),
];

type Told = readonly [what: string, statements: readonly string[], refused: RegExp];

function onTable(table: string, told: readonly Told[]): Attack[] {
  return told.map(([what, statements, refused]) => ({
    name: `${table}: ${what}`,
    table,
    statements,
    refused,
  }));
}

function takingBack(id: number): Row {
  return { kind: 'undone', figure: null, undoes_id: id };
}

function replaced(table: string, changes: Row): string {
  return insert(table, { ...LAWFUL[table], ...changes }, 'INSERT OR REPLACE');
}

function unguarded(trigger: string, changes: Row): string[] {
  return [`DROP TRIGGER batch_log_${trigger}`, ...put('batch_log', changes)];
}
