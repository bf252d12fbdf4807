import { changeJob, changeSewing, jobForm, sewingForm } from '../server/setup/rates/form.ts';
import type { SewingJob } from '../src/garment/sewing.ts';
import type { Hand } from './hand.ts';

/** What the invented workroom timed and measured of its sewing; faced edges it has never sewn. */
export function timeTheSewing(hand: Hand): void {
  hand.fillsIn(hand.before(46, '16:10'), 'Fenn', WHOLE, {
    schema: sewingForm,
    write: (tx, form, { units }, typed) => changeSewing(tx, form, units, typed),
  });
  for (const [at, [job, fields]] of Object.entries(JOBS).entries()) {
    const asked = { ...BLANK, ...fields };
    hand.fillsIn(hand.before(46, `16:${20 + at}`), 'Fenn', asked, {
      schema: jobForm,
      write: (tx, form, { units }, typed) => changeJob(tx, job as SewingJob, form, units, typed),
    });
  }
}

const WHOLE = { waste: '15', put_up: '2500', metric_step: '10', imperial_step: '1/8' };

const BLANK = { passes: '1', measured: '', stitches: '', thickness: '', stitch_width: '' };

const JOBS: Partial<Record<SewingJob, Readonly<Record<string, string>>>> = {
  plain: { rate: '1.2', stitch: '301', stitches: '4', thickness: '0.2' },
  french: { rate: '0.9', passes: '2', stitch: '301', stitches: '4', thickness: '0.4' },
  overlocked: { rate: '2.5', stitch: '504', measured: '3.1 + 5.2 + 4.9' },
  rolled: { rate: '2', stitch: '504', measured: '2.8 + 4.1 + 3.9' },
  narrow: { rate: '0.8', stitch: '301' },
  bound: { rate: '0.6', stitch: '301' },
  gathering: { rate: '3', passes: '2', stitch: '301' },
  attaching: { rate: '0.5', stitch: '401' },
};
