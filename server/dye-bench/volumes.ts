import { showDecimal } from '../../src/figure-show.ts';
import { showVolume } from '../../src/volume.ts';

/** In microlitres: from here a tenth of a millilitre, and from there a millilitre, can no longer be read off. */
const COARSE_FROM_UL = 100_000;
const COARSER_FROM_UL = 10_000_000;

/**
 * A volume of a bath as one measures it out, from microlitres: to 0.1 mL below 100 mL ("7.5 mL"), to 1 mL below 10 L
 * ("3.465 L"), from there as vessels show it. "≈ " stands before what is not exactly what is held.
 */
export function showUl(volumeUl: number): string {
  if (volumeUl < COARSE_FROM_UL) {
    const tenths = Math.round(volumeUl / 100);
    return `${tenths * 100 === volumeUl ? '' : '≈ '}${showDecimal(BigInt(tenths), 1)} mL`;
  }
  const ml = Math.round(volumeUl / 1000);
  const about = ml * 1000 === volumeUl ? '' : '≈ ';
  if (volumeUl < COARSER_FROM_UL && ml >= 1000) return `${about}${showDecimal(BigInt(ml), 3)} L`;
  const shown = showVolume(ml, 'near');
  return shown.startsWith('≈') ? shown : `${about}${shown}`;
}
