import { address, queryText } from '../../kit/address.ts';
import { tierPath } from '../../kit/paths.ts';

/** The fields of a tier that an answer can be taken over into. */
const FIELDS = ['fullness', 'depth', 'strip_length'] as const;
export type TakenField = (typeof FIELDS)[number];

/** What is in the way of an empty field: an address cannot tell it from one that is not asked for. */
const BLANK = 'whole';

/** The form of a tier with an answer filled in; nothing is saved until the form is. */
export function takeOverPath(code: string, tierId: number, field: TakenField, text: string): string {
  return address(tierPath(code, tierId), { [field]: text === '' ? BLANK : text });
}

/** The answers in an address of a tier's form; null where there are none. */
export function takenOver(query: unknown): Readonly<Record<string, string>> | null {
  const found = FIELDS.flatMap((field) => {
    const text = queryText(query, field);
    return text === '' ? [] : [[field, text === BLANK ? '' : text]];
  });
  return found.length === 0 ? null : Object.fromEntries(found);
}
