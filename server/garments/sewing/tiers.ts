import { sewingTime } from '../../../src/garment/sewing-work.ts';
import { showArea } from '../../../src/garment/weight.ts';
import { divideRounded, stored } from '../../../src/quantity/figure-show.ts';
import { sayFullness, showFullness } from '../../../src/quantity/fullness.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { JOB_WORDS, ratesPath, sayRate, sayThread } from '../../setup/rates/words.ts';
import type { Names } from '../garment/names.ts';
import type { TierRecord } from '../garment/records.ts';
import { shapeStrips } from '../tier/view.ts';
import type { TierAnswer } from './answers.ts';
import { sayMass, sayThreadLength, sayTime } from './words.ts';

const TICKS2_PER_MM2 = 25_600n;

/** A tier on the sewing page. */
export function shapeSewingTier(
  answer: TierAnswer,
  nameOf: (tierId: number) => string,
  names: Names,
  units: Units,
) {
  const { tier, worked, sewing, jobs, mass, carries } = answer;
  const { count } = worked;
  const time = sewingTime(jobs);
  const long = (ticks: number) => showLength(ticks, units, 'up');
  return {
    id: tier.id,
    name: tier.name,
    /** What is wanted, and what comes of whole strips. */
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
    strips: shapeStrips(worked, names, units),
    seams: sewing.seams,
    /** Its row in the table of all tiers. */
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
      /** '' where it is not known, as its rate and time. */
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
