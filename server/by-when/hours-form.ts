import { z } from 'zod';
import { readHours } from '../../src/by-when/hours.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import {
  optionalDay,
  optionalId,
  optionalReading,
  optionalText,
  optionalWhole,
  tickField,
  wholeField,
} from '../kit/fields.ts';
import { showDay } from '../kit/when.ts';
import { invalid, unknown } from '../refusal.ts';
import { readSewers, WEEK_BITS } from './settings.ts';

export const HOURS_PATH = '/by-when/hours';
export const SEWERS_PATH = '/by-when/people';
export const CLOSED_PATH = '/by-when/closed-days';

/** A hundred tables for a day. */
const MOST_TABLE_MINUTES = 14_400;
const DAYS = { min: 0, max: 60, unit: 'days', size: 'short' } as const;

const WEEK_FIELDS = {
  mon: tickField({ label: 'Monday' }),
  tue: tickField({ label: 'Tuesday' }),
  wed: tickField({ label: 'Wednesday' }),
  thu: tickField({ label: 'Thursday' }),
  fri: tickField({ label: 'Friday' }),
  sat: tickField({ label: 'Saturday' }),
  sun: tickField({ label: 'Sunday' }),
};

export const WEEK_NAMES = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** What can be done in a day, and what passes between the steps of a garment. */
export const WORK_DAY_FIELDS = {
  ...WEEK_FIELDS,
  table: optionalReading((typed) => readTableHours(typed), {
    label: 'Cutting table, hours a day',
    unit: 'h',
    hint: 'All tables together.',
  }),
  strips: optionalWhole({
    min: 1,
    max: 6000,
    label: 'Strips cut in an hour',
    hint: 'Blank: as measured.',
  }),
  baths: optionalWhole({
    min: 1,
    max: 24,
    label: 'Baths a pot takes in a day',
    hint: 'Blank: 1.',
  }),
  drying: wholeField({
    ...DAYS,
    label: 'Drying after a dye bath',
    hint: 'Calendar days. 1: cut the next day.',
  }),
  swatch: wholeField({
    ...DAYS,
    label: 'Swatch and its approval',
    hint: 'Working days.',
  }),
  receiving: wholeField({
    ...DAYS,
    label: 'Receiving, inspecting, washing',
    hint: 'Working days, after a delivery.',
  }),
  spare: wholeField({
    ...DAYS,
    label: 'Spare for a delivery',
    hint: 'Calendar days, for a supplier with no record.',
  }),
  finishing: wholeField({
    ...DAYS,
    label: 'From the last fitting to the due day',
    hint: 'Working days.',
  }),
};

function readTableHours(typed: string) {
  return readHours(typed, MOST_TABLE_MINUTES);
}

export const WORK_DAY_FORM = z.strictObject(WORK_DAY_FIELDS);

/** Keeps the workroom's days. @throws {Refusal} invalid where it is open on no day */
export function changeWorkDay(tx: Tx, form: z.output<typeof WORK_DAY_FORM>): Answer {
  const openDays = WEEK_NAMES.reduce((sum, name, at) => sum + (form[name] ? (WEEK_BITS[at] ?? 0) : 0), 0);
  if (openDays === 0) throw invalid('mon', 'Choose at least one day on which you are open.');
  const values = {
    open_days: openDays,
    table_minutes: form.table || null,
    strips_hour: form.strips?.value ?? null,
    pot_baths: form.baths?.value ?? null,
    drying_days: form.drying.value,
    swatch_days: form.swatch.value,
    receiving_days: form.receiving.value,
    spare_days: form.spare.value,
    finishing_days: form.finishing.value,
  };
  tx.run(
    tx.db
      .insertInto('work_day')
      .values({ id: 1, ...values })
      .onConflict((row) => row.column('id').doUpdateSet(values)),
  );
  return { location: HOURS_PATH, said: 'Days and hours of the workroom are changed.' };
}

/** What each person sews in a day; blank is nothing. */
export function sewerFields(reader: Reader) {
  return Object.fromEntries(
    readSewers(reader).map(({ id, name }) => [
      `person_${id}`,
      optionalReading((typed) => readHours(typed), { label: name, unit: 'h a day' }),
    ]),
  );
}

export const sewersForm = (reader: Reader) => z.strictObject(sewerFields(reader));

export function changeSewers(tx: Tx, form: Readonly<Record<string, number | null>>): Answer {
  for (const { id } of readSewers(tx)) {
    const minutes = form[`person_${id}`];
    tx.run(tx.db.deleteFrom('person_hours').where('person_id', '=', id));
    if (minutes) tx.run(tx.db.insertInto('person_hours').values({ person_id: id, sewing_minutes: minutes }));
  }
  return { location: `${HOURS_PATH}#people`, said: 'Hours of sewing are changed.' };
}

/** Days on which the workroom is closed, or somebody is away. */
export function closedFields(reader: Reader) {
  const people = reader.all(
    reader.db.selectFrom('person').select(['id', 'name']).where('left_at', 'is', null).orderBy('name'),
  );
  return {
    from: optionalDay({ label: 'From', required: true }),
    to: optionalDay({ label: 'To' }),
    why: optionalText({ max: 60, label: 'Why' }),
    person_id: optionalId('who is away', {
      label: 'Who',
      options: [
        { value: '', label: 'the whole workroom' },
        ...people.map(({ id, name }) => ({ value: String(id), label: name })),
      ],
    }),
  };
}

export const closedForm = (reader: Reader) => z.strictObject(closedFields(reader));

/** Longer than any closing: a year that was mistyped. */
const MOST_CLOSED_DAYS = 366;

export function addClosedDays(tx: Tx, form: z.output<ReturnType<typeof closedForm>>): Answer {
  if (form.from === null) throw invalid('from', 'Enter the first day, such as 2026-12-24.');
  const to = form.to ?? form.from;
  if (to < form.from) throw invalid('to', 'Enter a day that is not before the first.');
  const days = (Date.parse(to) - Date.parse(form.from)) / 86_400_000;
  if (days > MOST_CLOSED_DAYS) throw invalid('to', 'Enter a day within a year of the first.');
  if (
    form.person_id !== null &&
    !tx.first(tx.db.selectFrom('person').select('id').where('id', '=', form.person_id))
  )
    throw invalid('person_id', 'Choose a person of the list.');
  tx.run(
    tx.db
      .insertInto('closed_day')
      .values({ from_on: form.from, to_on: to, why: form.why, person_id: form.person_id }),
  );
  const span = to === form.from ? showDay(to) : `${showDay(form.from)} to ${showDay(to)}`;
  return { location: `${HOURS_PATH}#closed`, said: `Added to the closed days: ${span}.` };
}

/** Takes days off the list again. @throws {Refusal} unknown where they are not there any more */
export function removeClosedDays(tx: Tx, id: number): Answer {
  const row = tx.first(tx.db.selectFrom('closed_day').selectAll().where('id', '=', id));
  if (!row) throw unknown('such closed days');
  tx.run(tx.db.deleteFrom('closed_day').where('id', '=', id));
  return { location: `${HOURS_PATH}#closed`, said: `Open again from ${showDay(row.from_on)}.` };
}
