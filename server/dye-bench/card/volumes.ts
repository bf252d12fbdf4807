import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showVolume } from '../../../src/quantity/volume.ts';

/** In microlitres: from here a cylinder is read to a tenth of a millilitre; below, a pipette or syringe to a hundredth. */
const CYLINDER_FROM_UL = 20_000;
/** In microlitres: from here a tenth of a millilitre, and from there a millilitre, can no longer be read off. */
const COARSE_FROM_UL = 100_000;
const COARSER_FROM_UL = 10_000_000;

/**
 * A volume of a bath as one measures it out, from microlitres: to 0.01 mL below 20 mL ("5.61 mL"; a graduated pipette of
 * 10 mL is right to 0.03 mL, USP chapter 31), to 0.1 mL below 100 mL ("27.5 mL"), to 1 mL below 10 L
 * ("3.465 L"), from there as vessels show it. "≈ " stands before what is not exactly what is held.
 */
export function showUl(volumeUl: number): string {
  if (volumeUl < COARSE_FROM_UL) {
    const stepUl = volumeUl < CYLINDER_FROM_UL ? 10 : 100;
    const shownUl = Math.round(volumeUl / stepUl) * stepUl;
    // What is below the finest instrument is written out, never as nothing.
    const heldUl = shownUl === 0 ? volumeUl : shownUl;
    return `${heldUl === volumeUl ? '' : '≈ '}${showDecimal(BigInt(heldUl), 3)} mL`;
  }
  const ml = Math.round(volumeUl / 1000);
  const about = ml * 1000 === volumeUl ? '' : '≈ ';
  if (volumeUl < COARSER_FROM_UL && ml >= 1000) return `${about}${showDecimal(BigInt(ml), 3)} L`;
  const shown = showVolume(ml, 'near');
  return shown.startsWith('≈') ? shown : `${about}${shown}`;
}
