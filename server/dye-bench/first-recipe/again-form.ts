import { z } from 'zod';
import type { Reader } from '../../database/book.ts';
import { type Choice, optionalChoice, optionalChosen } from '../../kit/choices.ts';
import { choiceOrFirst } from '../../kit/fields.ts';
import { labFields, readLab } from '../../shelf/colour/fields.ts';

const SEEN = ['', 'photo', 'instrument'] as const;

/** So sure is the difference of two that were seen together (our rules, as of a single reading of each kind). */
export const SEEN_WITHIN = { photo: 1, instrument: 0.7 } as const;

/** A trial, and how it and the shade that is wanted were seen. */
export function againForm(reader: Reader, moreDyes: readonly string[]) {
  const [wanted, trial] = [
    labFields({ required: false, filter: true }),
    labFields({ required: false, filter: true }),
  ];
  return z
    .object({
      swatch_id: optionalChosen(readTrials(reader), 'a swatch', {
        label: 'Trial swatch',
        blank: 'Choose a swatch',
        filter: true,
      }),
      lot_id: optionalChosen(readDyedLots(reader), 'a dyed lot', {
        label: 'Dyed lot',
        blank: 'Choose a lot',
        filter: true,
      }),
      level: choiceOrFirst(['level', 'unlevel'], 'how level it is', {
        label: 'Level',
        options: [
          { value: 'level', label: 'Level, one even colour' },
          { value: 'unlevel', label: 'Unlevel' },
        ],
        filter: true,
      }),
      more_dye: optionalChoice(
        moreDyes.map((name) => ({ value: name, label: name })),
        'a dye that is known on the cloth',
        { label: 'Add a dye', blank: 'None' },
      ),
      seen: choiceOrFirst(SEEN, 'how both were seen', {
        label: 'Both seen together',
        options: [
          { value: '', label: 'As the book has it' },
          { value: 'photo', label: 'In one photo' },
          { value: 'instrument', label: 'With one instrument' },
        ],
        filter: true,
      }),
      wanted_l: wanted.l,
      wanted_a: wanted.a,
      wanted_b: wanted.b,
      trial_l: trial.l,
      trial_a: trial.a,
      trial_b: trial.b,
    })
    .transform((form, context) => {
      const refuseAs = (of: 'wanted' | 'trial') => (field: string, message: string) =>
        context.issues.push({ code: 'custom', message, path: [`${of}_${field}`], input: null });
      const typed = {
        wanted: readLab({ l: form.wanted_l, a: form.wanted_a, b: form.wanted_b }, refuseAs('wanted')),
        trial: readLab({ l: form.trial_l, a: form.trial_a, b: form.trial_b }, refuseAs('trial')),
      };
      if (form.seen !== '' && !typed.wanted) refuseAs('wanted')('l', 'L*: enter what was read of the shade.');
      if (form.seen !== '' && !typed.trial) refuseAs('trial')('l', 'L*: enter what was read of the trial.');
      if (form.seen === '' && (typed.wanted || typed.trial))
        context.issues.push({
          code: 'custom',
          message: 'Both seen together: choose how they were read.',
          path: ['seen'],
          input: null,
        });
      if (form.swatch_id !== null && form.lot_id !== null)
        context.issues.push({
          code: 'custom',
          message: 'Choose a swatch or a lot, not both.',
          path: ['lot_id'],
          input: null,
        });
      const { level, more_dye, seen } = form;
      return { level, more_dye, seen, ...typed };
    });
}

/** The newest swatches of jobs, which are dyed for a shade. */
function readTrials(reader: Reader): Choice[] {
  const rows = reader.all(
    reader.db
      .selectFrom('swatch')
      .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
      .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
      .select(['swatch.id', 'swatch.position', 'swatch_job.code', 'recipe.name'])
      .orderBy('swatch.id', 'desc')
      .limit(200),
  );
  return rows.map(({ id, position, code, name }) => ({
    value: String(id),
    label: `${code}.${position}, ${name}`,
  }));
}

/** The newest lots that came out of a batch. */
function readDyedLots(reader: Reader): Choice[] {
  const rows = reader.all(
    reader.db
      .selectFrom('lot')
      .innerJoin('batch', 'batch.id', 'lot.batch_id')
      .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
      .select(['lot.id', 'lot.code', 'recipe.name'])
      .orderBy('lot.id', 'desc')
      .limit(200),
  );
  return rows.map(({ id, code, name }) => ({ value: String(id), label: `${code}, ${name}` }));
}
