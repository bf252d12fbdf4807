import { type Fastening, notPassing } from '../../../src/garment/opening.ts';
import { fastenersFor, placketStrip } from '../../../src/garment/parts/closing.ts';
import type { WorkedTier } from '../../../src/garment/tiers.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { listed } from '../../kit/words.ts';
import { sayClosing } from '../tier/view.ts';
import { tiersIn, type WorkedGarment } from './worked.ts';

/** What is counted along an opening, one at each spacing; a zip, a lacing and ties are not. */
const COUNTED: readonly Fastening[] = ['hooks', 'snaps', 'buttons'];

/** How a garment opens and what that takes; null where it does not open. */
export function shapeOpening({ garment, tiers }: WorkedGarment, units: Units) {
  const { openingTicks, fastening, fastenerTicks } = garment;
  if (openingTicks === null) return null;
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const opened = tiersIn(garment).flatMap((tier) => {
    const worked = tiers.find(({ tierId }) => tierId === tier.id);
    return worked && tier.ring && worked.closing !== 'ring' ? [worked] : [];
  });
  const lap = lapTicks(opened);
  const closed = fastening === 'zip' ? 'a zip' : fastening;
  const counted = COUNTED.includes(fastening) && fastenerTicks !== null;
  return {
    text: `It opens ${size(openingTicks)} below the waist and is closed by ${closed}.`,
    wants: [
      ...(counted
        ? [
            {
              what: { hooks: 'Hooks', snaps: 'Snaps', buttons: 'Buttons' }[fastening as 'hooks'],
              text: String(fastenersFor(openingTicks, fastenerTicks)),
              how: `${size(openingTicks)} ÷ ${size(fastenerTicks)}, rounded down, and one; one or two more at the band`,
            },
          ]
        : []),
      ...(fastening === 'zip' ? [{ what: 'Zip', text: size(openingTicks), how: 'as the opening' }] : []),
      ...(lap > 0
        ? [
            {
              what: 'Lap strip',
              text: size(lap),
              how: 'twice what is open of each tier with finished ends, where a lap finishes them',
            },
          ]
        : []),
    ],
    tiers: opened.map((worked) => ({ name: worked.name, how: sayClosing(worked, units) })),
    /** '' where none is left */
    rings: listed(tiers.filter(({ closing }) => closing === 'ring').map(({ name }) => name)),
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
