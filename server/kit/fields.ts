import { z } from 'zod';
import { readFullness } from '../../src/quantity/fullness.ts';
import { type LengthUnit, readLength } from '../../src/quantity/length.ts';
import { type MassPerAreaUnit, readMassPerArea } from '../../src/quantity/mass.ts';
import { readMoney } from '../../src/quantity/money.ts';
import { readExchangeRate } from '../../src/quantity/rate.ts';
import type { Reading } from '../../src/quantity/reading.ts';
import { readPercent, readWhole } from '../../src/quantity/whole.ts';

// Fields of forms. Each takes the text as it was typed and gives what was read, or the reason in words.
// A blank optional field gives null.

/** A quantity as it was read and as it was typed. */
export interface Quantity {
  readonly value: number;
  readonly typed: string;
}

export function textField(options: { max: number; label?: string; lines?: boolean }) {
  return field((typed, refuse) => {
    const problem = textProblem(typed, options);
    if (problem) return refuse(problem);
    if (typed.trim() === '') return refuse(`${options.label ?? 'This'} must be filled in.`);
    return typed.trim();
  });
}

export function optionalText(options: { max: number; lines?: boolean }) {
  return field((typed, refuse) => {
    const problem = textProblem(typed, options);
    return problem ? refuse(problem) : typed.trim();
  });
}

export function lengthField(unit: LengthUnit, bounds: { min?: number; max?: number; what?: string } = {}) {
  return quantityField((typed) => readLength(typed, unit), { min: 1, what: 'length', ...bounds });
}

export function optionalLength(unit: LengthUnit, bounds: { min?: number; max?: number; what?: string } = {}) {
  return optionalQuantity((typed) => readLength(typed, unit), { what: 'length', ...bounds });
}

export function optionalMassPerArea(unit: MassPerAreaUnit) {
  return optionalQuantity((typed) => readMassPerArea(typed, unit), { min: 1, what: 'mass per area' });
}

/** The most that a price, a freight or another sum on a form may be, in minor units. */
export const MOST_PRICE_MINOR = 1_000_000_000;

export function moneyField(currency: string, bounds: { max?: number } = {}) {
  return quantityField((typed) => readMoney(typed, currency), { min: 0, what: 'price', ...bounds });
}

export function optionalMoney(currency: string, bounds: { max?: number } = {}) {
  return optionalQuantity((typed) => readMoney(typed, currency), { min: 0, what: 'price', ...bounds });
}

/** The three letters of a currency, whole or small; `otherwise` where it is blank. */
export function currencyField(otherwise = '') {
  return field((typed, refuse) => {
    const code = typed.trim().toUpperCase() || otherwise;
    return Intl.supportedValuesOf('currency').includes(code)
      ? code
      : refuse('Give the three letters of a currency in ISO 4217, such as EUR.');
  });
}

/** What one of another currency costs, in millionths. */
export function optionalRate() {
  return field((typed, refuse) => {
    if (typed.trim() === '') return null;
    const read = readExchangeRate(typed);
    return read.ok ? read.value : refuse(read.reason);
  });
}

export function wholeField(bounds: { min: number; max: number }) {
  return quantityField((typed) => readWhole(typed, bounds), { what: 'number' });
}

export function optionalWhole(bounds: { min: number; max: number }) {
  return optionalQuantity((typed) => readWhole(typed, bounds), { what: 'number' });
}

/** A percentage in basis points, up to 100 % unless said. */
export function percentField(bounds: { maxBp?: number } = {}) {
  return quantityField((typed) => readPercent(typed, bounds), { what: 'percentage' });
}

/** The same, null where it is blank. */
export function optionalPercent(bounds: { maxBp?: number } = {}) {
  return optionalQuantity((typed) => readPercent(typed, bounds), { what: 'percentage' });
}

/** Fullness in thousandths. */
export function fullnessField() {
  return quantityField((typed) => readFullness(typed), { what: 'fullness' });
}

/** The number of a row, from a select or a hidden field. */
export function idField(what: string) {
  return field((typed, refuse) => readId(typed) ?? refuse(`Choose ${what}.`));
}

export function optionalId(what: string) {
  return field((typed, refuse) => (typed === '' ? null : (readId(typed) ?? refuse(`Choose ${what}.`))));
}

export function choiceField<const C extends readonly string[]>(choices: C, what: string) {
  return field((typed, refuse): C[number] => {
    const found = choices.find((choice) => choice === typed);
    return found ?? refuse(`Choose ${what}.`);
  });
}

/** A tick box: ticked when anything is sent. */
export function tickField() {
  return field((typed) => typed !== '');
}

export function optionalDay() {
  return field((typed, refuse) => {
    if (typed.trim() === '') return null;
    const day = typed.trim();
    const real =
      /^\d{4}-\d{2}-\d{2}$/.test(day) && new Date(`${day}T00:00:00Z`).toJSON()?.slice(0, 10) === day;
    return real ? day : refuse(`${quoted(day)} is not a day: write it as 2026-11-25.`);
  });
}

/**
 * A list of rows, each with the fields of `row`. Rows that were left wholly blank do not count; problems carry
 * the row's own place (`pieces.2.length`), blank rows before it included.
 */
export function rowsField<T>(row: z.ZodType<T>, options: { min?: number; max: number; what: string }) {
  return z
    .unknown()
    .optional()
    .transform((raw, context): T[] => {
      const rows = Array.isArray(raw) ? raw : [];
      if (rows !== raw && raw !== undefined && raw !== null && raw !== '') {
        context.issues.push({ code: 'custom', message: `Give the ${options.what} as a list.`, input: raw });
      }
      const read: T[] = [];
      for (const [index, given] of rows.entries()) {
        if (isBlank(given)) continue;
        const result = row.safeParse(given);
        if (result.success) read.push(result.data);
        else
          for (const issue of result.error.issues)
            context.issues.push({
              code: 'custom',
              message: issue.message,
              path: [index, ...issue.path],
              input: raw,
            });
      }
      const filled = rows.filter((given) => !isBlank(given)).length;
      if (filled < (options.min ?? 1)) {
        const least = options.min ?? 1;
        const message = `Give at least ${least === 1 ? 'one of the' : least} ${options.what}.`;
        context.issues.push({ code: 'custom', message, input: raw });
      }
      if (filled > options.max) {
        const message = `That is more than ${options.max} ${options.what} at once.`;
        context.issues.push({ code: 'custom', message, input: raw });
      }
      return read;
    });
}

type Refuse = (message: string) => never;

/** One field: reads text, whatever was sent; a refusal becomes a problem of this field. */
export function field<T>(read: (typed: string, refuse: Refuse) => T) {
  return z
    .unknown()
    .optional()
    .transform((raw, context): T => {
      const typed = typeof raw === 'string' ? raw : '';
      const said: { message: string | null } = { message: null };
      const refuse = (message: string): never => {
        said.message = message;
        throw said;
      };
      try {
        return read(typed, refuse);
      } catch (thrown) {
        if (thrown !== said || said.message === null) throw thrown;
        context.issues.push({ code: 'custom', message: said.message, input: raw });
        return z.NEVER;
      }
    });
}

interface Bounds {
  readonly min?: number;
  readonly max?: number;
  readonly what: string;
}

function quantityField(read: (typed: string) => Reading<number>, bounds: Bounds) {
  return field((typed, refuse) => readQuantity(typed, read, bounds, refuse));
}

function optionalQuantity(read: (typed: string) => Reading<number>, bounds: Bounds) {
  return field((typed, refuse) => (typed.trim() === '' ? null : readQuantity(typed, read, bounds, refuse)));
}

function readQuantity(
  typed: string,
  read: (typed: string) => Reading<number>,
  bounds: Bounds,
  refuse: Refuse,
): Quantity {
  const reading = read(typed);
  if (!reading.ok) return refuse(reading.reason);
  if (bounds.min !== undefined && reading.value < bounds.min)
    return refuse(`The ${bounds.what} is too small.`);
  if (bounds.max !== undefined && reading.value > bounds.max)
    return refuse(`The ${bounds.what} is too large.`);
  return { value: reading.value, typed: typed.trim() };
}

function textProblem(typed: string, options: { max: number; lines?: boolean }): string | null {
  if ([...typed].length > options.max) return `At most ${options.max} characters, please.`;
  const forbidden = options.lines ? /(?![\n\r\t])\p{Cc}/u : /\p{Cc}/u;
  return forbidden.test(typed) ? 'This holds control characters that cannot be kept.' : null;
}

function readId(typed: string): number | null {
  return /^[1-9][0-9]{0,14}$/.test(typed) ? Number(typed) : null;
}

function isBlank(given: unknown): boolean {
  if (given === null || given === undefined) return true;
  return (
    typeof given === 'object' &&
    Object.values(given).every((item) => typeof item === 'string' && item.trim() === '')
  );
}

function quoted(typed: string): string {
  return `“${typed.slice(0, 40)}”`;
}
