/**
 * How each amount of a bath is worked out, written so that it can be done again by hand: every figure is written to
 * the microgram and the microlitre, and "=" stands only where the sum comes out at just that.
 */

import { divideRounded, exactly, showDecimal } from '../quantity/figure-show.ts';
import { auxiliaryForm } from './auxiliaries.ts';
import { type Bath, type BathLine, massUgOf } from './bath.ts';

const MILLION = 1_000_000n;

/** Grams to the milligram: "24.683 g". */
export function grams(massMg: number): string {
  return `${showDecimal(exactly(massMg), 3)} g`;
}

/** Litres to the microlitre: "20.25 L"; below a litre in mL. */
export function litres(volumeUl: number): string {
  return volumeUl < 1_000_000
    ? `${showDecimal(exactly(volumeUl), 3)} mL`
    : `${showDecimal(exactly(volumeUl), 6)} L`;
}

/** "1.23 kg × 20 L/kg = 24.6 L". */
export function sumOfBath(massMg: number, liquorRatioMilli: number, volumeUl: number): string {
  return `${kilograms(massMg)} × ${showDecimal(exactly(liquorRatioMilli), 3)} L/kg = ${litres(volumeUl)}`;
}

/** "1.2 kg × 50 % = 0.6 kg", for the share of a mixed cloth that takes the dye. */
export function sumOfShare(massMg: number, dyedBp: number, dyedMg: number): string {
  return `${kilograms(massMg)} × ${showDecimal(exactly(dyedBp), 2)} % = ${kilograms(dyedMg)}`;
}

/**
 * One line of the whole bath: its mass, then its volume where it is measured. `dyedMg` is the cloth that amounts on
 * weight of fabric are counted on.
 */
export function sumOfLine(
  line: BathLine,
  of: { readonly dyedMg: number; readonly volumeUl: number },
): string {
  const asked = line.asked.replace(' owf', '');
  const byLitre = line.asked.endsWith('g/L');
  const from = byLitre ? litres(of.volumeUl) : grams(of.dyedMg);
  const { num, den } = line.stated ?? { num: 1, den: 1 };
  // Thousandths of g/L on µL make 10^-6 mg, thousandths of a percent on mg make 10^-5 mg.
  const amount = exactly(Math.round(Number.parseFloat(asked) * 1000));
  const base = byLitre ? exactly(of.volumeUl) : exactly(of.dyedMg) * 10n;
  const strength = exactly(line.strengthBp ?? 10_000);
  const comesOut =
    base * amount * exactly(num) * 10_000n === exactly(massUgOf(line)) * 1000n * exactly(den) * strength;
  const factor = line.stated
    ? ` × ${showDecimal(divideRounded(exactly(num) * MILLION, exactly(den), 'near'), 6)}`
    : '';
  const weaker = line.strengthBp === undefined ? '' : ` ÷ ${showDecimal(strength, 2)} % strength`;
  const mass = `${from} × ${asked}${factor}${weaker} ${comesOut ? '=' : '≈'} ${gramsOf(line)}`;
  const volume = sumOfVolume(line);
  return volume === '' ? mass : `${mass}; ${volume}`;
}

function sumOfVolume(line: BathLine): string {
  const { kind, form, volumeUl, stockMgPer100Ml } = line;
  if (volumeUl === undefined) return '';
  const massUg = exactly(massUgOf(line));
  if (stockMgPer100Ml !== undefined) {
    const equals = massUg * 100n === exactly(volumeUl) * exactly(stockMgPer100Ml) ? '=' : '≈';
    return `${gramsOf(line)} ÷ ${grams(stockMgPer100Ml)} × 100 mL ${equals} ${litres(volumeUl)}`;
  }
  const density = kind && form ? auxiliaryForm(kind, form)?.densityMgPerMl : undefined;
  if (density === undefined) return '';
  // The one density that is no whole number is of halves.
  const equals = massUg * 2n === exactly(volumeUl) * exactly(density * 2) ? '=' : '≈';
  return `÷ ${density / 1000} g/mL ${equals} ${litres(volumeUl)}`;
}

/** The mass of a line to the microgram: "0.0004 g". */
function gramsOf(line: BathLine): string {
  return `${showDecimal(exactly(massUgOf(line)), 6)} g`;
}

/** "20 L − 0.5 L − 30 mL = 19.47 L": the bath less all that is measured by volume. */
export function sumOfWater(bath: Bath): string {
  const measured = bath.lines.flatMap(({ volumeUl }) => (volumeUl === undefined ? [] : [litres(volumeUl)]));
  if (measured.length === 0) return 'the whole bath';
  return `${[litres(bath.volumeUl), ...measured].join(' − ')} = ${litres(bath.freshWaterUl)}`;
}

function kilograms(massMg: number): string {
  return massMg < 1_000_000 ? grams(massMg) : `${showDecimal(exactly(massMg), 6)} kg`;
}
