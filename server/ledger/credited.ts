import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { conflict, type Refusal } from '../refusal.ts';

const credited = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('return_credit')
    .innerJoin('entry', 'entry.id', 'return_credit.entry_id')
    .select(['entry.request_key as key', 'return_credit.number'])
    .where('entry.request_key', 'in', inList(keys))
    .where('come_minor', 'is not', null),
);

/** Of some requests those that sent something back which credit came for, with the number of the credit note. */
export function findCredited(reader: Reader, keys: readonly string[]) {
  return reader.all(credited(keys));
}

export function refuseCredited(number: string): Refusal {
  const credit = number === '' ? 'credit' : `credit ${number}`;
  return conflict(`This cannot be undone: ${credit} came for it. Take the credit back first.`, {
    text: 'Sent back',
    href: '/orders/returns',
  });
}
