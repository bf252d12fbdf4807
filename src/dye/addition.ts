/**
 * Bringing a shade up: more dye for a batch whose shade is too weak. A shade that is too deep or off in hue is not
 * mended so.
 */
import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';

/** At most so many additions to one batch: after that the cloth has been worked enough (common practice). */
export const MOST_ADDITIONS = 2;
/** An addition is at most this part of a dye's whole amount: a quarter (common practice). */
const MOST_PART = 4;
export const NO_MORE_ADDITIONS = `${MOST_ADDITIONS} additions were made already: more work harms the cloth. Dye it again or accept it.`;

export interface AdditionDye {
  readonly name: string;
  /** what the shade should have and what it is judged to have reached, in thousandths of a percent owf */
  readonly targetOwfMilli: number;
  readonly reachedOwfMilli: number;
}

export interface AddedDye {
  readonly name: string;
  /** all that is missing, and what goes in now, in mg */
  readonly missingMg: number;
  readonly nowMg: number;
}

export type Addition =
  | { readonly ok: true; readonly dyes: readonly AddedDye[] }
  | { readonly ok: false; readonly field: string; readonly reason: string };

/**
 * The dye to add to cloth of a mass in mg: mass × (target − reached) ÷ 100 for each dye. Of the first addition half
 * goes in, since dye that is in cannot be taken out; of the second all that is missing then. `made` counts the
 * additions before this one. Refused where nothing is missing, two were made, or more than a quarter of a dye would go in. Throws RangeError on a figure that is
 * no whole number from 0.
 *
 * Source: the same proportion as any amount on weight of fabric (W × % owf ÷ 100); half first and at most twice are
 * common practice.
 */
export function additionFor(massMg: number, dyes: readonly AdditionDye[], made: number): Addition {
  if (made >= MOST_ADDITIONS) return { ok: false, field: '', reason: NO_MORE_ADDITIONS };
  const over = dyes.findIndex(({ targetOwfMilli, reachedOwfMilli }) => reachedOwfMilli > targetOwfMilli);
  if (over >= 0) {
    const reason = 'More than the target is there already: an addition cannot make a shade paler.';
    return { ok: false, field: `dyes.${over}.reached`, reason };
  }
  const added = dyes.map(({ name, targetOwfMilli, reachedOwfMilli }): AddedDye => {
    const missing = exactly(massMg) * exactly(targetOwfMilli - reachedOwfMilli);
    const now =
      made === 0 ? divideRounded(missing, 200_000n, 'near') : divideRounded(missing, 100_000n, 'near');
    return { name, missingMg: stored(divideRounded(missing, 100_000n, 'near')), nowMg: stored(now) };
  });
  const parts = made === 0 ? 2 : 1;
  const large = dyes.findIndex(
    ({ targetOwfMilli, reachedOwfMilli }) =>
      (targetOwfMilli - reachedOwfMilli) * MOST_PART > targetOwfMilli * parts,
  );
  if (large >= 0) {
    const reason =
      'More than a quarter of this dye would go in at once, too much to go on evenly: rinse, and dye what is missing in a fresh bath, as a batch of its own.';
    return { ok: false, field: `dyes.${large}.reached`, reason };
  }
  const some = added.filter(({ nowMg }) => nowMg > 0);
  if (some.length === 0) {
    return { ok: false, field: 'dyes', reason: 'Add nothing: the shade has reached its target.' };
  }
  return { ok: true, dyes: some };
}
