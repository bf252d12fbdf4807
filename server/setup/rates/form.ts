import { z } from 'zod';
import { type SewingJob, USUAL_PASSES } from '../../../src/garment/sewing.ts';
import { readFine, readRatios, readSewingRate, readStitches } from '../../../src/garment/stitch-figures.ts';
import { STITCHES, THREADS_OF } from '../../../src/garment/thread.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reading } from '../../../src/quantity/reading.ts';
import { readPercent } from '../../../src/quantity/whole.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { choiceField, field, lengthField, optionalLength, optionalWhole } from '../../kit/fields.ts';
import { keepTyped } from '../../kit/typed.ts';
import { wordFor } from '../../kit/words.ts';
import type { Asker } from '../../web/house.ts';
import { JOB_WORDS, ratesPath } from './words.ts';

/** What holds for all sewing: waste, cones and the steps of shops. */
export function sewingForm({ units }: Asker) {
  const metric = units.system === 'metric';
  return z.strictObject({
    waste: optionalRead((typed) => readPercent(typed, { maxBp: 10_000 })),
    put_up: optionalLength(metric ? 'm' : 'yd', {
      min: 10 * TICKS_PER.m,
      max: 100_000 * TICKS_PER.m,
      what: 'put-up',
    }),
    metric_step: lengthField('cm', { min: TICKS_PER.mm, max: 10 * TICKS_PER.m, what: 'step' }),
    imperial_step: lengthField('yd', { min: TICKS_PER.in / 32, max: 10 * TICKS_PER.yd, what: 'step' }),
  });
}

export type SewingForm = z.output<ReturnType<typeof sewingForm>>;

/** How one job is sewn, how fast, and what thread it was measured to take. */
export function jobForm({ units }: Asker) {
  const metric = units.system === 'metric';
  return z
    .strictObject({
      rate: optionalRead((typed) => readSewingRate(typed, metric ? 'm' : 'yd')),
      passes: optionalWhole({ min: 1, max: 10 }),
      stitch: choiceField(['', ...STITCHES], 'a stitch'),
      measured: optionalRead(readRatios),
      stitches: optionalRead((typed) => readStitches(typed, metric ? 'cm' : 'in')),
      thickness: optionalRead((typed) => readFine(typed, metric ? 'mm' : 'in')),
      stitch_width: optionalRead((typed) => readFine(typed, metric ? 'mm' : 'in')),
    })
    .superRefine(({ stitch, measured }, context) => {
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

export type JobForm = z.output<ReturnType<typeof jobForm>>;

export function changeSewing(tx: Tx, form: SewingForm, units: Units, typed: Texts): Answer {
  const values = {
    waste_bp: form.waste,
    put_up_ticks: form.put_up?.value ?? null,
    metric_step_ticks: form.metric_step.value,
    imperial_step_ticks: form.imperial_step.value,
    typed: keepTyped(units, textsOf(typed, ['waste', 'put_up', 'metric_step', 'imperial_step'])),
  };
  tx.run(
    tx.db
      .insertInto('sewing')
      .values({ id: 1, ...values })
      .onConflict((row) => row.column('id').doUpdateSet(values)),
  );
  return { location: ratesPath(), said: 'Waste, cones and the steps of shops are changed.' };
}

export function changeJob(tx: Tx, job: SewingJob, form: JobForm, units: Units, typed: Texts): Answer {
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
  const values = { ...said, passes, typed: keepTyped(units, textsOf(typed, JOB_FIELDS)) };
  tx.run(
    tx.db
      .insertInto('sewing_job')
      .values({ job, ...values })
      .onConflict((row) => row.column('job').doUpdateSet(values)),
  );
  return answer;
}

type Texts = Readonly<Record<string, string>>;

export const JOB_FIELDS = [
  'rate',
  'passes',
  'stitch',
  'measured',
  'stitches',
  'thickness',
  'stitch_width',
] as const;

function textsOf(typed: Texts, names: readonly string[]): Record<string, string> {
  return Object.fromEntries(names.map((name) => [name, (typed[name] ?? '').trim()]));
}

function optionalRead<T>(read: (typed: string) => Reading<T>) {
  return field((typed, refuse): T | null => {
    if (typed.trim() === '') return null;
    const reading = read(typed);
    return reading.ok ? reading.value : refuse(reading.reason);
  });
}
