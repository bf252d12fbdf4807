import { type Measure, readMeasure } from './measure.ts';
import { type Reading, refused } from './reading.ts';

/** A megawatt, in watts. */
export const MOST_WATTS = 1_000_000;

/**
 * Reads the power of a heater in whole watts, from 1 to a megawatt: "2 kW", "1500 W". A number alone is refused, since
 * plates are told in both. Rounded once to the nearest watt; `exact` says whether it had to be.
 */
export function readPower(typed: string): Reading<number> {
  if (typed.length <= 64 && !/w/i.test(typed))
    return refused('Write the power with its unit: 2 kW or 1500 W.');
  const read = readMeasure(typed, 'W', POWER);
  if (!read.ok) return read;
  if (read.value < 1) return refused('A heater has some power: write 1 W or more.');
  const shown = showPower(read.value);
  const wrote = read.typed;
  const echo = wrote === shown ? shown : `${wrote} ${read.exact ? '=' : '≈'} ${shown}`;
  return { ok: true, value: read.value, exact: read.exact, echo };
}

/** Watts as a plate names them: "1500 W" below 2 kW, from there "2.4 kW". */
export function showPower(watts: number): string {
  return watts < 2000 ? `${watts} W` : `${watts / 1000} kW`;
}

const POWER: Measure<'kW' | 'W'> = {
  units: [
    { unit: 'kW', names: ['kw', 'kilowatt', 'kilowatts'], system: 'metric', num: 1000n, den: 1n },
    { unit: 'W', names: ['w', 'watt', 'watts'], system: 'metric', num: 1n, den: 1n },
  ],
  most: BigInt(MOST_WATTS),
  tooMuch: 'A heater here can have a megawatt at most.',
  negative: 'A power cannot be negative: write it without the minus.',
  twoUnits: '2 kW',
};
