import type { SewingJob } from '../../../src/garment/sewing.ts';
import { type ClothMass, showClothMass } from '../../../src/garment/weight.ts';
import { ABOUT } from '../../../src/quantity/figure-show.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { clothPath } from '../../kit/paths.ts';
import { JOB_WORDS, ratesPath } from '../../setup/rates/words.ts';
import type { TierAnswer } from './answers.ts';
import type { SewnClothFacts } from './facts.ts';

/** "412.5 g"; "at least 412.5 g" where some cloth was never weighed, and nothing but that where none was. */
export function sayMass({ massMg, complete }: ClothMass, units: Units): string {
  if (complete) return showClothMass(massMg, units.system);
  return massMg === 0 ? 'not known' : `at least ${showClothMass(massMg, units.system)}`;
}

/** The same of cloth as it is cut, in a sentence. */
export function sayCutMass(mass: ClothMass, units: Units): string {
  return mass.massMg === 0 && !mass.complete
    ? 'No mass per area of its cloth is known, so it is not weighed.'
    : `Its cloth weighs ${sayMass(mass, units)} as it is cut.`;
}

/** "1 h 25.4 min", in the tenths in which each job is counted; "at least" where a rate is missing. */
export function sayTime({ seconds, complete }: { seconds: number; complete: boolean }): string {
  if (!complete && seconds === 0) return 'not known';
  const tenths = Math.ceil(seconds / 6);
  const [hours, rest] = [Math.floor(tenths / 600), (tenths % 600) / 10];
  const shown = hours === 0 ? `${rest} min` : rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
  return complete ? shown : `at least ${shown}`;
}

/** A length of thread: to a centimetre or to an inch, rounded up. */
export function sayThreadLength(ticks: number, { system }: Units): string {
  const stepTicks = system === 'metric' ? TICKS_PER.cm : TICKS_PER.in;
  return showLength(ticks, { system, stepTicks }, 'up').replace(ABOUT, '');
}

/** All figures that nobody has given, once each, with where they are asked for. */
export function missingFacts(
  answers: readonly TierAnswer[],
  cloths: readonly SewnClothFacts[],
  sewing: { readonly wasteBp: number | null; readonly putUpTicks: number | null },
) {
  const jobs = answers.flatMap((answer) => answer.jobs);
  const named = (wanted: (job: (typeof jobs)[number]) => boolean) => [
    ...new Set(jobs.filter(wanted).map(({ job }) => job)),
  ];
  const ofJob = (job: SewingJob, what: string) => ({
    text: `${JOB_WORDS[job]}: ${what}`,
    href: ratesPath(job),
    link: 'Give it',
  });
  const whole = (text: string) => ({ text, href: ratesPath(), link: 'Give it' });
  return [
    ...cloths
      .filter(({ massPerAreaMgM2 }) => massPerAreaMgM2 === null)
      .map(({ id, name }) => ({
        text: `${name} has no measured mass per area, so its mass is not counted`,
        href: `${clothPath(id)}/edit`,
        link: 'Weigh a piece and give it',
      })),
    ...named(({ rateTicksMin }) => rateTicksMin === null).map((job) =>
      ofJob(job, 'no rate, so their time is not counted'),
    ),
    ...named(({ thread }) => !thread.ok && thread.missing === 'stitch').map((job) =>
      ofJob(job, 'no stitch, so their thread is not counted'),
    ),
    ...named(({ thread }) => !thread.ok && thread.missing === 'sample').map((job) =>
      ofJob(
        job,
        'sources differ on the thread of 504 (14 and 7 times the seam): measure a sample, or give the width of its stitch',
      ),
    ),
    ...(answers.length > 0 && sewing.wasteBp === null
      ? [whole('No share of wasted thread is given, so none is added')]
      : []),
    ...(answers.length > 0 && sewing.putUpTicks === null
      ? [whole('No length on a cone is given, so cones are not counted')]
      : []),
  ];
}
