import { z } from 'zod';
import type { Answer } from '../database/book.ts';
import { choiceField, optionalText } from '../kit/fields.ts';
import { invalid } from '../refusal.ts';
import type { Copier } from './copier.ts';
import { takeSecondPlace } from './second-place.ts';

export const COPIES_PATH = '/setup/copies';
const HOURS = Array.from({ length: 24 }, (_, hour) => String(hour));

export const COPY_RULES = z.strictObject({
  hour: choiceField(HOURS, 'an hour', {
    label: 'Made at',
    options: HOURS.map((hour) => ({ value: hour, label: `${hour.padStart(2, '0')}:00` })),
  }),
  second: optionalText({
    max: 500,
    label: 'Second place',
    size: 'long',
    hint: 'Its full path, on another drive or computer. Blank: none.',
  }),
});

/** Changes when copies are made and where they are carried. */
export function changeCopyRules(
  copier: Copier,
  book: string,
  { hour, second }: z.infer<typeof COPY_RULES>,
): Answer {
  const problem = second === '' ? '' : takeSecondPlace(second, book);
  if (problem) throw invalid('second', problem);
  copier.setRules({ hour: Number(hour), second: second === '' ? null : second });
  return { location: COPIES_PATH, said: 'The rules of the copies are changed.' };
}

/** Begins a copy; the page says when it is made. */
export function askForCopy(copier: Copier): Answer {
  void copier.copy();
  return { location: COPIES_PATH, said: 'A copy is being made.' };
}
