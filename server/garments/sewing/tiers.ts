import { sewingTime } from '../../../src/garment/sewing-work.ts';
import { showArea } from '../../../src/garment/weight.ts';
import { divideRounded, stored } from '../../../src/quantity/figure-show.ts';
import { sayFullness, showFullness } from '../../../src/quantity/fullness.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Chip } from '../../kit/chip.ts';
import { JOB_WORDS, ratesPath, sayRate, sayThread } from '../../setup/rates/words.ts';
import type { Names } from '../garment/names.ts';
import type { TierRecord } from '../garment/records.ts';
import { wantedNow } from '../tier/view.ts';
import { showStrip } from '../versions/differences.ts';
import { sayMass, sayThreadLength, sayTime } from './answer-words.ts';
import type { TierAnswer } from './answers.ts';

/** A tier on the sewing page. */
export interface SewingTier {
  readonly id: number;
  readonly name: string;
  /** what is wanted, and what comes of whole strips */
  readonly figures: readonly { readonly label: string; readonly wanted: string; readonly got: string }[];
  readonly strips: readonly {
    readonly letter: string;
    readonly chip: Chip;
    readonly cloth: string;
    readonly size: string;
    readonly strips: number;
  }[];
  readonly seams: number;
  /** the row of the table of all tiers */
  readonly brief: {
    readonly from: string;
    readonly seams: string;
    readonly hems: string;
    readonly gathering: string;
    readonly attaching: string;
    readonly mass: string;
    readonly carries: string;
    readonly time: string;
  };
  readonly area: string;
  readonly jobs: readonly {
    readonly what: string;
    readonly href: string;
    readonly length: string;
    readonly passes: number;
    readonly ratio: string;
    /** '' where it is not known */
    readonly thread: string;
    readonly rate: string;
    readonly time: string;
  }[];
  readonly thread: Chip;
  readonly areaMm2: number;
  readonly massMg: number;
  readonly carriesMg: number;
  readonly seconds: number;
}

const TICKS2_PER_MM2 = 25_600n;

export function shapeSewingTier(
  answer: TierAnswer,
  nameOf: (tierId: number) => string,
  names: Names,
  units: Units,
): SewingTier {
  const { tier, worked, sewing, jobs, mass, carries } = answer;
  const { count } = worked;
  const time = sewingTime(jobs);
  const long = (ticks: number) => showLength(ticks, units, 'up');
  return {
    id: tier.id,
    name: tier.name,
    figures: [
      {
        label: 'Flat length',
        wanted: showSize(count.flatWantedTicks, units, 'up'),
        got: showSize(count.flatTicks, units, 'down'),
      },
      {
        label: 'Fullness',
        wanted: `${sayFullness(tier)}×`,
        got: `${showFullness(count.fullnessMilli)}×`,
      },
    ],
    strips: wantedNow(worked).map((now) => ({
      letter: names.letter(now.shadeId),
      chip: names.chip(now.shadeId),
      cloth: names.cloth(now.clothId),
      size: showStrip(now, units),
      strips: now.count,
    })),
    seams: sewing.seams,
    brief: {
      from: sayFrom(tier, nameOf, units),
      seams: `${sewing.seams}, ${long(sewing.seamTicks)}`,
      hems: long(sewing.hemTicks),
      gathering: long(sewing.gatherTicks),
      attaching: long(sewing.attachTicks),
      mass: sayMass(mass, units),
      carries: sayMass(carries, units),
      time: sayTime(time),
    },
    area: showArea(answer.areaTicks2, units.system),
    jobs: jobs.map((job) => ({
      what: JOB_WORDS[job.job],
      href: ratesPath(job.job),
      length: showLength(job.ticks, units, 'up'),
      passes: job.passes,
      ratio: sayThread(job.thread),
      thread: job.use === null ? '' : sayThreadLength(job.use.ticks, units),
      rate: job.rateTicksMin === null ? '' : sayRate(job.rateTicksMin, units),
      time: job.seconds === null ? '' : sayTime({ seconds: job.seconds, complete: true }),
    })),
    thread: names.chip(answer.threadShadeId),
    areaMm2: stored(divideRounded(answer.areaTicks2, TICKS2_PER_MM2, 'up')),
    massMg: mass.massMg,
    carriesMg: carries.massMg,
    seconds: time.seconds,
  };
}

/** Where a tier is sewn on. */
function sayFrom(tier: TierRecord, nameOf: (tierId: number) => string, units: Units): string {
  const on = nameOf(tier.onTierId ?? 0);
  switch (tier.hangs) {
    case 'edge':
      return `edge of ${on}`;
    case 'face':
      return `face of ${on}`;
    default: {
      const what = tier.hangs === 'foundation' ? 'foundation' : 'form';
      return `${what}, drop ${showSize(tier.dropTicks ?? 0, units, 'near')}`;
    }
  }
}
