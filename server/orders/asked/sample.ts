import { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { shadeChip } from '../../kit/chip.ts';
import {
  chosenField,
  clothChoices,
  optionalChosen,
  shadeChoices,
  supplierChoices,
} from '../../kit/choices.ts';
import { choiceField, optionalDay, optionalText } from '../../kit/fields.ts';
import { supplierPath, swatchPath } from '../../kit/paths.ts';
import { dayOf, showDay } from '../../kit/when.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import { ASKED_PATH } from './reservation.ts';

/** A sample of a cloth that is asked of a supplier. */
export function sampleFields(reader: Reader) {
  return {
    supplier_id: chosenField(supplierChoices(reader), 'a supplier', {
      label: 'Of',
      blank: 'choose a supplier',
    }),
    cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'choose a cloth' }),
    shade_id: optionalChosen(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'any shade' }),
    asked_on: optionalDay({ label: 'Asked on', hint: 'Blank: today.' }),
    note: optionalText({ max: 500, label: 'Note' }),
  };
}

export function sampleForm(reader: Reader) {
  return z.strictObject(sampleFields(reader));
}

export function askForSample(tx: Tx, form: z.output<ReturnType<typeof sampleForm>>): Answer {
  const today = dayOf(tx.at);
  if (form.asked_on !== null && form.asked_on > today)
    throw invalid('asked_on', 'Asked on: enter today or a day before.');
  tx.run(
    tx.db.insertInto('sample_request').values({
      supplier_id: form.supplier_id,
      cloth_id: form.cloth_id,
      shade_id: form.shade_id,
      note: form.note,
      asked_on: form.asked_on ?? today,
      came_on: null,
      verdict: null,
      swatch_id: null,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: ASKED_PATH, said: 'The sample is asked for.' };
}

const VERDICTS = ['', 'right', 'not right'] as const;

/** What came of a sample: the day, the verdict, and the swatch of ours that it was held against. */
export function answerFields(reader: Reader) {
  return {
    came_on: optionalDay({ label: 'Came on', hint: 'Blank: not yet.' }),
    verdict: choiceField(VERDICTS, 'the verdict', {
      label: 'Verdict',
      required: false,
      options: [
        { value: '', label: 'not judged yet' },
        { value: 'right', label: 'right' },
        { value: 'not right', label: 'not right' },
      ],
    }),
    swatch_id: optionalChosen(swatchChoices(reader), 'a swatch', {
      label: 'Compared with our swatch',
      blank: 'none',
    }),
    note: optionalText({ max: 500, label: 'Note' }),
  };
}

export function answerForm(reader: Reader) {
  return z.strictObject(answerFields(reader));
}

export function answerSample(tx: Tx, id: number, form: z.output<ReturnType<typeof answerForm>>): Answer {
  const sample = tx.first(tx.db.selectFrom('sample_request').select('asked_on').where('id', '=', id));
  if (!sample) throw unknown('such sample');
  const { came_on: cameOn } = form;
  if (cameOn !== null && cameOn < sample.asked_on)
    throw invalid(
      'came_on',
      `Came on: enter ${showDay(sample.asked_on)}, when it was asked for, or a day after.`,
    );
  if (cameOn !== null && cameOn > dayOf(tx.at))
    throw invalid('came_on', 'Came on: enter today or a day before.');
  if (cameOn === null && form.verdict !== '')
    throw conflict('A sample is judged once it came: enter the day that it came on.');
  tx.run(
    tx.db
      .updateTable('sample_request')
      .set({
        came_on: cameOn,
        verdict: form.verdict === '' ? null : form.verdict,
        swatch_id: form.swatch_id,
        note: form.note,
      })
      .where('id', '=', id),
  );
  return {
    location: ASKED_PATH,
    said: form.verdict === '' ? 'The sample is noted.' : `The sample is ${form.verdict}.`,
  };
}

const MOST_SWATCHES = 60;

const lastSwatches = prepared((db) =>
  db
    .selectFrom('swatch')
    .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
    .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
    .select(['swatch.id', 'swatch_job.code', 'swatch.position', 'recipe.name'])
    .orderBy('swatch.id', 'desc')
    .limit(MOST_SWATCHES),
);

/** The last swatches that were dyed here: "S3, swatch 2: Kelp". */
function swatchChoices(reader: Reader) {
  return reader.all(lastSwatches()).map(({ id, code, position, name }) => ({
    value: String(id),
    label: `${code}, swatch ${position}: ${name}`,
  }));
}

function samplesQuery(db: Reader['db']) {
  return db
    .selectFrom('sample_request')
    .innerJoin('supplier', 'supplier.id', 'sample_request.supplier_id')
    .innerJoin('cloth', 'cloth.id', 'sample_request.cloth_id')
    .leftJoin('shade', 'shade.id', 'sample_request.shade_id')
    .leftJoin('swatch', 'swatch.id', 'sample_request.swatch_id')
    .leftJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
    .selectAll('sample_request')
    .select(['supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
    .select(['shade.lab_l', 'shade.lab_a', 'shade.lab_b', 'swatch_job.code as swatchCode', 'swatch.position'])
    .orderBy('sample_request.asked_on', 'desc')
    .orderBy('sample_request.id', 'desc');
}

const samples = prepared((db) => samplesQuery(db));
const samplesOfJob = prepared((db, code: Param<string>) =>
  samplesQuery(db).where('swatch_job.code', '=', code),
);

/** A sample as pages tell it. */
export type SampleView = ReturnType<typeof readSamples>[number];

/** Samples that were asked for, the last first; of one swatch job, those that were held against its swatches. */
export function readSamples(reader: Reader, jobCode: string | null = null) {
  return reader.all(jobCode === null ? samples() : samplesOfJob(jobCode)).map((row) => ({
    id: row.id,
    supplier: { name: row.supplier, href: supplierPath(row.supplier_id) },
    cloth: row.cloth,
    /** null: any shade */
    chip: row.shade === null ? null : shadeChip({ ...row, name: row.shade }),
    note: row.note,
    asked: showDay(row.asked_on),
    came: row.came_on === null ? '' : showDay(row.came_on),
    /** '' while it is not judged */
    verdict: row.verdict ?? '',
    swatch:
      row.swatchCode === null
        ? null
        : { name: `${row.swatchCode}, swatch ${row.position}`, href: swatchPath(row.swatchCode) },
    asTyped: {
      came_on: row.came_on ?? '',
      verdict: row.verdict ?? '',
      swatch_id: String(row.swatch_id ?? ''),
      note: row.note,
    },
  }));
}
