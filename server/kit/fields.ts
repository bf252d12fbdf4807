import { z } from 'zod';
import { readFullness } from '../../src/quantity/fullness.ts';
import { type LengthUnit, readLength } from '../../src/quantity/length.ts';
import { type MassPerAreaUnit, readMassPerArea } from '../../src/quantity/mass.ts';
import { readMoney, showMoney } from '../../src/quantity/money.ts';
import { readExchangeRate } from '../../src/quantity/rate.ts';
import type { Reading } from '../../src/quantity/reading.ts';
import { readPercent, readWhole } from '../../src/quantity/whole.ts';
import { type Bounds, sayLengthIn, sayOutOfBounds } from './bounds.ts';
import { type Asking, asked, unasked } from './form-drawing.ts';

// Fields of forms. Each takes the text as it was typed and gives what was read, or the reason in words, and says how it
// is asked for on the page: a form is described once. A blank optional field gives null.

/** A quantity as it was read and as it was typed. */
export interface Quantity {
  readonly value: number;
  readonly typed: string;
}

/** What a refusal calls the field; without it, its label. */
type Named = Asking & { readonly what?: string };
type Bounded = Named & Bounds;

/** What a refusal calls a quantity: as its form says, else as its label does. */
function named<A extends Named>(asking: A, otherwise: string): A & { readonly what: string } {
  const { label } = asking;
  return { ...asking, what: asking.what ?? (label ? label[0]?.toLowerCase() + label.slice(1) : otherwise) };
}

// Long enough for "12 yd 1 ft 3 1/4 in" and any figure with its unit.
const QUANTITY_LENGTH = 64;
const MONEY_LENGTH = 40;
const WHOLE_LENGTH = 12;

export function textField(options: Named & { max: number; lines?: boolean }) {
  const read = field((typed, refuse) => {
    const problem = textProblem(typed, options);
    if (problem) return refuse(problem);
    if (typed.trim() === '') return refuse(`${options.what ?? options.label ?? 'This'} must be filled in.`);
    return typed.trim();
  });
  return asked(read, { ...textLook(options), ...options });
}

export function optionalText(options: Named & { max: number; lines?: boolean }) {
  const read = field((typed, refuse) => {
    const problem = textProblem(typed, options);
    return problem ? refuse(problem) : typed.trim();
  });
  return asked(read, { ...textLook(options), required: false, ...options });
}

function textLook({ max, lines }: { max: number; lines?: boolean }): Asking {
  return lines ? { kind: 'textarea', maxlength: max } : { maxlength: max };
}

export function lengthField(unit: LengthUnit, bounds: Bounded = {}) {
  return quantityField((typed) => readLength(typed, unit), {
    min: 1,
    ...lengthLook(unit),
    ...named(bounds, 'length'),
  });
}

export function optionalLength(unit: LengthUnit, bounds: Bounded = {}) {
  return optionalQuantity((typed) => readLength(typed, unit), {
    ...lengthLook(unit),
    ...named(bounds, 'length'),
  });
}

function lengthLook(unit: LengthUnit): Bounded {
  return { unit, sayBound: sayLengthIn(unit) };
}

export function optionalMassPerArea(unit: MassPerAreaUnit, asking: Asking = {}) {
  const read = (typed: string) => readMassPerArea(typed, unit);
  return optionalQuantity(read, { min: 1, unit, ...named(asking, 'mass per area') });
}

/** The most that a price, a freight or another sum on a form may be, in minor units. */
export const MOST_PRICE_MINOR = 1_000_000_000;

export function moneyField(currency: string, bounds: Bounded = {}) {
  return quantityField((typed) => readMoney(typed, currency), {
    ...priceLook(currency),
    ...named(bounds, 'price'),
  });
}

export function optionalMoney(currency: string, bounds: Bounded = {}) {
  return optionalQuantity((typed) => readMoney(typed, currency), {
    ...priceLook(currency),
    ...named(bounds, 'price'),
  });
}

function priceLook(currency: string): Bounded {
  return { min: 0, unit: currency, maxlength: MONEY_LENGTH, sayBound: (minor) => showMoney(minor, currency) };
}

/** The three letters of a currency, whole or small; `otherwise` where it is blank. */
export function currencyField(otherwise = '', asking: Asking = {}) {
  const read = field((typed, refuse) => {
    const code = typed.trim().toUpperCase() || otherwise;
    return Intl.supportedValuesOf('currency').includes(code)
      ? code
      : refuse('Enter a currency code, such as EUR.');
  });
  return asked(read, { size: 'short', maxlength: 3, ...asking });
}

/** What one of another currency costs, in millionths. */
export function optionalRate(asking: Asking = {}) {
  const read = field((typed, refuse) => {
    if (typed.trim() === '') return null;
    const rate = readExchangeRate(typed);
    return rate.ok ? rate.value : refuse(rate.reason);
  });
  return asked(read, { size: 'short', maxlength: MONEY_LENGTH, required: false, ...asking });
}

export function wholeField(bounds: Named & { min: number; max: number }) {
  return quantityField((typed) => readWhole(typed, bounds), {
    ...WHOLE_LOOK,
    ...named(readElsewhere(bounds), 'number'),
  });
}

export function optionalWhole(bounds: Named & { min: number; max: number }) {
  return optionalQuantity((typed) => readWhole(typed, bounds), {
    ...WHOLE_LOOK,
    ...named(readElsewhere(bounds), 'number'),
  });
}

const WHOLE_LOOK = { kind: 'number', maxlength: WHOLE_LENGTH } as const;

/** `readWhole` says itself what is too small or too large. */
function readElsewhere({ min: _min, max: _max, ...asking }: Bounded): Named {
  return asking;
}

/** A percentage in basis points, up to 100 % unless said. */
export function percentField({ maxBp, ...asking }: Named & { maxBp?: number } = {}) {
  const read = (typed: string) => readPercent(typed, maxBp === undefined ? {} : { maxBp });
  return quantityField(read, { unit: '%', ...named(asking, 'percentage') });
}

/** The same, null where it is blank. */
export function optionalPercent({ maxBp, ...asking }: Named & { maxBp?: number } = {}) {
  const read = (typed: string) => readPercent(typed, maxBp === undefined ? {} : { maxBp });
  return optionalQuantity(read, { unit: '%', ...named(asking, 'percentage') });
}

/** Fullness in thousandths. */
export function fullnessField(asking: Asking = {}) {
  return quantityField((typed) => readFullness(typed), named(asking, 'fullness'));
}

/** The same, null where it is blank. */
export function optionalFullness(asking: Asking = {}) {
  return optionalQuantity((typed) => readFullness(typed), named(asking, 'fullness'));
}

/** A figure with a reader of its own, such as a pH. */
export function readingField<T>(read: (typed: string) => Reading<T>, asking: Asking = {}) {
  return asked(
    field((typed, refuse) => takeReading(read(typed), refuse)),
    { ...FIGURE_LOOK, ...asking },
  );
}

/** The same, null where it is blank. */
export function optionalReading<T>(read: (typed: string) => Reading<T>, asking: Asking = {}) {
  return asked(
    field((typed, refuse) => (typed.trim() === '' ? null : takeReading(read(typed), refuse))),
    { ...FIGURE_LOOK, required: false, ...asking },
  );
}

const FIGURE_LOOK = { size: 'short', maxlength: QUANTITY_LENGTH } as const;

/** The number of a row, from a select or a hidden field. */
export function idField(what: string, asking: Asking = {}) {
  const read = field((typed, refuse) => readId(typed) ?? refuse(`Choose ${what}.`));
  return asked(read, { kind: 'select', ...asking });
}

export function optionalId(what: string, asking: Asking = {}) {
  const read = field((typed, refuse) => (typed === '' ? null : (readId(typed) ?? refuse(`Choose ${what}.`))));
  return asked(read, { kind: 'select', required: false, ...asking });
}

export function choiceField<const C extends readonly string[]>(
  choices: C,
  what: string,
  asking: Asking = {},
) {
  const read = field((typed, refuse): C[number] => {
    const found = choices.find((choice) => choice === typed);
    return found ?? refuse(`Choose ${what}.`);
  });
  return asked(read, { kind: 'select', ...asking });
}

/** One of some words; blank is the first of them. */
export function choiceOrFirst<const C extends readonly string[]>(
  choices: C,
  what: string,
  asking: Asking = {},
) {
  const read = field((typed, refuse): C[number] => {
    const found = typed === '' ? choices[0] : choices.find((choice) => choice === typed);
    return found ?? refuse(`Choose ${what}.`);
  });
  return asked(read, { kind: 'select', ...asking });
}

/** A tick box: ticked when anything is sent. */
export function tickField(asking: Asking = {}) {
  return asked(
    field((typed) => typed !== ''),
    { kind: 'checkbox', ...asking },
  );
}

export function optionalDay(asking: Asking = {}) {
  const read = field((typed, refuse) => {
    if (typed.trim() === '') return null;
    const day = typed.trim();
    const real =
      /^\d{4}-\d{2}-\d{2}$/.test(day) && new Date(`${day}T00:00:00Z`).toJSON()?.slice(0, 10) === day;
    return real ? day : refuse(`${quoted(day)} is not a day: enter it as 2026-11-25.`);
  });
  return asked(read, { kind: 'date', size: 'short', required: false, ...asking });
}

/**
 * A list of rows, each with the fields of `row`. Rows that were left wholly blank do not count; problems carry
 * the row's own place (`pieces.2.length`), blank rows before it included. The page shows at least `rows` of them, and
 * `spare` blank ones below those that were typed. `prepare` changes what was sent before it is read.
 */
export function rowsField<R extends z.ZodType>(
  row: R,
  options: {
    readonly min?: number;
    readonly max: number;
    readonly what: string;
    readonly rows?: number;
    readonly spare?: number;
    readonly prepare?: (raw: unknown) => unknown;
  },
) {
  type T = z.output<R>;
  const { rows = 1, spare = 0, max: mostRows, prepare = (raw) => raw } = options;
  const reader = z
    .unknown()
    .optional()
    .transform(prepare)
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
        const message = `Too many: enter at most ${options.max} ${options.what} at once.`;
        context.issues.push({ code: 'custom', message, input: raw });
      }
      return read;
    });
  return Object.assign(reader, { rowFields: shapeOf(row), rows, spare, mostRows });
}

type ShapeOf<R> =
  R extends z.ZodObject<infer Shape>
    ? Shape
    : R extends z.ZodPipe<z.ZodObject<infer Shape>>
      ? Shape
      : Record<never, never>;

/** The fields of a row, whether it is read as it stands or checked further as a whole. */
function shapeOf<R extends z.ZodType>(row: R): ShapeOf<R> {
  const fields = row instanceof z.ZodPipe ? row.in : row;
  return (fields instanceof z.ZodObject ? fields.shape : {}) as ShapeOf<R>;
}

/** Where a row stands in its list, from 0, for a problem that is found later; `withPlaces` tells it. */
export function placeField() {
  return unasked(field((typed) => Number(typed)));
}

/** Gives each row that was filled in its place: the `prepare` of a list whose rows have a `place`. */
export function withPlaces(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  return Array.from(raw, (row: unknown, place) =>
    typeof row !== 'object' || isBlank(row) ? row : { ...row, place: String(place) },
  );
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

function quantityField(read: (typed: string) => Reading<number>, bounds: Bounded) {
  return asked(
    field((typed, refuse) => readQuantity(typed, read, bounds, refuse)),
    { ...FIGURE_LOOK, ...bounds },
  );
}

/** A quantity with a reader of its own, null where it is blank. */
export function optionalQuantity(read: (typed: string) => Reading<number>, bounds: Bounded = {}) {
  return asked(
    field((typed, refuse) => (typed.trim() === '' ? null : readQuantity(typed, read, bounds, refuse))),
    { ...FIGURE_LOOK, required: false, ...bounds },
  );
}

function readQuantity(
  typed: string,
  read: (typed: string) => Reading<number>,
  bounds: Bounded,
  refuse: Refuse,
): Quantity {
  const value = takeReading(read(typed), refuse);
  const out = sayOutOfBounds(value, bounds);
  if (out !== null) return refuse(out);
  return { value, typed: typed.trim() };
}

function takeReading<T>(reading: Reading<T>, refuse: Refuse): T {
  return reading.ok ? reading.value : refuse(reading.reason);
}

function textProblem(typed: string, options: { max: number; lines?: boolean }): string | null {
  if ([...typed].length > options.max) return `Too long: enter ${options.max} characters at most.`;
  const forbidden = options.lines ? /(?![\n\r\t])\p{Cc}/u : /\p{Cc}/u;
  return forbidden.test(typed) ? 'This has control characters: delete them.' : null;
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

/** A form that only has a button. */
export const NOTHING_TYPED = z.strictObject({});
