import { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { withBlank } from '../../kit/choices.ts';
import { choiceField, optionalText, textField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { togetherPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import type { Page } from '../../web/page-frame.ts';
import { newPairPhotosPath } from '../photo/pages.ts';
import { readLotsNamed } from './lots.ts';

const VERDICTS = ['may meet', 'look', 'apart'] as const;
const SEEN: Readonly<Record<(typeof VERDICTS)[number], string>> = {
  'may meet': 'They may be sewn together',
  look: 'Not sure: look again',
  apart: 'Keep them apart',
};
const STATES = ['dry', 'wet'] as const;

const EYE_FIELDS = {
  verdict: choiceField(VERDICTS, 'what you see', {
    label: 'Side by side',
    options: withBlank(
      VERDICTS.map((value) => ({ value, label: SEEN[value] })),
      'choose',
    ),
  }),
  light: textField({
    max: 80,
    label: 'Light',
    what: 'The light',
    suggest: [
      'daylight, north window',
      'overcast sky',
      'daylight lamp, D65',
      'workroom lamps',
      'stage light',
    ],
  }),
  state: choiceField(STATES, 'whether they are wet or dry', {
    label: 'Wet or dry',
    options: STATES.map((value) => ({ value, label: value })),
  }),
  note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
};

export const EYE_FORM = z.strictObject(EYE_FIELDS);

/** Two lots that somebody looks at side by side: `one` and `other` of the address are their codes. */
export function eyePage(reader: Reader, codes: LotCodes, typed: Typed | null = null) {
  const [one, other] = readTwo(reader, codes);
  const data = {
    requestKey: mintKey(),
    action: eyePath(one.code, other.code),
    lots: [one, other].map(({ code, href, chip, cloth }) => ({ code, href, chip, cloth })),
    /** of different cloths or shades */
    isMixed: one.clothId !== other.clothId || one.shadeId !== other.shadeId,
    photo: newPairPhotosPath({ kind: 'lot', id: one.id }, { kind: 'lot', id: other.id }),
    back: togetherPath(one),
    fields: Object.values(drawFields(EYE_FIELDS, { state: 'dry', ...typed })),
  };
  const title = `Judge ${one.code} and ${other.code} by eye`;
  return { view: 'shelf/together/eye', data, title, room: 'shelf' } satisfies Page;
}

export interface LotCodes {
  readonly one: string;
  readonly other: string;
}

export const eyePath = (one: string, other: string) =>
  `/shelf/together/${encodeURIComponent(one)}/${encodeURIComponent(other)}`;

/** Keeps what somebody saw; the last that was seen of two lots counts. */
export function saveEyeJudgement(tx: Tx, codes: LotCodes, form: z.output<typeof EYE_FORM>): Answer {
  const [one, other] = readTwo(tx, codes);
  const { verdict, light, state, note } = form;
  tx.run(
    tx.db.insertInto('pair_judgement').values({
      lot_id: one.id,
      swatch_id: null,
      to_lot_id: other.id,
      to_swatch_id: null,
      to_shade_id: null,
      how: 'eye',
      verdict,
      delta_centi: null,
      uncertainty_centi: null,
      diff_l: null,
      diff_a: null,
      diff_b: null,
      light,
      state,
      note,
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
    }),
  );
  const said = {
    'may meet': 'may be sewn together',
    look: 'are to be looked at again',
    apart: 'are kept apart',
  };
  return {
    location: togetherPath(one),
    said: `${one.code} and ${other.code} ${said[verdict]}, judged by eye.`,
  };
}

function readTwo(reader: Reader, { one, other }: LotCodes) {
  const lots = readLotsNamed(reader, [one, other]);
  const [first, second] = [one, other].map((code) => lots.find((lot) => lot.code === code));
  if (!first) throw unknown(`lot ${one.slice(0, 40)}`);
  if (!second || first.id === second.id) throw unknown(`other lot ${other.slice(0, 40)}`);
  return [first, second] as const;
}
