import { z } from 'zod';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { chosenField, clothChoices, shadeChoices, supplierChoices } from '../../kit/choices.ts';
import { choiceField, lengthField, optionalDay, optionalText } from '../../kit/fields.ts';
import { supplierPath } from '../../kit/paths.ts';
import { withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { dayOf, daysBetween, showDay } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';

export const ASKED_PATH = '/orders/asked';

/** A length that a supplier keeps for the workroom, the last day included. */
export function reservationFields(reader: Reader, asker: Asker) {
  return {
    supplier_id: chosenField(supplierChoices(reader), 'a supplier', {
      label: 'At',
      blank: 'choose a supplier',
    }),
    cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'choose a cloth' }),
    shade_id: chosenField(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'choose a shade' }),
    length: lengthField(lengthUnit(asker.units), { label: 'Length' }),
    until_on: lastDay(),
    note: optionalText({ max: 500, label: 'Note' }),
  };
}

function lastDay() {
  return optionalDay({ label: 'Kept until', required: true });
}

export function reservationForm(reader: Reader, asker: Asker) {
  return z.strictObject(reservationFields(reader, asker));
}

export function reserve(
  tx: Tx,
  form: z.output<ReturnType<typeof reservationForm>>,
  { units }: Asker,
): Answer {
  const untilOn = dayToCome(tx, form.until_on);
  tx.run(
    tx.db.insertInto('reservation').values({
      supplier_id: form.supplier_id,
      cloth_id: form.cloth_id,
      shade_id: form.shade_id,
      length_ticks: form.length.value,
      typed: withUnit(form.length.typed, lengthUnit(units)),
      note: form.note,
      until_on: untilOn,
      ended: null,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return {
    location: ASKED_PATH,
    said: `${showLength(form.length.value, units, 'down')} is reserved for us until ${showDay(untilOn)}.`,
  };
}

function dayToCome(tx: Tx, untilOn: string | null): string {
  if (untilOn === null) throw invalid('until_on', 'Kept until: enter the last day.');
  if (untilOn < dayOf(tx.at)) throw invalid('until_on', 'Kept until: enter today or a day to come.');
  return untilOn;
}

/** What becomes of a reservation: it is ordered, let go, taken up again, or kept longer. */
export const RESERVATION_STEP = z.strictObject({
  step: choiceField(['ordered', 'let go', 'again', 'longer'], 'what becomes of it'),
  until_on: lastDay(),
});

export function stepReservation(tx: Tx, id: number, form: z.output<typeof RESERVATION_STEP>): Answer {
  const row = tx.first(tx.db.selectFrom('reservation').select('ended').where('id', '=', id));
  if (!row) throw unknown('such reservation');
  const isOpen = row.ended === null;
  if (isOpen === (form.step === 'again'))
    throw conflict(
      isOpen ? 'It is reserved already.' : 'It is not reserved any more: reserve it again first.',
    );
  const set =
    form.step === 'longer'
      ? { until_on: dayToCome(tx, form.until_on) }
      : { ended: form.step === 'again' ? null : form.step };
  tx.run(tx.db.updateTable('reservation').set(set).where('id', '=', id));
  const said = {
    ordered: 'It is ordered: the reservation has ended.',
    'let go': 'It is released: the supplier may sell it.',
    again: 'It is reserved again.',
    longer: `It is reserved until ${form.until_on === null ? '' : showDay(form.until_on)}.`,
  }[form.step];
  return { location: ASKED_PATH, said };
}

const reserved = prepared((db) =>
  db
    .selectFrom('reservation')
    .innerJoin('supplier', 'supplier.id', 'reservation.supplier_id')
    .innerJoin('cloth', 'cloth.id', 'reservation.cloth_id')
    .innerJoin('shade', 'shade.id', 'reservation.shade_id')
    .selectAll('reservation')
    .select(['supplier.name as supplier', 'cloth.name as cloth', 'shade.name', 'lab_l', 'lab_a', 'lab_b'])
    .orderBy('until_on')
    .orderBy('reservation.id'),
);

/** A reservation as pages tell it. */
export interface ReservationView {
  readonly id: number;
  readonly supplier: { readonly name: string; readonly href: string };
  readonly cloth: string;
  readonly chip: Chip;
  readonly length: string;
  readonly note: string;
  readonly until: string;
  readonly untilOn: string;
  /** "3 days left", "today is the last day", "ran out 2 days ago" */
  readonly left: string;
  /** whether it ran out, or does so within three days (our rule): time enough to order or to ask for longer */
  readonly isNear: boolean;
  /** '' while it is kept */
  readonly ended: string;
}

/** What is kept for the workroom, the first to run out first. */
export function readReservations(reader: Reader, { units }: Asker, today: string): ReservationView[] {
  return reader.all(reserved()).map((row) => {
    const days = daysBetween(today, row.until_on);
    return {
      id: row.id,
      supplier: { name: row.supplier, href: supplierPath(row.supplier_id) },
      cloth: row.cloth,
      chip: shadeChip(row),
      length: showLength(row.length_ticks, units, 'down'),
      note: row.note,
      until: showDay(row.until_on),
      untilOn: row.until_on,
      left: sayLeft(days),
      isNear: days <= 3,
      ended: row.ended ?? '',
    };
  });
}

/** Those that are still kept. */
export function readKeptForUs(reader: Reader, asker: Asker, today: string): ReservationView[] {
  return readReservations(reader, asker, today).filter(({ ended }) => ended === '');
}

function sayLeft(days: number): string {
  if (days < 0) return `ran out ${countOf(-days, 'day', 'days')} ago`;
  return days === 0 ? 'today is the last day' : `${countOf(days, 'day', 'days')} left`;
}
