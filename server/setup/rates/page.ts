import { SEWING_JOBS, type SewingJob, USUAL_PASSES } from '../../../src/garment/sewing.ts';
import { showFine, showRatios } from '../../../src/garment/stitch-figures.ts';
import { threadOf } from '../../../src/garment/thread.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { writePercent } from '../../../src/quantity/whole.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import { readKept, type Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { jobFields, sewingFields } from './form.ts';
import { type JobRates, ratesOf, readSewing, type Sewing } from './store.ts';
import { JOB_WORDS, ratesPath, sayRate, sayThread, sayThreads } from './words.ts';

/** The workroom's own rates of sewing, its thread and the steps of its shops. */
export function ratesPage(reader: Reader, units: Units, typed?: Typed) {
  const sewing = readSewing(reader);
  const data = {
    requestKey: mintKey(),
    fields: drawFields(sewingFields(units), typed ?? textsOf(sewing, units)),
    jobs: SEWING_JOBS.map((job) => {
      const { stitching, passes, rateTicksMin } = ratesOf(sewing, job);
      return {
        job,
        what: JOB_WORDS[job],
        href: ratesPath(job),
        stitch: stitching.stitch ?? '',
        thread: sayThread(threadOf(stitching)),
        passes,
        /** '' where nobody has said */
        rate: rateTicksMin === null ? '' : sayRate(rateTicksMin, units),
      };
    }),
  };
  return { view: 'setup/rates', data, title: 'Rates', room: 'setup' } satisfies Page;
}

function textsOf(sewing: Sewing, units: Units): Typed {
  const { wasteBp, putUpTicks, metricStepTicks, imperialStepTicks } = sewing;
  return {
    waste: wasteBp === null ? '' : writePercent(wasteBp),
    put_up: putUpTicks === null ? '' : writeLength(putUpTicks, units),
    metric_step: showSize(metricStepTicks, { system: 'metric', stepTicks: 1 }, 'near'),
    imperial_step: asTypedAgain(readKept(sewing.typed)?.texts.imperial_step, imperialStepTicks),
  };
}

/** An eighth of a yard is read again as it was typed; nobody writes it in inches. */
function asTypedAgain(text: string | undefined, ticks: number): string {
  if (text) return text;
  return ticks === TICKS_PER.yd / 8 ? '1/8 yd' : writeLength(ticks, { system: 'imperial', stepTicks: 1 });
}

/** One job's own figures. */
export function jobRatesPage(reader: Reader, units: Units, job: SewingJob, typed?: Typed) {
  const rates = ratesOf(readSewing(reader), job);
  const { stitch } = rates.stitching;
  const data = {
    requestKey: mintKey(),
    job,
    what: JOB_WORDS[job],
    action: ratesPath(job),
    fields: drawFields(jobFields(units), typed ?? textsOfJob(rates, units)),
    /** what the stitch takes as it is kept now */
    thread: sayThread(threadOf(rates.stitching)),
    /** the threads of the stitch, in the order of their figures; '' where no stitch is chosen */
    threads: stitch === null ? '' : sayThreads(stitch),
    usualPasses: USUAL_PASSES[job],
  };
  return { view: 'setup/job-rates', data, title: JOB_WORDS[job], room: 'setup' } satisfies Page;
}

function textsOfJob(rates: JobRates, units: Units): Typed {
  const { stitching, passes, rateTicksMin } = rates;
  const kept = readKept(rates.typed);
  if (kept?.system === units.system) return { ...kept.texts, passes: String(passes) };
  const { stitchesMilliIn, thicknessUm, stitchWidthUm, measuredMilli } = stitching;
  return {
    rate: rateTicksMin === null ? '' : writeLength(rateTicksMin, units),
    passes: String(passes),
    stitch: stitching.stitch ?? '',
    measured: showRatios(measuredMilli),
    stitches: stitchesMilliIn === null ? '' : `${stitchesMilliIn / 1000} per in`,
    thickness: thicknessUm === null ? '' : showFine(thicknessUm),
    stitch_width: stitchWidthUm === null ? '' : showFine(stitchWidthUm),
  };
}
