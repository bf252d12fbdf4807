import { z } from 'zod';
import { type SewingJob, USUAL_PASSES } from '../../../src/garment/sewing.ts';
import { readFine, readRatios, readSewingRate, readStitches } from '../../../src/garment/stitch-figures.ts';
import { STITCHES, THREADS_OF } from '../../../src/garment/thread.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import {
  choiceField,
  lengthField,
  optionalLength,
  optionalPercent,
  optionalReading,
  optionalWhole,
} from '../../kit/fields.ts';
import { keepTyped, type Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { wordFor } from '../../kit/words.ts';
import type { Asker } from '../../web/house.ts';
import { JOB_WORDS, ratesPath, STITCH_WORDS } from './words.ts';

/** What holds for all sewing: waste, cones and the steps of shops. */
export function sewingFields(units: Units) {
  return {
    waste: optionalPercent({
      maxBp: 10_000,
      label: 'Thread wasted',
      hint: 'Sources give 10 to 20 %.',
    }),
    put_up: optionalLength(lengthUnit(units), {
      min: 10 * TICKS_PER.m,
      max: 100_000 * TICKS_PER.m,
      what: 'put-up',
      label: 'Length on a cone',
      hint: 'As its label says.',
    }),
    metric_step: lengthField('cm', {
      min: TICKS_PER.mm,
      max: 10 * TICKS_PER.m,
      what: 'step',
      label: 'Shops that sell by the metre cut to',
      hint: '10 cm is common practice.',
    }),
    imperial_step: lengthField('yd', {
      min: TICKS_PER.in / 32,
      max: 10 * TICKS_PER.yd,
      what: 'step',
      label: 'Shops that sell by the yard cut to',
      hint: 'An eighth is common practice.',
    }),
  };
}

export function sewingForm({ units }: Asker) {
  return z.strictObject(sewingFields(units));
}

type SewingForm = z.output<ReturnType<typeof sewingForm>>;

/** How one job is sewn, how fast, and what thread it was measured to take. */
export function jobFields(units: Units) {
  const metric = units.system === 'metric';
  const fine = metric ? 'mm' : 'in';
  return {
    rate: optionalReading((typed) => readSewingRate(typed, lengthUnit(units)), {
      label: 'Rate',
      unit: metric ? 'm/min' : 'yd/min',
      hint: 'A minute, with handling: time your own.',
    }),
    passes: optionalWhole({
      min: 1,
      max: 10,
      label: 'Passes',
      size: 'short',
    }),
    stitch: choiceField(['', ...STITCHES], 'a stitch', {
      label: 'Stitch, by its class of ISO 4915',
      options: [
        { value: '', label: 'not said' },
        ...STITCHES.map((value) => ({ value, label: STITCH_WORDS[value] })),
      ],
    }),
    measured: optionalReading(readRatios, { label: 'Measured on a sample', unit: '×', size: 'mid' }),
    stitches: optionalReading((typed) => readStitches(typed, metric ? 'cm' : 'in'), {
      label: 'Stitches',
      unit: metric ? 'per cm' : 'per in',
    }),
    thickness: optionalReading((typed) => readFine(typed, fine), {
      label: 'Thickness of the seam',
      unit: fine,
      hint: 'All layers together.',
    }),
    stitch_width: optionalReading((typed) => readFine(typed, fine), {
      label: 'Width of an overedge stitch',
      unit: fine,
      hint: 'For 504.',
    }),
  };
}

export function jobForm({ units }: Asker) {
  return z.strictObject(jobFields(units)).superRefine(({ stitch, measured }, context) => {
    if (stitch === '' || measured === null || measured.length <= THREADS_OF[stitch].length) return;
    const threads = THREADS_OF[stitch];
    const message = wordFor(
      threads.length,
      `${stitch} has one thread: write one figure.`,
      `${stitch} has ${threads.length} threads (${threads.join(', ')}): write so many figures, or their sum.`,
    );
    context.addIssue({ code: 'custom', message, path: ['measured'] });
  });
}

type JobForm = z.output<ReturnType<typeof jobForm>>;

export function changeSewing(tx: Tx, form: SewingForm, units: Units, typed: Typed): Answer {
  const values = {
    waste_bp: form.waste?.value ?? null,
    put_up_ticks: form.put_up?.value ?? null,
    metric_step_ticks: form.metric_step.value,
    imperial_step_ticks: form.imperial_step.value,
    typed: keepTyped(units, textsOf(typed, sewingFields(units))),
  };
  tx.run(
    tx.db
      .insertInto('sewing')
      .values({ id: 1, ...values })
      .onConflict((row) => row.column('id').doUpdateSet(values)),
  );
  return { location: ratesPath(), said: 'Waste, cones and the steps of shops are changed.' };
}

export function changeJob(tx: Tx, job: SewingJob, form: JobForm, units: Units, typed: Typed): Answer {
  const [first, second, third] = form.measured ?? [];
  const said = {
    stitch: form.stitch === '' ? null : form.stitch,
    stitches_milli_in: form.stitches,
    thickness_um: form.thickness,
    stitch_width_um: form.stitch_width,
    ratio_1_milli: first ?? null,
    ratio_2_milli: second ?? null,
    ratio_3_milli: third ?? null,
    rate_ticks_min: form.rate,
  };
  const passes = form.passes?.value ?? USUAL_PASSES[job];
  const answer = {
    location: ratesPath(),
    said: `${JOB_WORDS[job]}: the workroom’s own figures are changed.`,
  };
  // The form opens with what is usual: saved so, it says nothing of a job that nothing was said of.
  const isUsual = passes === USUAL_PASSES[job] && Object.values(said).every((one) => one === null);
  if (isUsual && !tx.first(tx.db.selectFrom('sewing_job').select('job').where('job', '=', job)))
    return answer;
  const values = { ...said, passes, typed: keepTyped(units, textsOf(typed, jobFields(units))) };
  tx.run(
    tx.db
      .insertInto('sewing_job')
      .values({ job, ...values })
      .onConflict((row) => row.column('job').doUpdateSet(values)),
  );
  return answer;
}

/** What was typed in the fields of a form. */
function textsOf(typed: Typed, fields: object): Typed {
  return Object.fromEntries(Object.keys(fields).map((name) => [name, (typed[name] ?? '').trim()]));
}
