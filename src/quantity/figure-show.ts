/** Numbers as the workroom reads them: rounding by name, decimals without idle noughts, fractions of a whole. */

/** `up` goes towards more and `down` towards less, below nought too; `near` takes the nearest, a half away from nought. */
export type Rounding = 'up' | 'down' | 'near';

/** Whole steps in `num` ÷ `den`, rounded once. `den` must be above nought. */
export function divideRounded(num: bigint, den: bigint, round: Rounding): bigint {
  if (den <= 0n) throw new RangeError('The divisor must be above nought.');
  const whole = num / den;
  const rest = num % den;
  if (rest === 0n) return whole;
  const below = num < 0n;
  if (round === 'up') return below ? whole : whole + 1n;
  if (round === 'down') return below ? whole - 1n : whole;
  const atLeastHalf = 2n * (below ? -rest : rest) >= den;
  if (!atLeastHalf) return whole;
  return below ? whole - 1n : whole + 1n;
}

/** `value`, a whole number, ÷ 10^`places` as a decimal with a dot, without idle noughts at the end: 12350 at 3 places is "12.35". */
export function showDecimal(value: bigint | number, places: number): string {
  const fixed = showFixed(value, places);
  return places === 0 ? fixed : fixed.replace(/\.?0+$/, '');
}

/** `value` ÷ 10^`places` with every place written: 1250 at 2 places is "12.50". A true minus stands before negatives. */
export function showFixed(value: bigint | number, places: number): string {
  const digits = String(value < 0 ? -value : value).padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const shown = places === 0 ? whole : `${whole}.${digits.slice(-places)}`;
  return value < 0 ? `${MINUS}${shown}` : shown;
}

/** `num` ÷ `den` as a whole and a fraction in lowest terms: "2¾", "9 1/16", "3". Neither may be negative. */
export function showMixed(num: bigint, den: bigint): string {
  if (num < 0n || den <= 0n)
    throw new RangeError('A mixed number is made of a whole and a part, neither negative.');
  const whole = num / den;
  const divisor = greatestDivisor(num % den, den);
  const [part, of] = [(num % den) / divisor, den / divisor];
  if (part === 0n) return String(whole);
  const glyph = VULGAR[`${part}/${of}`];
  if (glyph !== undefined) return whole === 0n ? glyph : `${whole}${glyph}`;
  return whole === 0n ? `${part}/${of}` : `${whole} ${part}/${of}`;
}

/** Greatest common divisor, by Euclid; neither may be negative. */
export function greatestDivisor(a: bigint, b: bigint): bigint {
  let [larger, smaller] = [a, b];
  while (smaller !== 0n) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

/** A stored quantity as a bigint. Anything that is not a safe integer is a fault of the program and throws. */
export function exactly(value: number): bigint {
  if (!Number.isSafeInteger(value))
    throw new RangeError(`A stored quantity must be a safe integer, not ${value}.`);
  return BigInt(value);
}

/** A computed quantity as a number. Beyond the safe integers it throws rather than lose a unit. */
export function stored(value: bigint): number {
  const small = Number(value);
  if (!Number.isSafeInteger(small)) throw new RangeError(`${value} is too large to be stored exactly.`);
  return small;
}

/** U+2212, as wide as a plus. */
export const MINUS = '−';

/** Put before a shown value that is not exactly the stored one. */
export const ABOUT = '≈ ';

const VULGAR: Readonly<Record<string, string>> = {
  '1/2': '½',
  '1/3': '⅓',
  '2/3': '⅔',
  '1/4': '¼',
  '3/4': '¾',
  '1/5': '⅕',
  '2/5': '⅖',
  '3/5': '⅗',
  '4/5': '⅘',
  '1/6': '⅙',
  '5/6': '⅚',
  '1/7': '⅐',
  '1/8': '⅛',
  '3/8': '⅜',
  '5/8': '⅝',
  '7/8': '⅞',
  '1/9': '⅑',
  '1/10': '⅒',
};
