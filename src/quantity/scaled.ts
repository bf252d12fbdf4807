import { type Figure, readFigure, tidy } from './figure.ts';
import { divideRounded, exactly, showDecimal, stored } from './figure-show.ts';
import { type Reading, refused } from './reading.ts';

/** How a single number is written and kept, such as a percentage in hundredths of a percent. */
export interface Scale {
  /** Stored units in one of the written: 100 for hundredths. A power of ten. */
  readonly per: 10n | 100n | 1000n;
  /** What may stand after the number, with the space before it; it must end with `$` and ignore case. */
  readonly after: RegExp;
  /** What may stand before the number instead; it must begin with `^`. */
  readonly before?: RegExp;
  /** Completes "write it as …" for what is no number. */
  readonly suchAs: string;
  /** The number with its sign or unit: "65" becomes "65 %". */
  readonly signed: (number: string) => string;
  /** Why the number is out of range, tested before it is rounded; undefined where it is not. */
  readonly outside: (figure: Figure) => string | undefined;
}

/** Reads one number by its scale: exact, and rounded once to the nearest stored unit. */
export function readScaled(typed: string, scale: Scale): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const { before } = scale;
  const number = before?.test(tidied.text)
    ? tidied.text.replace(before, '')
    : tidied.text.replace(scale.after, '');
  const read = readFigure(number.trim(), scale.suchAs);
  if (!read.ok) return read;
  const { num, den, shown } = read.figure;
  const outside = scale.outside(read.figure);
  if (outside !== undefined) return refused(outside);
  const value = stored(divideRounded(num * scale.per, den, 'near'));
  const exact = (num * scale.per) % den === 0n;
  const [wrote, kept] = [scale.signed(shown), scale.signed(showScaled(value, scale.per))];
  return { ok: true, value, exact, echo: wrote === kept ? wrote : `${wrote} ${exact ? '=' : '≈'} ${kept}` };
}

/** A stored number of this scale as a decimal: 2500 thousandths are "2.5". */
export function showScaled(value: number, per: Scale['per']): string {
  return showDecimal(exactly(value), String(per).length - 1);
}

/** Whether a figure is above a bound given in stored units. */
export function isAbove(figure: Figure, bound: number, per: Scale['per']): boolean {
  return figure.num * per > exactly(bound) * figure.den;
}
