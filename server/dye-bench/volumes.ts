import { showDecimal } from '../../src/figure-show.ts';
import { showVolume } from '../../src/volume.ts';

/**
 * A volume of a bath in microlitres as one measures it out: "7.5 mL" to 0.1 mL below 100 mL, from there as vessels
 * show it. "≈ " stands before what is not exactly what is held.
 */
export function showUl(volumeUl: number): string {
  const small = volumeUl < 100_000;
  if (!small) {
    const ml = Math.round(volumeUl / 1000);
    const shown = showVolume(ml, 'near');
    return ml * 1000 === volumeUl || shown.startsWith('≈') ? shown : `≈ ${shown}`;
  }
  const tenths = Math.round(volumeUl / 100);
  return `${tenths * 100 === volumeUl ? '' : '≈ '}${showDecimal(BigInt(tenths), 1)} mL`;
}
