import { readFigure, tidy } from './figure.ts';
import { divideRounded, stored } from './figure-show.ts';
import { type LengthUnit, readLength, TICKS_PER } from './length.ts';
import { type Reading, refused } from './reading.ts';

/** 10 000 m², in square ticks of 1/160 mm. */
export const MOST_AREA_TICKS2 = 10_000 * TICKS_PER.m * TICKS_PER.m;

/** Square ticks in a square of each unit. */
const UNITS: ReadonlyMap<string, LengthUnit> = new Map([
  ...(['m2', 'm^2', 'sqm', 'sq m', 'square metres', 'square meters'] as const).map(
    (name) => [name, 'm'] as const,
  ),
  ...(['cm2', 'cm^2', 'sq cm'] as const).map((name) => [name, 'cm'] as const),
  ...(['yd2', 'yd^2', 'sq yd', 'square yards'] as const).map((name) => [name, 'yd'] as const),
  ...(['ft2', 'ft^2', 'sq ft', 'square feet'] as const).map((name) => [name, 'ft'] as const),
]);

/**
 * Reads an area in square ticks of 1/160 mm, above nought and up to 10 000 m²: "4.5 m²", "5 sq yd", or a length times
 * a width, "3 m × 1.5 m". A number alone is refused. Rounded once; `exact` says whether it had to be.
 */
export function readArea(typed: string): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const sides = tidied.text.split(/ ?[x×*] ?/i);
  if (sides.length === 2) return product(sides[0] ?? '', sides[1] ?? '');
  const [, number = '', name = ''] = /^([\d.,/ -]*)(.*)$/u.exec(tidied.text) ?? [];
  const unit = UNITS.get(name.trim().toLowerCase());
  if (unit === undefined) return refused('Write an area as 4.5 m², 5 sq yd, or 3 m × 1.5 m.');
  const read = readFigure(number.trim(), '4.5 m²');
  if (!read.ok) return read;
  const { num, den, shown } = read.figure;
  const squares = num * BigInt(TICKS_PER[unit]) ** 2n;
  return within(squares, den, `${shown} ${unit}²`);
}

function product(length: string, width: string): Reading<number> {
  // The unit of "3 × 1.5 m" is that of both sides.
  const unit = /[a-z'"]+$/i.exec(width)?.[0] ?? '';
  const read = [/[a-z'"]$/i.test(length) ? length : `${length} ${unit}`, width].map((side) => readBare(side));
  const [one, two] = read;
  if (!one?.ok) return one ?? refused('Write the length and the width.');
  if (!two?.ok) return two ?? refused('Write the length and the width.');
  return within(BigInt(one.value) * BigInt(two.value), 1n, `${one.echo} × ${two.echo}`);
}

function readBare(side: string): Reading<number> {
  return /[a-z'"]/i.test(side) ? readLength(side, 'm') : refused('Write the unit too, as in 3 m × 1.5 m.');
}

function within(num: bigint, den: bigint, echo: string): Reading<number> {
  if (num <= 0n) return refused('The area must be more than nought.');
  if (num > BigInt(MOST_AREA_TICKS2) * den) return refused('An area here can be 10 000 m² at most.');
  return { ok: true, value: stored(divideRounded(num, den, 'near')), exact: num % den === 0n, echo };
}

/** An area in square ticks as square metres, as scripts read it: to the nearest square millimetre. */
export function toSquareMetres(areaTicks2: number): number {
  return Math.round((areaTicks2 / TICKS_PER.m ** 2) * 1e6) / 1e6;
}
