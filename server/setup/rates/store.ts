import { SEWING_JOBS, type SewingJob, USUAL_PASSES } from '../../../src/garment/sewing.ts';
import type { Stitching } from '../../../src/garment/thread.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import type { SewingJobTable } from '../../database/sewing-tables.ts';
import { prepared } from '../../database/statements.ts';

/** Shops cut to 10 cm and to an eighth of a yard: common practice, until the workroom says otherwise. */
const USUAL_METRIC_STEP_TICKS = 10 * TICKS_PER.cm;
const USUAL_IMPERIAL_STEP_TICKS = TICKS_PER.yd / 8;

const sewingJobs = prepared((db) => db.selectFrom('sewing_job').selectAll());

const sewingRow = prepared((db) => db.selectFrom('sewing').selectAll());

/** What the workroom said of its sewing. null is what nobody has said: it is asked for, never supposed. */
export function readSewing(reader: Reader) {
  const row = reader.first(sewingRow());
  const rows = new Map(reader.all(sewingJobs()).map((one) => [one.job, one]));
  return {
    wasteBp: row?.waste_bp ?? null,
    putUpTicks: row?.put_up_ticks ?? null,
    metricStepTicks: row?.metric_step_ticks ?? USUAL_METRIC_STEP_TICKS,
    imperialStepTicks: row?.imperial_step_ticks ?? USUAL_IMPERIAL_STEP_TICKS,
    typed: row?.typed ?? '{}',
    jobs: new Map(SEWING_JOBS.map((job) => [job, shapeRates(job, rows.get(job))])),
  };
}

function shapeRates(job: SewingJob, kept: SewingJobTable | undefined) {
  const measured = [kept?.ratio_1_milli, kept?.ratio_2_milli, kept?.ratio_3_milli];
  const stitching: Stitching = {
    stitch: kept?.stitch ?? null,
    stitchesMilliIn: kept?.stitches_milli_in ?? null,
    thicknessUm: kept?.thickness_um ?? null,
    stitchWidthUm: kept?.stitch_width_um ?? null,
    measuredMilli: measured.filter((milli) => typeof milli === 'number'),
  };
  return {
    stitching,
    passes: kept?.passes ?? USUAL_PASSES[job],
    rateTicksMin: kept?.rate_ticks_min ?? null,
    typed: kept?.typed ?? '{}',
  };
}

export type Sewing = ReturnType<typeof readSewing>;
export type JobRates = ReturnType<typeof shapeRates>;

/** The step that shops cut cloth to, where no offer says it: as the workroom set it for the reader's system. */
export function readShopStepTicks(reader: Reader, system: Units['system']): number {
  const { metricStepTicks, imperialStepTicks } = readSewing(reader);
  return system === 'metric' ? metricStepTicks : imperialStepTicks;
}

/** The rates of one job. Every job has some, be it only the usual passes. */
export function ratesOf(sewing: Sewing, job: SewingJob): JobRates {
  const rates = sewing.jobs.get(job);
  if (!rates) throw new Error(`no rates of ${job} were read`);
  return rates;
}
