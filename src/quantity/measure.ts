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
  /** Up to this number a dot may part thousands: "1.500 mm" is read neither as 1.5 nor as 1500. */
  readonly dotPartsUpTo?: bigint;
  /** The smaller unit that may go unsaid after this one, for numbers from `from` to below `below`: "1 m 20". */
  readonly unsaid?: { readonly unit: U; readonly from: bigint; readonly below: bigint };
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
  const squared = /\p{L}+[\u00B2\u00B3]/u.exec(typed);
  if (squared) return refused(notAUnit(squared[0], measure));
  const text = withoutJoiningWords(tidied.text);
  if (text.startsWith('-')) return refused(measure.negative);
  const parts: Part<U>[] = [];
  for (const run of runsOf(text)) {
    const part = readPart(run, parts.at(-1), bareUnit, measure);
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

/** "3 feet and 2 inches", "3 ft, 2 in", "2 and 3/4 yards", "¾ of a yard" and `5'-6"` with their numbers and units alone. */
function withoutJoiningWords(text: string): string {
  return text
    .replace(/^\+ ?(?=[\d.,])/, '')
    .replace(/'-(?=\d)/g, "' ")
    .replace(/(?<=[^\d.,/ -]\.?),? and (?=\d)/gi, ' ')
    .replace(/(?<=[^\d.,/ -]\.?), ?(?=\d)/g, ' ')
    .replace(/(?<=\d) and (?=\d+ ?\/)/i, ' ')
    .replace(/(?<=\/ ?\d+) of an? (?=\p{L})/iu, ' ');
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
  before: Part<U> | undefined,
  bareUnit: U,
  measure: Measure<U>,
): { readonly ok: true; readonly part: Part<U> } | Refused {
  if (number === '') return refused(`${name} has no number before it: write the number first.`);
  const unsaid = before === undefined ? bareUnit : before.unit.unsaid?.unit;
  const unit = measure.units.find((each) =>
    name === '' ? each.unit === unsaid : each.names.includes(name.toLowerCase()),
  );
  const read = readFigure(number, undefined, unit?.dotPartsUpTo);
  if (!read.ok) return read;
  if (unit === undefined) return refused(name === '' ? noUnit(number, measure) : notAUnit(name, measure));
  if (name === '' && before !== undefined && !goesUnsaid(number, read.figure, before)) {
    const together = `${before.figure.shown} ${before.unit.unit} ${number}`;
    return refused(
      `${together} can be read in more than one way: write the unit of ${number} too, as in ${measure.twoUnits}.`,
    );
  }
  return { ok: true, part: { figure: read.figure, unit } };
}

/** "1 m 20" and "1 m 05" are centimetres; "1 m 5" may be half a metre, and "2 yd 2" two feet. */
function goesUnsaid<U extends string>(number: string, { num, den }: Figure, before: Part<U>): boolean {
  const { unsaid } = before.unit;
  if (unsaid === undefined || before.figure.form !== 'whole' || num >= unsaid.below * den) return false;
  return num >= unsaid.from * den || /^0\d*$/.test(number);
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

function noUnit<U extends string>(number: string, { twoUnits }: Measure<U>): string {
  return `${number} has no unit: write it after the number, as in ${twoUnits}.`;
}

function notAUnit<U extends string>(name: string, measure: Measure<U>): string {
  return `${name} is not a unit used here: write ${unitList(measure)}.`;
}

function unitList<U extends string>(measure: Measure<U>): string {
  const units = measure.units.map((each) => each.unit);
  return `${units.slice(0, -1).join(', ')} or ${units.at(-1)}`;
}
