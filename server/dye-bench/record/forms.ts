import { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { choiceField, optionalText } from '../../kit/fields.ts';
import { conflict, invalid } from '../../refusal.ts';
import { CHOOSE_VIEWING, labFields, readLab, viewingField } from '../../shelf/colour/fields.ts';
import { HOW_WORDS } from '../../shelf/shade/form.ts';
import { readBatch, readSentLengths, stateOf } from '../batch/store.ts';
import { insertLog, recordPath } from '../pot/log-verbs.ts';

const RESULTS = ['accepted', 'shaded again', 'rejected'] as const;
const SIDES = ['before', 'after'] as const;
const HOW = ['instrument', 'photo', 'typed'] as const;

export const RESULT = z.strictObject({
  result: choiceField(RESULTS, 'how the shade was judged', {
    label: 'The shade is',
    options: toChoose(RESULTS, (result) => result),
  }),
  result_note: optionalText({ max: 2000, lines: true, label: 'Why', kind: 'text', size: 'long' }),
});

export const SWATCH_FIELDS = {
  side: choiceField(SIDES, 'whether it is from before or after dyeing', {
    label: 'From',
    size: 'short',
    options: toChoose(SIDES, (side) => `${side} dyeing`),
  }),
  ...labFields({ required: false }),
  viewing: viewingField({ required: false }),
  how: choiceField(HOW, 'how the colour was got', {
    label: 'How it was got',
    options: toChoose(HOW, (how) => HOW_WORDS[how]),
  }),
  swatch_note: optionalText({
    max: 2000,
    lines: true,
    label: 'Swatch note',
    kind: 'text',
    size: 'long',
  }),
};

function toChoose<W extends string>(values: readonly W[], say: (value: W) => string): Choice[] {
  return withBlank(
    values.map((value) => ({ value, label: say(value) })),
    'choose',
  );
}

/** A swatch: CIELAB, or a note alone, such as where its photograph lies. */
export const SWATCH = z
  .strictObject(SWATCH_FIELDS)
  .transform(({ side, l, a, b, viewing, how, swatch_note: note }, context) => {
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [path], input: null });
    const lab = readLab({ l, a, b }, refuse);
    if (note === '' && [l, a, b].every((axis) => axis === null))
      refuse('swatch_note', 'Give CIELAB values, or a note such as where the photograph lies.');
    if (lab && !viewing) refuse('viewing', CHOOSE_VIEWING);
    return { side, note, colour: lab && viewing && { lab, viewing, labHow: how } };
  });

/** How the shade was judged; the last verdict counts. @throws {Refusal} conflict before the start */
export function judgeShade(tx: Tx, code: string, form: z.output<typeof RESULT>): Answer {
  const batch = readBatch(tx, code);
  const sent = readSentLengths(tx, batch.id);
  if (sent.length === 0) throw conflict(`${code} is ${stateOf(batch, sent)}: there is no shade to judge.`);
  insertLog(tx, batch.id, { bath: 0, kind: 'result', what: form.result, note: form.result_note });
  return { location: recordPath(code), said: `${code} is ${form.result}.` };
}

export function keepSwatch(tx: Tx, code: string, form: z.output<typeof SWATCH>): Answer {
  const batch = readBatch(tx, code);
  if (batch.cancelledAt !== null)
    throw invalid('side', `${code} is cancelled: add the swatch to another batch.`);
  const { side, note, colour } = form;
  insertLog(tx, batch.id, {
    bath: 0,
    kind: 'swatch',
    what: side,
    note,
    ...colour,
  });
  return { location: recordPath(code), said: `The swatch from ${side} dyeing is kept.` };
}
