import { z } from 'zod';
import { checkLab } from '../../../src/colour/lab.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { choiceField, field, optionalText } from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { conflict, invalid } from '../../refusal.ts';
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
  l: coordinate('L*'),
  a: coordinate('a*'),
  b: coordinate('b*'),
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
    hint: 'Such as where the swatch or its photograph lies.',
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
  .transform(({ side, l, a, b, how, swatch_note: note }, context) => {
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [path], input: null });
    if (l === null && a === null && b === null) {
      if (note === '')
        refuse('swatch_note', 'Give CIELAB values, or a note such as where the photograph lies.');
      return { side, note, lab: null, how };
    }
    if (l === null || a === null || b === null) {
      for (const [axis, value] of Object.entries({ l, a, b })) {
        if (value === null) refuse(axis, 'CIELAB needs all three: L*, a* and b*.');
      }
      return { side, note, lab: null, how };
    }
    for (const problem of checkLab({ l, a, b })) refuse(problem.field, problem.message);
    return { side, note, lab: { l, a, b }, how };
  });

function coordinate(name: string) {
  const read = field((typed, refuse): number | null => {
    const text = typed.trim().replace('−', '-').replace(',', '.');
    if (text === '') return null;
    return /^-?\d{1,3}(\.\d{1,3})?$/.test(text) ? Number(text) : refuse(`${name} is a number such as 41.5.`);
  });
  return asked(read, { label: name, size: 'short', maxlength: 16, required: false });
}

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
  if (batch.cancelledAt !== null) throw invalid('side', `${code} is cancelled.`);
  const { side, note, lab, how } = form;
  insertLog(tx, batch.id, {
    bath: 0,
    kind: 'swatch',
    what: side,
    note,
    ...(lab ? { lab, labHow: how } : {}),
  });
  return { location: recordPath(code), said: `The swatch from ${side} dyeing is kept.` };
}
