import { type Refused, readFigure, tidy } from './figure.ts';
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
  const parts = partsOf(text);
  let [num, den] = [0n, 1n];
  let before = -1;
  const understood: { shown: string; unit: MeasureUnit<U> }[] = [];
  for (const part of parts) {
    if (part.number === '') return refused(`${part.name} has no number before it: write the number first.`);
    const figure = readFigure(part.number);
    if (!figure.ok) return figure;
    if (part.name === '' && parts.length > 1) {
      return refused(`${part.number} has no unit: write it after the number, as in ${measure.twoUnits}.`);
    }
    const index = measure.units.findIndex((each) =>
      part.name === '' ? each.unit === bareUnit : each.names.includes(part.name),
    );
    const unit = measure.units[index];
    if (unit === undefined)
      return refused(`${part.name} is not a unit used here: write ${unitList(measure)}.`);
    if (index <= before) {
      return refused(`Write the larger unit first and each unit once, as in ${measure.twoUnits}.`);
    }
    if (understood.some((other) => other.unit.system !== unit.system)) {
      return refused(`${text} mixes metric and imperial units: write it in one of them.`);
    }
    num = num * figure.figure.den * unit.den + figure.figure.num * unit.num * den;
    den = den * figure.figure.den * unit.den;
    before = index;
    understood.push({ shown: figure.figure.shown, unit });
  }
  if (num > measure.most * den) return refused(measure.tooMuch);
  return {
    ok: true,
    value: stored(divideRounded(num, den, 'near')),
    typed: understood.map((part) => `${part.shown} ${part.unit.unit}`).join(' '),
    units: understood.map((part) => part.unit.unit),
    exact: num % den === 0n,
  };
}

/** Runs of number and unit in turn. Every character falls into one or the other, so this is one pass. */
function partsOf(text: string): { number: string; name: string }[] {
  const parts = [];
  for (const [, number = '', name = ''] of text.matchAll(/([\d.,/ -]*)((?:[^\d.,/ -]+(?:\.(?!\d))?)?)/g)) {
    if (number.trim() !== '' || name !== '')
      parts.push({ number: number.trim(), name: name.replace(/\.$/, '') });
  }
  return parts;
}

function unitList<U extends string>(measure: Measure<U>): string {
  const units = measure.units.map((each) => each.unit);
  return `${units.slice(0, -1).join(', ')} or ${units.at(-1)}`;
}
