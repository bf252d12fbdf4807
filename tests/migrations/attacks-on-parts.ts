import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, literal } from './sql.ts';

const FIRST = put('garment_part', { id: 5 });
const AGAIN = insert('garment_part', { ...LAWFUL.garment_part, id: 5 }, 'INSERT OR REPLACE');

/** What may not be done to the parts of a garment. */
export const ATTACKS_ON_PARTS: readonly Attack[] = [
  told('a number below one', put('garment_part', { id: 0 }), /CHECK constraint failed/),
  told('another in its place', [...FIRST, AGAIN], /never removed/),
  told('its removal', [...FIRST, 'DELETE FROM garment_part WHERE id = 5'], /never removed/),
  ...Object.entries({ id: 6, garment_id: 2, kind: 'trim' }).map(([column, value]) =>
    told(
      `another ${column} later`,
      [...put('garment'), ...FIRST, `UPDATE garment_part SET ${column} = ${literal(value)} WHERE id = 5`],
      /stays what it is/,
    ),
  ),
];

const ELSEWHERE = [...put('garment'), ...put('garment_part', { id: 7, garment_id: 2 })];
const OF_PART = (partId: number | null) => `UPDATE tier SET garment_part_id = ${partId} WHERE id = 3`;

/** What may not be done to the row that strips of a part are held and cut for: tier 3 is that of part 1. */
export const ATTACKS_ON_PARTS_CUT: readonly Attack[] = [
  of(
    'tier',
    'a part of another garment',
    [...ELSEWHERE, ...put('tier', { garment_part_id: 7 })],
    /is cut for its garment/,
  ),
  of('tier', 'another part later', [OF_PART(2)], /stays for it/),
  of('tier', 'no part later', [OF_PART(null)], /stays for it/),
  of('tier', 'a part later', ['UPDATE tier SET garment_part_id = 2 WHERE id = 2'], /stays for it/),
  of(
    'tier',
    'another garment later',
    [...put('garment'), 'UPDATE tier SET garment_id = 2 WHERE id = 3'],
    /stays for it/,
  ),
  of('tier', 'a size of a tier', put('tier', { part_size: 'facing' }), /CHECK constraint failed/),
  of(
    'tier',
    'a size of a long name',
    put('tier', { garment_part_id: 1, part_size: 'x'.repeat(41) }),
    /CHECK constraint failed/,
  ),
  of('tier', 'another size later', ["UPDATE tier SET part_size = 'lap' WHERE id = 3"], /stays for it/),
  of('tier', 'a size of a part twice', put('tier', { garment_part_id: 1 }), /UNIQUE constraint failed/),
  of('colour_block', 'of a part', put('colour_block', { tier_id: 3 }), /no colour blocks/),
];

const MEASURE = put('made_measure', { id: 5 });
const MEASURED_AGAIN = insert('made_measure', { ...LAWFUL.made_measure, id: 5 }, 'INSERT OR REPLACE');

/** What may not be done to a measure on the stand: only how far it was followed is written later. */
export const ATTACKS_ON_MEASURES: readonly Attack[] = [
  of('made_measure', 'a number below one', put('made_measure', { id: 0 }), /CHECK constraint failed/),
  of('made_measure', 'another in its place', [...MEASURE, MEASURED_AGAIN], /never removed/),
  of('made_measure', 'its removal', [...MEASURE, 'DELETE FROM made_measure'], /never removed/),
  ...Object.entries({
    id: 6,
    tier_id: 2,
    lower_ticks: 101,
    note: 'other',
    typed: '{"a":"1"}',
    at: '2026-03-03T12:00:00.000Z',
    person_id: 2,
  }).map(([column, value]) =>
    of(
      'made_measure',
      `another ${column} later`,
      [...MEASURE, `UPDATE made_measure SET ${column} = ${literal(value)} WHERE id = 5`],
      /never changed/,
    ),
  ),
];

const TEST = put('wash_test', { id: 5 });
const TESTED_AGAIN = insert('wash_test', { ...LAWFUL.wash_test, id: 5 }, 'INSERT OR REPLACE');

/** What may not be done to a wash test. */
export const ATTACKS_ON_WASH_TESTS: readonly Attack[] = [
  of('wash_test', 'a number below one', put('wash_test', { id: 0 }), /CHECK constraint failed/),
  of('wash_test', 'another in its place', [...TEST, TESTED_AGAIN], /never removed/),
  of('wash_test', 'its removal', [...TEST, 'DELETE FROM wash_test'], /never removed/),
  of('wash_test', 'a change', [...TEST, "UPDATE wash_test SET treatment = 'x'"], /never changed/),
];

const BACK = put('pleating_back', { id: 5 });

/** What may not be done to what is at a pleater. Pleating 1, of use 2, is there. */
export const ATTACKS_ON_PLEATING: readonly Attack[] = [
  of('pleating', 'a number below one', put('pleating', { id: 0 }), /CHECK constraint failed/),
  of('pleating', 'by nobody', put('pleating', { pleater: '' }), /CHECK constraint failed/),
  of(
    'pleating',
    'back before it went',
    put('pleating', { expected_on: '2026-02-01' }),
    /CHECK constraint failed/,
  ),
  of('pleating', 'its removal', [...put('pleating', { id: 5 }), 'DELETE FROM pleating'], /never removed/),
  of(
    'pleating',
    'a change',
    [...put('pleating', { id: 5 }), "UPDATE pleating SET asked = 'x'"],
    /never changed/,
  ),
  of(
    'pleating',
    'another in its place',
    [insert('pleating', { ...LAWFUL.pleating, id: 1 }, 'INSERT OR REPLACE')],
    /never removed/,
  ),
  of(
    'pleating',
    'another of its use',
    [...put('pleating', { id: 5 }), insert('pleating', { ...LAWFUL.pleating, id: 6 }, 'INSERT OR REPLACE')],
    /never removed/,
  ),
  of(
    'pleating',
    'a second of its use',
    ['DROP TRIGGER pleating_never_replaced', ...put('pleating', { other_use_id: 2 })],
    /UNIQUE constraint failed/,
  ),
  of('pleating_back', 'a number below one', put('pleating_back', { id: 0 }), /CHECK constraint failed/),
  of('pleating_back', 'its removal', [...BACK, 'DELETE FROM pleating_back'], /never removed/),
  of('pleating_back', 'a change', [...BACK, 'UPDATE pleating_back SET width_ticks = 5'], /never changed/),
  of(
    'pleating_back',
    'another in its place',
    [...BACK, insert('pleating_back', { ...LAWFUL.pleating_back, id: 5 }, 'INSERT OR REPLACE')],
    /never removed/,
  ),
];

const OUT = { back_on: null, back_length_ticks: null, back_width_ticks: null };
const SENT = put('strips_pleated', { id: 5, ...OUT });

/** What may not be done to strips that were sent to a pleater. */
export const ATTACKS_ON_STRIPS_PLEATED: readonly Attack[] = [
  ...Object.entries({
    'a number below one': { id: 0 },
    'by nobody': { pleater: '' },
    'back before it was expected to go': { sent_on: '2026-03-11', back_on: '2026-03-12' },
    'back before it went': { back_on: '2026-02-28' },
    'a day back without a length': { back_length_ticks: null },
    'a day back without a width': { back_width_ticks: null },
    'called off once it was back': { called_off: 1 },
    'called off twice': { ...OUT, called_off: 2 },
  }).map(([what, row]) => of('strips_pleated', what, put('strips_pleated', row), /CHECK constraint failed/)),
  ...Object.entries({
    id: 6,
    tier_id: 2,
    strips: 5,
    pleater: 'Other',
    asked: 'x',
    length_ticks: 101,
    width_ticks: 101,
    sent_on: '2026-02-28',
    expected_on: '2026-03-11',
  }).map(([column, value]) =>
    of(
      'strips_pleated',
      `another ${column} later`,
      [...SENT, `UPDATE strips_pleated SET ${column} = ${literal(value)} WHERE id = 5`],
      /never changed/,
    ),
  ),
  of('strips_pleated', 'its removal', [...SENT, 'DELETE FROM strips_pleated'], /never removed/),
  of(
    'strips_pleated',
    'another in its place',
    [...SENT, insert('strips_pleated', { ...LAWFUL.strips_pleated, id: 5 }, 'INSERT OR REPLACE')],
    /never replaced/,
  ),
];

function told(what: string, statements: readonly string[], refused: RegExp): Attack {
  return of('garment_part', what, statements, refused);
}

function of(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}
