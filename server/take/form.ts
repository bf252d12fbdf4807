import { z } from 'zod';
import type { Ask } from '../../src/fit/take.ts';
import { MOST_LENGTH_TICKS, readLength } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type Choice, clothChoices, optionalChosen, shadeChoices } from '../kit/choices.ts';
import { field, optionalDay, optionalLength, optionalText, optionalWhole } from '../kit/fields.ts';
import { asked, type Drawn } from '../kit/form-drawing.ts';
import type { Typed } from '../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../kit/units.ts';

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
    /** all of it in one text, from the field at the top of every page */
    ask: optionalText({ max: 120 }),
    length: optionalLength(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS, label: 'Length' }),
    strips: optionalWhole({ min: 1, max: MOST_STRIPS, label: 'Or strips', size: 'short' }),
    depth: optionalLength(sizeUnit(units), { ...size, label: 'Depth of a strip' }),
    strip_length: optionalLength(sizeUnit(units), { ...size, label: 'Length of a strip' }),
    cloth: optionalChosen(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'any cloth' }),
    shade: optionalChosen(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'any shade' }),
    lots: lotsField(),
    by: optionalDay({ label: 'By' }),
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

/** The question as it is read; `ask` is null where nothing is asked yet. */
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

/**
 * A question in one text, such as "3 m plum" or "2 1/2 yd organza ivory", as the form's fields: a length, then words
 * of the names of a shade and a cloth. What cannot be told stays in `ask`.
 */
export function readAsk(reader: Reader, text: string, units: Units): Typed {
  const words = text.trim().split(/\s+/);
  for (let count = words.length; count > 0; count -= 1) {
    const length = words.slice(0, count).join(' ');
    if (!readLength(length, lengthUnit(units)).ok) continue;
    const names = words.slice(count);
    if (names.length === 0) return { length };
    const found = findNames(reader, names);
    return found ? { length, ...found } : { length, ask: names.join(' ') };
  }
  return { ask: text.trim() };
}

/** A shade, a cloth, or both, of whose names the words are parts; null where that is none or not one alone. */
function findNames(reader: Reader, words: readonly string[]): Typed | null {
  const cloths = clothChoices(reader);
  const shades = shadeChoices(reader);
  const some = words.join(' ');
  const shade = onlyOne(shades, some);
  if (shade) return { shade };
  const cloth = onlyOne(cloths, some);
  if (cloth) return { cloth };
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
  return null;
}

/** The choice of that name, else the only one whose name has the text in it. */
function onlyOne(choices: readonly Choice[], text: string): string | undefined {
  const like = text.toLowerCase();
  const named = choices.filter(({ label }) => label.toLowerCase() === like);
  const found = named.length > 0 ? named : choices.filter(({ label }) => label.toLowerCase().includes(like));
  return found.length === 1 ? found[0]?.value : undefined;
}
