import { type Fastening, notPassing } from '../../../src/garment/opening.ts';
import { fastenersFor, placketStrip } from '../../../src/garment/parts/closing.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { WantedLength } from '../../../src/supply/lengths.ts';
import { listed } from '../../kit/words.ts';
import { sayClosing } from '../tier/view.ts';
import { tiersIn, type WorkedGarment } from './worked.ts';

/** What is counted along an opening, one at each spacing; a zip, a lacing and ties are not. */
const COUNTED: readonly Fastening[] = ['hooks', 'snaps', 'buttons'];

/** What an opening takes: a length in ticks, or so many of a thing. */
export interface OpeningWant {
  readonly what: string;
  readonly ticks: number | null;
  readonly lengths: readonly WantedLength[];
  readonly count: number | null;
}

/** What closes a garment and finishes its opening; none where it does not open. */
export function wantsOfOpening(worked: WorkedGarment): OpeningWant[] {
  const { openingTicks, fastening, fastenerTicks } = worked.garment;
  if (openingTicks === null) return [];
  const counted = COUNTED.includes(fastening) && fastenerTicks !== null;
  const what = { hooks: 'Hooks', snaps: 'Snaps', buttons: 'Buttons' }[fastening as 'hooks'];
  const lap = lapTicks(openedTiers(worked));
  return [
    ...(counted
      ? [{ what, ticks: null, lengths: [], count: fastenersFor(openingTicks, fastenerTicks) }]
      : []),
    ...(fastening === 'zip' ? [lengthOf('Zip', openingTicks, 1)] : []),
    // A strip of cloth is pieced from whatever there is.
    ...(lap > 0 ? [lengthOf(LAP_STRIP, lap, null)] : []),
  ];
}

function lengthOf(what: string, ticks: number, pieces: number | null): OpeningWant {
  return { what, ticks, lengths: [{ ticks, pieces }], count: null };
}

/** Tiers that are rings by themselves and are opened. */
function openedTiers({ garment, tiers }: WorkedGarment): WorkedTier[] {
  return tiersIn(garment).flatMap((tier) => {
    const worked = tiers.find(({ tierId }) => tierId === tier.id);
    return worked && tier.ring && worked.closing !== 'ring' ? [worked] : [];
  });
}

export const LAP_STRIP = 'Lap strip';

/** How a garment opens and what that takes; null where it does not open. */
export function shapeOpening(worked: WorkedGarment, units: Units) {
  const { openingTicks, fastening, fastenerTicks } = worked.garment;
  if (openingTicks === null) return null;
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const closed = fastening === 'zip' ? 'a zip' : fastening;
  const howOf = ({ what, count }: OpeningWant) => {
    if (what === LAP_STRIP)
      return 'twice what is open of each tier with finished ends, where a lap finishes them';
    if (count === null) return 'as the opening';
    return `${size(openingTicks)} ÷ ${size(fastenerTicks ?? 0)}, rounded down, and one; one or two more at the band`;
  };
  return {
    text: `It opens ${size(openingTicks)} below the waist and is closed by ${closed}.`,
    wants: wantsOfOpening(worked).map((want) => ({
      what: want.what,
      text: want.ticks === null ? String(want.count) : size(want.ticks),
      how: howOf(want),
    })),
    tiers: openedTiers(worked).map((tier) => ({ name: tier.name, how: sayClosing(tier, units) })),
    /** '' where none is left */
    rings: listed(worked.tiers.filter(({ closing }) => closing === 'ring').map(({ name }) => name)),
  };
}

export type OpeningView = NonNullable<ReturnType<typeof shapeOpening>>;

/** A lap is twice as long as what it finishes, tier by tier; a seam that is left unsewn takes none. */
function lapTicks(tiers: readonly WorkedTier[]): number {
  return tiers.reduce((sum, { unsewn, openTicks }) => sum + (unsewn ? 0 : placketStrip(openTicks)), 0);
}

/** Tiers that the girth it is put on over cannot pass, and an opening that no tier begins above, in sentences. */
export function openingWords({ garment, tiers }: WorkedGarment, units: Units): string[] {
  const { overTicks, openingTicks } = garment;
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const tight = overTicks === null ? [] : notPassing(tiers, overTicks);
  const unopened =
    openingTicks !== null && tiers.length > 0 && tiers.every(({ closing }) => closing === 'ring')
      ? [`No tier begins above the foot of the opening, ${size(openingTicks)} down: nothing opens.`]
      : [];
  return [
    ...unopened,
    ...tight.map(({ name, closing, openTicks, baseTicks, mouthTicks }) => {
      const ring =
        closing === 'ring'
          ? `is a ring of ${size(baseTicks)}`
          : `is sewn to ${size(baseTicks)} and open ${size(openTicks)} down, which lets ${size(mouthTicks)} through`;
      return `${name} ${ring}: the ${size(overTicks ?? 0)} that it is put on over cannot pass. Make the opening deeper, or draw it up with a cord or elastic.`;
    }),
  ];
}
