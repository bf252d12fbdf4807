// The pages are in English. Intl knows which numbers take the singular, and how a list is joined.
const PLURAL = new Intl.PluralRules('en-GB');
const LIST = new Intl.ListFormat('en-GB', { type: 'conjunction' });

/** "strip" of 1, "strips" of 6: the word alone, where the number stands elsewhere or is not said. */
export function wordFor(count: number, one: string, many: string): string {
  return PLURAL.select(count) === 'one' ? one : many;
}

/** "1 strip", "6 strips". */
export function countOf(count: number, one: string, many: string): string {
  return `${count} ${wordFor(count, one, many)}`;
}

/** "Moss", "Moss and Plum", "Moss, Plum and Gold". */
export function listed(texts: readonly string[]): string {
  return LIST.format(texts);
}

/** "B1", "B1 and B2", "B1, B2 and B3"; a long list names its ends. */
export function listCodes(codes: readonly string[]): string {
  return codes.length > 8 ? `${codes[0]} to ${codes.at(-1)}` : listed(codes);
}
