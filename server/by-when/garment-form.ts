import { z } from 'zod';
import { readHours } from '../../src/by-when/hours.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import type { Garment } from '../garments/garment/records.ts';
import { choiceField, optionalDay, optionalReading } from '../kit/fields.ts';
import { daysPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { conflict, invalid } from '../refusal.ts';

/** Ten thousand hours: no garment takes as long. */
const MOST_SEWING_MINUTES = 600_000;

/** What is known of a garment's days besides its tiers. */
export const GARMENT_WORK_FIELDS = {
  sewing: optionalReading((typed) => readHours(typed, MOST_SEWING_MINUTES), {
    label: 'Sewing, all of it',
    unit: 'h',
    hint: 'Blank: as worked out.',
  }),
  fitting: optionalDay({
    label: 'Last fitting on',
    hint: 'Blank: as Days and hours say.',
  }),
};

export const GARMENT_WORK_FORM = z.strictObject(GARMENT_WORK_FIELDS);

/** Keeps a garment's own hours and its fitting. @throws {Refusal} finished, or a fitting after the due day */
export function changeGarmentWork(
  tx: Tx,
  garment: Garment,
  form: z.output<typeof GARMENT_WORK_FORM>,
): Answer {
  refuseFinished(garment);
  if (form.fitting !== null && garment.dueOn !== null && form.fitting > garment.dueOn)
    throw invalid('fitting', `Enter a day up to ${showDay(garment.dueOn)}, when it is due.`);
  const values = { sewing_minutes: form.sewing || null, fitting_on: form.fitting };
  tx.run(tx.db.deleteFrom('garment_work').where('garment_id', '=', garment.id));
  if (values.sewing_minutes !== null || values.fitting_on !== null)
    tx.run(tx.db.insertInto('garment_work').values({ garment_id: garment.id, ...values }));
  return { location: daysPath(garment.code), said: `The days of ${garment.code} are worked out again.` };
}

export const TAP_FORM = z.strictObject({
  work: choiceField(['swatch', 'dye', 'cut', 'sew', 'fit'], 'the work'),
  tap: choiceField(['begun', 'left', 'done'], 'begun, left or done'),
});

const TAP_WORDS = { begun: 'begun', left: 'left for now', done: 'done' };
const WORK_WORDS = {
  swatch: 'The swatch',
  dye: 'Dyeing',
  cut: 'Cutting',
  sew: 'Sewing',
  fit: 'The last fitting',
};

/** Somebody begins a work, leaves it or is done with it. @throws {Refusal} a finished garment */
export function addTap(tx: Tx, garment: Garment, { work, tap }: z.output<typeof TAP_FORM>): Answer {
  refuseFinished(garment);
  tx.run(
    tx.db
      .insertInto('work_tap')
      .values({ garment_id: garment.id, work, tap, at: tx.doneAt, person_id: tx.personId }),
  );
  return {
    location: `${daysPath(garment.code)}#work`,
    said: `${WORK_WORDS[work]} of ${garment.code}: ${TAP_WORDS[tap]}.`,
  };
}

function refuseFinished({ code, finishedAt }: Garment): void {
  if (finishedAt !== null) throw conflict(`${code} is finished. Reopen it to plan its days.`);
}

/** What is kept of a garment's own hours and its fitting. */
export function readGarmentWork(reader: Reader, garmentId: number) {
  const row = reader.first(
    reader.db.selectFrom('garment_work').selectAll().where('garment_id', '=', garmentId),
  );
  return { sewingMinutes: row?.sewing_minutes ?? null, fittingOn: row?.fitting_on ?? null };
}
