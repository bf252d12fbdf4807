import { z } from 'zod';
import type { Ask } from '../../src/fit/take.ts';
import { MOST_LENGTH_TICKS, readLength } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type Choice, clothChoices, optionalChosen, shadeChoices } from '../kit/choices.ts';
import { field, optionalDay, optionalLength, optionalText, optionalWhole } from '../kit/fields.ts';
import { asked, type Drawn } from '../kit/form-drawing.ts';
import { type Typed, withUnit } from '../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../kit/units.ts';
import { readShadeNames, type ShadeName } from '../shelf/names.ts';

const MOST_STRIPS = 10_000;
const MOST_STRIP_TICKS = 16_000_000;
const LOTS: readonly Choice[] = [
  { value: 'one', label: 'one lot' },
  { value: 'any', label: 'any lots' },
];

/** What somebody would like to take: so much, of what, from how many lots, by when. */
export function takeFields(reader: Reader, units: Units) {
  const size = { max: MOST_STRIP_TICKS, min: 1 };
  return {
    /** all of it in one text, from the field at the top of every page; then what of it names no one cloth or shade */
    ask: optionalText({ max: 120 }),
    length: optionalLength(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS, label: 'Length' }),
    strips: optionalWhole({ min: 1, max: MOST_STRIPS, label: 'Or strips', size: 'short' }),
    depth: optionalLength(sizeUnit(units), { ...size, label: 'Depth of a strip' }),
    strip_length: optionalLength(sizeUnit(units), { ...size, label: 'Length of a strip' }),
    cloth: optionalChosen(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'any cloth' }),
    shade: optionalChosen(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'any shade' }),
    lots: lotsField(),
    by: optionalDay({ label: 'Wanted by' }),
  };
}

function lotsField() {
  const read = field((typed, refuse): 'one' | 'any' => {
    if (typed === '' || typed === 'one') return 'one';
    return typed === 'any' ? typed : refuse('Choose one lot or any lots.');
  });
  return asked(read, { label: 'From', kind: 'select', options: LOTS, filter: true });
}

/** The form as it is drawn. */
export type TakeFields = Drawn<ReturnType<typeof takeFields>>;

/** The question as it is read; `wanted` is null where it is not said yet how much. */
export function takeForm(reader: Reader, units: Units) {
  return z.strictObject(takeFields(reader, units)).transform((form, context) => {
    const { length, strips, depth, strip_length: stripLength } = form;
    const problem = (path: keyof typeof form, message: string) => {
      context.issues.push({ code: 'custom', path: [path], message, input: form });
      return { ...form, wanted: null };
    };
    const isStrips = strips !== null || depth !== null || stripLength !== null;
    if (length && isStrips) return problem('strips', 'Give a length or strips, not both.');
    if (isStrips && !strips) return problem('strips', 'Say how many strips.');
    if (isStrips && !depth) return problem('depth', 'Give the depth of a strip.');
    if (isStrips && !stripLength) return problem('strip_length', 'Give the length of a strip.');
    const wanted: Ask | null =
      strips && depth && stripLength
        ? {
            kind: 'strips',
            count: strips.value,
            depthTicks: depth.value,
            stripLengthTicks: stripLength.value,
            direction: 'across',
          }
        : length && { kind: 'length', lengthTicks: length.value };
    return { ...form, wanted };
  });
}

export type TakeForm = z.output<ReturnType<typeof takeForm>>;

/** The question where it is said how much is wanted, and of what. */
export type TakeQuestion = TakeForm & { readonly wanted: Ask };

/** Whether it is said how much is wanted, and of what. */
export function isQuestion(form: TakeForm): form is TakeQuestion {
  return form.wanted !== null && (form.cloth !== null || form.shade !== null || form.ask !== '');
}

/**
 * The question as an address asks it, narrowed to a cloth, a shade, or both. What was typed without a unit gets the
 * reader's, so that it asks the same of whoever follows it.
 */
export function askOf(
  form: TakeQuestion,
  { clothId, shadeId }: { readonly clothId: number | null; readonly shadeId: number | null },
  units: Units,
): Record<string, string | number | null> {
  const size = (typed: string | undefined) => withUnit(typed ?? '', sizeUnit(units));
  return {
    ask: clothId === null && shadeId === null ? form.ask : '',
    length: withUnit(form.length?.typed ?? '', lengthUnit(units)),
    strips: form.strips?.typed ?? '',
    depth: size(form.depth?.typed),
    strip_length: size(form.strip_length?.typed),
    cloth: clothId,
    shade: shadeId,
    lots: form.lots,
    by: form.by ?? '',
  };
}

/** A length's first word may stand apart from its unit, as in "1,500 m". */
const BEGINS_WITH_NUMBER = /^([-+]?[\d.,/]\S*(?:\s+(?:mm|cm|m|in|ft|yd))?)(?:\s+(.*))?$/i;
const NUMBER_ALONE = /^[\d\s.,/\p{No}-]+$/u;

/**
 * A question in one text, such as "3 m plum", "plum 3 m" or "2 1/2 yd organza ivory", as the form's fields: a length
 * before or behind words of the names of a shade and a cloth. Words that name no one shade or cloth stay in `ask`.
 */
export function readAsk(reader: Reader, text: string, units: Units): Typed {
  const words = text.trim().split(/\s+/);
  const isLength = (some: readonly string[]) => readLength(some.join(' '), lengthUnit(units)).ok;
  for (let count = words.length; count > 0; count -= 1) {
    const [before, after] = [words.slice(0, count), words.slice(count)];
    if (isLength(before)) return { length: before.join(' '), ...findNames(reader, after) };
  }
  for (let count = 1; count < words.length; count += 1) {
    const [before, after] = [words.slice(0, count), words.slice(count)];
    // A number alone at the end belongs to a name: "organza 150".
    if (isLength(after) && !NUMBER_ALONE.test(after.join(' ')))
      return { length: after.join(' '), ...findNames(reader, before) };
  }
  const [, length, names = ''] = BEGINS_WITH_NUMBER.exec(words.join(' ')) ?? [];
  if (length === undefined) return findNames(reader, words);
  return { length, ...findNames(reader, names.split(' ')) };
}

/** A cloth or a shade, and the text that it is found by. */
interface Named {
  readonly value: string;
  readonly name: string;
  readonly text: string;
}

/** The shade, the cloth, or both that the words name; the words themselves where they do not name one of them. */
function findNames(reader: Reader, words: readonly string[]): Typed {
  const some = words.join(' ');
  if (some === '') return {};
  const cloths = clothChoices(reader).map(({ value, label }) => ({ value, name: label, text: label }));
  const shades = [...readShadeNames(reader).values()].map((shade) => ({
    value: String(shade.id),
    name: shade.name,
    text: shadeText(shade),
  }));
  const named = { shade: ofName(shades, some), cloth: ofName(cloths, some) };
  if (named.shade && !named.cloth) return { shade: named.shade };
  if (named.cloth && !named.shade) return { cloth: named.cloth };
  const part = { shade: onlyOne(shades, some), cloth: onlyOne(cloths, some) };
  const isAmong = (all: readonly Named[]) => all.some(({ text }) => hasWords(text, words));
  if (part.shade && !isAmong(cloths)) return { shade: part.shade };
  if (part.cloth && !isAmong(shades)) return { cloth: part.cloth };
  for (let count = 1; count < words.length; count += 1) {
    const [before, after] = [words.slice(0, count).join(' '), words.slice(count).join(' ')];
    for (const [one, other] of [
      [before, after],
      [after, before],
    ] as const) {
      const both = { cloth: onlyOne(cloths, one), shade: onlyOne(shades, other) };
      if (both.cloth && both.shade) return { cloth: both.cloth, shade: both.shade };
    }
  }
  const plain = words.map((word) => word.replace(/,$/, '')).filter((word) => !/^(of|in)?$/i.test(word));
  return plain.join(' ') === some ? { ask: some } : findNames(reader, plain);
}

/** Whether every word begins a word of a text, whatever the case of its letters. */
export function hasWords(text: string, words: readonly string[]): boolean {
  const like = ` ${text.toLowerCase()}`;
  return words.every((word) => like.includes(` ${word.toLowerCase()}`));
}

/** What a shade is found by: its name, and that it is undyed. */
export function shadeText({ name, ground }: Pick<ShadeName, 'name' | 'ground'>): string {
  return ground ? `${name} undyed` : name;
}

function ofName(all: readonly Named[], text: string): string | undefined {
  return all.find(({ name }) => name.toLowerCase() === text.toLowerCase())?.value;
}

/** The one of that name, else the only one that has the text in it. */
function onlyOne(all: readonly Named[], some: string): string | undefined {
  const found = all.filter(({ text }) => text.toLowerCase().includes(some.toLowerCase()));
  return ofName(all, some) ?? (found.length === 1 ? found[0]?.value : undefined);
}
