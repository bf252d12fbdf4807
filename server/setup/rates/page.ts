import { SEWING_JOBS, type SewingJob, USUAL_PASSES } from '../../../src/garment/sewing.ts';
import { showFine, showRatios } from '../../../src/garment/stitch-figures.ts';
import { STITCHES, threadOf } from '../../../src/garment/thread.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { writePercent } from '../../../src/quantity/whole.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { mintKey } from '../../kit/request-key.ts';
import { readKept, type Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { JOB_FIELDS } from './form.ts';
import { type JobRates, ratesOf, readSewing, type Sewing } from './store.ts';
import { JOB_WORDS, ratesPath, STITCH_WORDS, sayThread, sayThreads } from './words.ts';

export interface RatesPageData {
  readonly requestKey: string;
  readonly lengthUnit: 'm' | 'yd';
  readonly typed: {
    readonly waste: string;
    readonly put_up: string;
    readonly metric_step: string;
    readonly imperial_step: string;
  };
  readonly jobs: readonly {
    readonly job: SewingJob;
    readonly what: string;
    readonly href: string;
    readonly stitch: string;
    readonly thread: string;
    readonly passes: number;
    /** '' where nobody has said */
    readonly rate: string;
  }[];
}

/** The workroom's own rates of sewing, its thread and the steps of its shops. */
export function ratesPage(reader: Reader, units: Units, typed: Typed | null = null): Page {
  const sewing = readSewing(reader);
  const shown: Typed = typed ?? textsOf(sewing, units);
  const data: RatesPageData = {
    requestKey: mintKey(),
    lengthUnit: units.system === 'metric' ? 'm' : 'yd',
    typed: {
      waste: shown.waste ?? '',
      put_up: shown.put_up ?? '',
      metric_step: shown.metric_step ?? '',
      imperial_step: shown.imperial_step ?? '',
    },
    jobs: SEWING_JOBS.map((job) => {
      const { stitching, passes, rateTicksMin } = ratesOf(sewing, job);
      return {
        job,
        what: JOB_WORDS[job],
        href: ratesPath(job),
        stitch: stitching.stitch ?? '',
        thread: sayThread(threadOf(stitching)),
        passes,
        rate: rateTicksMin === null ? '' : sayRate(rateTicksMin, units),
      };
    }),
  };
  return { view: 'setup/rates', data, title: 'Rates', room: 'setup' };
}

/** "1.5 m a minute". */
export function sayRate(rateTicksMin: number, units: Units): string {
  return `${showLength(rateTicksMin, units, 'near')} a minute`;
}

function textsOf(sewing: Sewing, units: Units): RatesPageData['typed'] {
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

export interface JobRatesPageData {
  readonly requestKey: string;
  readonly job: SewingJob;
  readonly what: string;
  readonly action: string;
  readonly units: { readonly length: string; readonly fine: string; readonly stitches: string };
  readonly typed: Readonly<Record<(typeof JOB_FIELDS)[number], string>>;
  readonly stitches: readonly { readonly value: string; readonly label: string }[];
  /** what the stitch takes as it is kept now */
  readonly thread: string;
  /** the threads of the stitch, in the order of their figures; '' where no stitch is chosen */
  readonly threads: string;
  readonly usualPasses: number;
}

/** One job's own figures. */
export function jobRatesPage(reader: Reader, units: Units, job: SewingJob, typed: Typed | null = null): Page {
  const rates = ratesOf(readSewing(reader), job);
  const kept = textsOfJob(rates, units);
  const shown = typed ?? kept;
  const { stitch } = rates.stitching;
  const metric = units.system === 'metric';
  const data: JobRatesPageData = {
    requestKey: mintKey(),
    job,
    what: JOB_WORDS[job],
    action: ratesPath(job),
    units: {
      length: metric ? 'm/min' : 'yd/min',
      fine: metric ? 'mm' : 'in',
      stitches: metric ? 'per cm' : 'per in',
    },
    typed: Object.fromEntries(
      JOB_FIELDS.map((name) => [name, shown[name] ?? '']),
    ) as JobRatesPageData['typed'],
    stitches: [
      { value: '', label: 'not said' },
      ...STITCHES.map((value) => ({ value, label: STITCH_WORDS[value] })),
    ],
    thread: sayThread(threadOf(rates.stitching)),
    threads: stitch === null ? '' : sayThreads(stitch),
    usualPasses: USUAL_PASSES[job],
  };
  return { view: 'setup/job-rates', data, title: JOB_WORDS[job], room: 'setup' };
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
