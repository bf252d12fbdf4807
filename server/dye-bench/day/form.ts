import { z } from 'zod';
import type { Reader } from '../../database/book.ts';
import { chosenField } from '../../kit/choices.ts';
import { field, optionalDay, textField, tickField, wholeField } from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { numberedRows } from '../numbered-rows.ts';
import { vesselChoices } from '../vessels/store.ts';

/** Baths in one form at most. */
export const MOST_BATHS_IN_DAY = 40;

/** When each bath of a day begins and in which pot; a blank time is no plan. */
export function dayForm(reader: Reader) {
  const row = {
    batch: textField({ max: 40, what: 'The batch' }),
    bath: wholeField({ min: 1, max: 100 }),
    vessel_id: chosenField(vesselChoices(reader), 'a pot', { label: 'Pot' }),
    begins: asked(
      field((typed, refuse): string | null => readClock(typed, refuse)),
      { label: 'Begins at', size: 'short', maxlength: 8, required: false },
    ),
  };
  return z.strictObject({
    on: optionalDay({ label: 'Day' }),
    baths: numberedRows(row, { min: 1, max: MOST_BATHS_IN_DAY, what: 'baths' }),
    fit: tickField({
      label: 'Fit in the baths without a time',
    }),
  });
}

export type DayForm = z.output<ReturnType<typeof dayForm>>;

/** "9", "9:30", "09.30", "0930" as "09:30"; null where it is blank. */
function readClock(typed: string, refuse: (message: string) => never): string | null {
  const text = typed.trim();
  if (text === '') return null;
  const read = /^(\d{1,2})(?:[:.h]?(\d{2}))?$/i.exec(text);
  const [hours, minutes] = [Number(read?.[1] ?? 99), Number(read?.[2] ?? 0)];
  if (hours > 23 || minutes > 59) return refuse('Begins at: enter a time such as 9:30.');
  return `${String(hours).padStart(2, '0')}:${String(minutes).padStart(2, '0')}`;
}
