import { type Figure, type Refused, readFigure, tidy } from './figure.ts';
import { divideRounded, stored } from './figure-show.ts';
import { refused } from './reading.ts';

/** A unit that may be typed: its size is `num` ÷ `den` of the unit that is stored. */
export interface MeasureUnit<U extends string> {
  readonly unit: U;
  readonly names: readonly string[];
  readonly system: 'metric' | 'imperial';
  readonly num: bigint;
  readonly den: bigint;
}

/** A kind of quantity: its units from the largest down, and the most that may be typed, in the stored unit. */
export interface Measure<U extends string> {
  readonly units: readonly MeasureUnit<U>[];
  readonly most: bigint;
  readonly tooMuch: string;
  readonly negative: string;
  readonly twoUnits: string;
}

/** `value` is in the stored unit; `typed` writes back what was understood ("2¾ yd"); `units` are the units used. */
export type MeasureReading<U extends string> =
  | {
      readonly ok: true;
      readonly value: number;
      readonly typed: string;
      readonly units: readonly U[];
      readonly exact: boolean;
    }
  | Refused;

/** One number with its unit. */
interface Part<U extends string> {
  readonly figure: Figure;
  readonly unit: MeasureUnit<U>;
}

/**
 * Reads numbers with their units, larger units first, and adds them up: "2 yd 18 in", "1 kg 500 g".
 *
 * One number alone takes `bareUnit`. The sum is an exact fraction, rounded once to the nearest stored unit.
 */
export function readMeasure<U extends string>(
  typed: string,
  bareUnit: U,
  measure: Measure<U>,
): MeasureReading<U> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  // Feet and inches are also written 5'-6".
  const text = tidied.text.replace(/'-(?=\d)/g, "' ");
  if (text.startsWith('-')) return refused(measure.negative);
  const runs = runsOf(text);
  const parts: Part<U>[] = [];
  for (const run of runs) {
    const part = readPart(run, runs.length === 1 ? bareUnit : undefined, measure);
    if (!part.ok) return part;
    parts.push(part.part);
  }
  if (new Set(parts.map((part) => part.unit.system)).size > 1) {
    return refused(`${text} mixes metric and imperial units: write it in one of them.`);
  }
  const places = parts.map((part) => measure.units.indexOf(part.unit));
  if (places.some((place, index) => place <= (places[index - 1] ?? -1))) {
    return refused(`Write the larger unit first and each unit once, as in ${measure.twoUnits}.`);
  }
  return sumOf(parts, measure);
}

/** Runs of number and unit in turn. Every character falls into one or the other, so this is one pass. */
function runsOf(text: string): Run[] {
  const runs = [];
  for (const [, number = '', name = ''] of text.matchAll(/([\d.,/ -]*)((?:[^\d.,/ -]+(?:\.(?!\d))?)?)/g)) {
    if (number.trim() !== '' || name !== '')
      runs.push({ number: number.trim(), name: name.replace(/\.$/, '') });
  }
  return runs;
}

interface Run {
  readonly number: string;
  readonly name: string;
}

function readPart<U extends string>(
  { number, name }: Run,
  bareUnit: U | undefined,
  measure: Measure<U>,
): { readonly ok: true; readonly part: Part<U> } | Refused {
  if (number === '') return refused(`${name} has no number before it: write the number first.`);
  const read = readFigure(number);
  if (!read.ok) return read;
  if (name === '' && bareUnit === undefined) {
    return refused(`${number} has no unit: write it after the number, as in ${measure.twoUnits}.`);
  }
  const unit = measure.units.find((each) =>
    name === '' ? each.unit === bareUnit : each.names.includes(name.toLowerCase()),
  );
  if (unit === undefined) return refused(`${name} is not a unit used here: write ${unitList(measure)}.`);
  return { ok: true, part: { figure: read.figure, unit } };
}

function sumOf<U extends string>(parts: readonly Part<U>[], measure: Measure<U>): MeasureReading<U> {
  let [num, den] = [0n, 1n];
  for (const { figure, unit } of parts) {
    num = num * figure.den * unit.den + figure.num * unit.num * den;
    den = den * figure.den * unit.den;
  }
  if (num > measure.most * den) return refused(measure.tooMuch);
  return {
    ok: true,
    value: stored(divideRounded(num, den, 'near')),
    typed: parts.map(({ figure, unit }) => `${figure.shown} ${unit.unit}`).join(' '),
    units: parts.map(({ unit }) => unit.unit),
    exact: num % den === 0n,
  };
}

function unitList<U extends string>(measure: Measure<U>): string {
  const units = measure.units.map((each) => each.unit);
  return `${units.slice(0, -1).join(', ')} or ${units.at(-1)}`;
}
