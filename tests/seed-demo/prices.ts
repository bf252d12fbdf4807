/** An amount of money as the program writes it, in the currencies of the invented workroom and its suppliers. */
const MONEY = /[€£$¥]\s?\d|\b(?:EUR|GBP|USD)\s?\d|\d\s?(?:EUR|GBP|USD)\b/;

/** What tells a price in an answer: an amount, or a figure under a name of one. */
export function priceIn(text: string, accept: string): string | undefined {
  const named = /"\w*(?:[cC]ost|[pP]rice|[pP]aid)\w*":\s*(?:"[^"]*\d[^"]*"|[1-9]\d*)/.exec(text)?.[0];
  return MONEY.exec(text)?.[0] ?? (accept.endsWith('json') ? named : undefined);
}
