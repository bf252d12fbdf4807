import { type Figure, readFigure, tidy } from './figure.ts';
import { divideRounded, exactly, showMixed, stored } from './figure-show.ts';
import { type Reading, refused } from './reading.ts';
import { isAbove, readScaled, showScaled } from './scaled.ts';

/** `num` ÷ `den`, whole numbers above nought in lowest terms. */
export interface Ratio {
  readonly num: number;
  readonly den: number;
}

/** A fullness or ratio: thousandths, and the fraction itself where thousandths do not hold it. */
export interface Fullness {
  readonly fullnessMilli: number;
  readonly fullnessExact?: Ratio | null;
}

/** Twenty times; more cloth than that does not go into a seam. Common practice. */
const MOST_FULLNESS_MILLI = 20_000;
/** A fraction finer than this is a slip of the pen, and its products would pass what a number holds. */
const FINEST_DEN = 1_000_000_000n;

const AFTER = / ?(?:x|×|times|: ?1|to 1)$/i;

/**
 * Reads a fullness, flat length ÷ finished length, from 1 to 20: "2.5", "2½", "2.5×", "2.5 : 1", "2 1/3 to 1". Gives
 * thousandths; what those do not hold is kept by `withExact` from the same text. A percentage is refused: some mean the
 * whole by it, others what is added.
 */
export function readFullness(typed: string): Reading<number> {
  if (typed.trim().endsWith('%')) {
    return refused('Write a fullness as times the finished length, such as 2.5.');
  }
  const read = readScaled(typed, {
    per: 1000n,
    after: AFTER,
    suchAs: '2 1/2 or as 2.5',
    signed: (number) => `${number}×`,
    outside: (figure) => {
      if (figure.num < figure.den) {
        return 'A fullness is 1 or more: 1 is flat, 2 is twice the finished length.';
      }
      if (isAbove(figure, MOST_FULLNESS_MILLI, 1000n))
        return `Write a fullness of ${showFullness(MOST_FULLNESS_MILLI)} or less.`;
      return figure.den > FINEST_DEN ? 'Write a fullness with nine decimals at most.' : undefined;
    },
  });
  const figure = figureOf(typed);
  return read.ok && !read.exact && figure ? { ...read, exact: true, echo: `${figure.shown}×` } : read;
}

/** A fullness with the fraction that was typed for it, where thousandths do not hold that. */
export function withExact({
  value,
  typed,
}: {
  readonly value: number;
  readonly typed: string;
}): Required<Fullness> {
  const figure = figureOf(typed);
  const same =
    figure &&
    figure.den <= FINEST_DEN &&
    divideRounded(figure.num * 1000n, figure.den, 'near') === exactly(value);
  const held = !same || (figure.num * 1000n) % figure.den === 0n;
  return {
    fullnessMilli: value,
    fullnessExact: held ? null : { num: stored(figure.num), den: stored(figure.den) },
  };
}

function figureOf(typed: string): Figure | undefined {
  const tidied = tidy(typed);
  const read = tidied.ok ? readFigure(tidied.text.replace(AFTER, '').trim()) : tidied;
  return read.ok ? read.figure : undefined;
}

/** The whole of a fullness as a fraction. */
export function ratioOf({ fullnessMilli, fullnessExact }: Fullness): Ratio {
  return fullnessExact ?? { num: fullnessMilli, den: 1000 };
}

/** So much of a length as a fullness wants, in ticks, rounded up once. */
export function fullLengthTicks(ofTicks: number, fullness: Fullness): number {
  const { num, den } = ratioOf(fullness);
  return stored(divideRounded(exactly(ofTicks) * exactly(num), exactly(den), 'up'));
}

/** As it was typed: "2.5", "2⅓". */
export function sayFullness({ fullnessMilli, fullnessExact }: Fullness): string {
  return fullnessExact
    ? showMixed(exactly(fullnessExact.num), exactly(fullnessExact.den))
    : showFullness(fullnessMilli);
}

/** Thousandths as "2.5", "2.333". */
export function showFullness(fullnessMilli: number): string {
  return showScaled(fullnessMilli, 1000n);
}
