import type { SewingJob } from '../../../src/garment/sewing.ts';
import { showRatios } from '../../../src/garment/stitch-figures.ts';
import { ratioMilli, type Stitch, THREADS_OF, type Thread } from '../../../src/garment/thread.ts';

import { showLength, type Units } from '../../../src/quantity/length-show.ts';

export const JOB_WORDS: Readonly<Record<SewingJob, string>> = {
  plain: 'Plain seams',
  french: 'French seams',
  overlocked: 'Overlocked seams',
  rolled: 'Rolled edges',
  narrow: 'Narrow hems',
  faced: 'Faced edges',
  bound: 'Ribbon-bound edges',
  gathering: 'Gathering',
  attaching: 'Attaching tiers',
};

/** Stitches by their class of ISO 4915, with what they are called. */
export const STITCH_WORDS: Readonly<Record<Stitch, string>> = {
  '101': '101, chain stitch of one thread',
  '301': '301, lockstitch',
  '304': '304, zigzag lockstitch',
  '401': '401, chain stitch of two threads',
  '504': '504, overedge of three threads',
};

export const ratesPath = (job?: SewingJob) => (job ? `/setup/rates/${job}` : '/setup/rates');

/** "2.5 × the seam", with where it comes from; what is missing where it is not known. */
export function sayThread(thread: Thread): string {
  if (!thread.ok) return thread.missing === 'stitch' ? 'not said' : 'measure a sample';
  const { ratio, each, source } = thread;
  const parts = each && each.length > 1 ? each : [ratio];
  const shown = showRatios(parts.map((part) => ratioMilli(part, 'near')));
  const from = { measured: 'measured here', formula: 'by formula', table: 'from a table' }[source];
  return `${shown}, ${from}`;
}

/** "needle + looper", for the hint of a measured ratio. */
export function sayThreads(stitch: Stitch): string {
  return THREADS_OF[stitch].join(' + ');
}

/** "1.5 m a minute". */
export function sayRate(rateTicksMin: number, units: Units): string {
  return `${showLength(rateTicksMin, units, 'near')} a minute`;
}
