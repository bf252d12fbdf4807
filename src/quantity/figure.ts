import { greatestDivisor, showMixed } from './figure-show.ts';
import { refused } from './reading.ts';

/**
 * A number as a person wrote it, kept as an exact fraction in lowest terms, never negative.
 *
 * `shown` writes it back in one form ("2¾", "1.5", "1500"); `places` counts the decimals that were typed.
 */
export interface Figure {
  readonly num: bigint;
  readonly den: bigint;
  readonly shown: string;
  readonly form: 'whole' | 'decimal' | 'fraction';
  readonly places: number;
}

export type Refused = ReturnType<typeof refused>;
export type FigureReading = { readonly ok: true; readonly figure: Figure } | Refused;
export type Tidied = { readonly ok: true; readonly text: string } | Refused;

/** Nothing that is measured or priced needs more. A longer text is refused before any other work is done on it. */
export const MOST_CHARACTERS = 64;

/** A raised, lowered or ringed figure that is neither a fraction nor the power of a unit: plain forms would join it on. */
const JOINED_ON =
  /(?<![\p{L}\u00B2\u00B3\u2070-\u2079])(?![\u00BC-\u00BE\u2150-\u215F\u2189])(?![\u2070\u00B9\u00B2\u00B3\u2074-\u2079]+[/\u2044\u2215])(?<![/\u2044\u2215][\u2080-\u2089]*)\p{No}/u;

/**
 * Puts typed text into one plain form: ASCII digits, slash, hyphen and quotes, single spaces. Letters stay
 * large or small, since a refusal repeats them as they were typed; whoever looks for a unit ignores case.
 *
 * Refuses more than 64 characters, nothing at all, and figures that would be joined to others or are of another script.
 */
export function tidy(typed: string): Tidied {
  if (typed.length > MOST_CHARACTERS)
    return refused(`This is too long: ${MOST_CHARACTERS} characters at most.`);
  if (JOINED_ON.test(typed)) {
    return refused(
      `${typed.trim()} has a raised, lowered or ringed figure: write plain figures, and a part of one as 1/2.`,
    );
  }
  const text = typed
    // Compatibility forms would join "2¾" to "23⁄4", so the fraction is set apart first.
    .replace(
      /[\u00BC-\u00BE\u2150-\u215F\u2189]|[\u2070\u00B9\u00B2\u00B3\u2074-\u2079]+(?=[/\u2044\u2215])/g,
      ' $&',
    )
    .normalize('NFKC')
    .replace(/\p{Cf}/gu, '')
    .replace(/\s+/g, ' ')
    .replace(/[\p{Cc}\p{Cs}]/gu, '\uFFFD')
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/[\u2010-\u2015\u2212\uFE63]/g, '-')
    .replace(/[\u2018\u2019\u02B9\u02BC\u2032]/g, "'")
    .replace(/''|[\u201C\u201D\u02BA]/g, '"')
    .trim();
  if (text === '') return refused('Enter a number.');
  const others = /(?!\d)\p{Nd}(?:[\p{Nd}., /]*\p{Nd})?/u.exec(text);
  if (others === null) return { ok: true, text };
  const plain = others[0].replace(/\p{Nd}/gu, figureOf);
  return refused(`${others[0]} is not written in the figures 0 to 9: write ${plain}.`);
}

/** Unicode keeps the ten figures of a script in a row, one script after the other (chapter 4.6). */
function figureOf(digit: string): string {
  const place = digit.codePointAt(0) ?? 0;
  let first = place;
  while (/\p{Nd}/u.test(String.fromCodePoint(first - 1))) first -= 1;
  return String((place - first) % 10);
}

/**
 * Reads one number out of tidied text: 12, 1 500, 1.5, 1,5, .5, 3/4, 2 3/4, 2-3/4.
 *
 * A dot is the decimal point, save where it could part a thousand up to `dotPartsUpTo`. A comma is the decimal point too, but
 * never where it could part thousands. Nothing is rounded. `suchAs` completes the reason "write it as …" where nothing
 * better can be said.
 */
export function readFigure(text: string, suchAs = '2 3/4 or as 2.75', dotPartsUpTo = 0n): FigureReading {
  const fraction = FRACTION.exec(text);
  if (fraction) return readFraction(fraction[1], fraction[2] ?? '', fraction[3] ?? '');
  const decimal = DECIMAL.exec(text);
  if (decimal) return readDecimal(decimal[1] ?? '', decimal[2] ?? '', decimal[3] ?? '', dotPartsUpTo);
  const whole = WHOLE.exec(text);
  if (whole) return { ok: true, figure: wholeFigure(BigInt(withoutSpaces(text.replace('.', '')))) };
  return refused(whyNotAFigure(text, suchAs));
}

// Digits, or one to three digits and then groups of three set apart by spaces.
const DIGITS = '\\d{1,3}(?: \\d{3})+|\\d+';
const FRACTION = new RegExp(`^(?:(${DIGITS})(?: |- ?))?(\\d+) ?/ ?(\\d+)$`);
const DECIMAL = new RegExp(`^(${DIGITS})?([.,])(\\d+)$`);
const WHOLE = new RegExp(`^(?:${DIGITS})\\.?$`);

function readFraction(before: string | undefined, above: string, below: string): FigureReading {
  const [num, den] = [BigInt(above), BigInt(below)];
  if (den === 0n) return refused(`${above}/${below} divides by nought: the lower number must be 1 or more.`);
  if (before === undefined) {
    const split = num < den ? undefined : splitOf(above, den);
    if (split === undefined) return { ok: true, figure: fractionFigure(num, den) };
    const parts = num % den === 0n ? '' : ` ${num % den}/${below}`;
    const [mixed, divided] = [`${split}/${below}`, `${num / den}${parts}`];
    return refused(
      `${above}/${below} can mean ${mixed} or ${divided} (${above} divided by ${below}): write ${mixed} or ${divided}.`,
    );
  }
  if (num >= den) {
    return refused(`${above}/${below} is not less than one: after ${before}, write a fraction such as 3/4.`);
  }
  return {
    ok: true,
    figure: fractionFigure(BigInt(withoutSpaces(before)) * den + num, den),
  };
}

/** "2 3" of 23 quarters: the digits as a whole and the top of a fraction below one, where a space may have been lost. */
function splitOf(above: string, den: bigint): string | undefined {
  for (let place = 1; place < above.length; place++) {
    const top = above.slice(place);
    if (!top.startsWith('0') && BigInt(top) < den) return `${above.slice(0, place)} ${top}`;
  }
  return undefined;
}

function readDecimal(before: string, mark: string, after: string, dotPartsUpTo: bigint): FigureReading {
  // "0,500" and "1234,500" cannot be thousands.
  const thousands = after.length === 3 && /^[1-9]\d{0,2}$/.test(before) ? BigInt(before + after) : undefined;
  const dotParts = thousands !== undefined && thousands <= dotPartsUpTo;
  if (dotParts || (thousands !== undefined && mark === ',')) {
    const decimals = trimmed(after) || '0';
    // Three decimals after a dot would be asked back again, so a nought is put behind them.
    const decimal = `${before}.${dotParts && decimals.length === 3 ? `${decimals}0` : decimals}`;
    const meanings = `${decimal} or ${thousands}`;
    return refused(`${before}${mark}${after} can mean ${meanings}: write ${meanings}.`);
  }
  const whole = BigInt(withoutSpaces(before) || '0');
  const den = 10n ** BigInt(after.length);
  const num = whole * den + BigInt(after);
  const shown = trimmed(after) === '' ? String(whole) : `${whole}.${trimmed(after)}`;
  return {
    ok: true,
    figure: {
      ...inLowestTerms(num, den),
      shown,
      form: 'decimal',
      places: after.length,
    },
  };
}

function wholeFigure(value: bigint): Figure {
  return {
    num: value,
    den: 1n,
    shown: String(value),
    form: 'whole',
    places: 0,
  };
}

function fractionFigure(num: bigint, den: bigint): Figure {
  return {
    ...inLowestTerms(num, den),
    shown: showMixed(num, den),
    form: 'fraction',
    places: 0,
  };
}

function inLowestTerms(num: bigint, den: bigint): { num: bigint; den: bigint } {
  const divisor = greatestDivisor(num, den);
  return { num: num / divisor, den: den / divisor };
}

function whyNotAFigure(text: string, suchAs: string): string {
  if (text === '') return `The number is missing: write it as ${suchAs}.`;
  if (text.startsWith('-')) return `${text} is negative: write it without the minus.`;
  if (/[.,].*\/|\/.*[.,]/.test(text)) {
    return `${text} mixes a decimal and a fraction: write it as 2 3/4 or as 2.75.`;
  }
  if (/^\d{1,3}(?:(?:,\d{3})+\.\d+|(?:,\d{3}){2,}|(?:'\d{3})+(?:\.\d+)?)$/.test(text)) {
    return `${text} has marks between its thousands: write ${text.replace(/[,']/g, '')}.`;
  }
  if (/[.,].*[.,]/.test(text)) {
    return `${text} can be read in more than one way: write it with one dot and no other marks, such as 1500.2.`;
  }
  if (/^\d[\d ]*,$/.test(text))
    return `${text} stops at its decimal point: write the decimals too, or leave it out.`;
  return `${text} cannot be read as a number: write it as ${suchAs}.`;
}

function withoutSpaces(digits: string): string {
  return digits.replaceAll(' ', '');
}

function trimmed(decimals: string): string {
  return decimals.replace(/0+$/, '');
}
