/** "1 strip", "6 strips". */
export function countOf(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "Moss", "Moss and Plum", "Moss, Plum and Gold". */
export function listed(texts: readonly string[]): string {
  const last = texts.at(-1) ?? '';
  return texts.length < 2 ? last : `${texts.slice(0, -1).join(', ')} and ${last}`;
}

/** "B1", "B1 and B2", "B1, B2 and B3"; a long list names its ends. */
export function listCodes(codes: readonly string[]): string {
  const [first = '', ...rest] = codes;
  const last = rest.pop();
  if (last === undefined) return first;
  if (rest.length > 6) return `${first} to ${last}`;
  return `${[first, ...rest].join(', ')} and ${last}`;
}
