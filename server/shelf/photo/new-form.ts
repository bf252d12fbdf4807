import { z } from 'zod';
import { type Reading, refused } from '../../../src/quantity/reading.ts';
import { readShare } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import {
  choiceField,
  choiceOrFirst,
  field,
  optionalText,
  readingField,
  textField,
  wholeField,
} from '../../kit/fields.ts';
import { asked, unasked } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Picture } from './process.ts';
import { readSubject, subjectChoices, withSubject } from './subject.ts';
import { BACKING_WORDS, PHOTO_KIND_WORDS, type PhotoKind } from './words.ts';

const KINDS = Object.keys(PHOTO_KIND_WORDS) as PhotoKind[];
const BACKINGS = ['white', 'black', 'either'] as const;
const STATES = ['dry', 'wet'] as const;
const LEAST_CARD_BP = 100;
const MOST_LAYERS = 64;

/** A photo that came with a form, or why it did not. */
export type TakenIn = { readonly picture: Picture } | { readonly why: string };

/** The photo itself as a field, so that what is wrong with it is told with the rest. */
export function photoField(taken: TakenIn) {
  return unasked(field((_, refuse) => ('picture' in taken ? taken.picture : refuse(taken.why))));
}

const OTHERWISE: TakenIn = { why: 'Photo: take a photo, or choose one.' };

/** What photos are taken of, and how the cloth lies. What one field must be depends on what was typed in others. */
export function photoSetFields(reader: Reader, typed: Typed) {
  const kind = KINDS.find((each) => each === typed.kind) ?? 'pair';
  const [one, other] = [readSubject(typed.one ?? ''), readSubject(typed.other ?? '')];
  const ones = withSubject(reader, subjectChoices(reader, { beside: other }), one);
  const others = withSubject(reader, subjectChoices(reader, { beside: one, withShades: true }), other);
  const subjectIn = (choices: readonly Choice[], text: string) =>
    choices.some(({ value }) => value === text) ? readSubject(text) : null;
  return {
    kind: choiceOrFirst(KINDS, 'what is in the photo', {
      label: 'In the photo',
      options: KINDS.map((value) => ({ value, label: PHOTO_KIND_WORDS[value] })),
    }),
    one: asked(
      field((text, refuse) => {
        const subject = subjectIn(ones, text);
        return subject && subject.kind !== 'shade' ? subject : refuse('Cloth A: choose a lot or a swatch.');
      }),
      { label: 'Cloth A', kind: 'select', options: withBlank(ones, 'choose') },
    ),
    other: asked(
      field((text, refuse) => {
        if (kind !== 'pair')
          return text === '' ? null : refuse('Cloth B: only one cloth is in the photo. Choose none.');
        if (text !== '' && text === typed.one) return refuse('Cloth B: this is cloth A. Choose another.');
        return subjectIn(others, text) ?? refuse('Cloth B: choose what lies beside cloth A.');
      }),
      { label: 'Cloth B', kind: 'select', options: withBlank(others, 'none') },
    ),
    layers: wholeField({ min: 1, max: MOST_LAYERS, label: 'Layers of each', size: 'short' }),
    backing: asked(
      field((text, refuse) => {
        if (kind === 'backings') return null;
        return BACKINGS.find((each) => each === text) ?? refuse('Below them: choose white or black.');
      }),
      {
        label: 'Below them',
        kind: 'select',
        options: BACKINGS.map((value) => ({ value, label: BACKING_WORDS[value] })),
      },
    ),
    state: choiceField(STATES, 'whether it is wet or dry', {
      label: 'Wet or dry',
      options: STATES.map((value) => ({ value, label: value })),
    }),
    light: textField({
      max: 80,
      label: 'Light',
      what: 'The light',
      suggest: ['daylight, north window', 'overcast sky', 'daylight lamp, D65', 'workroom lamps'],
    }),
    card: readingField(readCard, {
      label: 'The card reflects',
      unit: '%',
      hint: 'A usual grey card is 18 %.',
    }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
  };
}

function readCard(typed: string): Reading<number> {
  const read = readShare(typed);
  return read.ok && read.value < LEAST_CARD_BP ? refused('The card reflects: enter 1 % or more.') : read;
}

export function photoSetForm(reader: Reader, typed: Typed, taken: TakenIn = OTHERWISE) {
  return z.strictObject({ ...photoSetFields(reader, typed), photo: photoField(taken) });
}

export type PhotoSetForm = z.output<ReturnType<typeof photoSetForm>>;

/** One more photo of the same cloths. */
export function morePhotosForm(taken: TakenIn = OTHERWISE) {
  return z.strictObject({ photo: photoField(taken) });
}
