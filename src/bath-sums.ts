/**
 * How each amount of a bath is worked out, written so that it can be done again by hand: every figure in it stands
 * on the page, to the milligram and the tenth of a millilitre.
 */
import { formOf } from './auxiliaries.ts';
import type { Bath, BathLine } from './bath.ts';
import { exactly, showDecimal } from './figure-show.ts';

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
  const from = line.asked.endsWith('g/L') ? litres(of.volumeUl) : grams(of.dyedMg);
  const mass = `${from} × ${asked} = ${grams(line.massMg)}`;
  const volume = sumOfVolume(line);
  return volume === '' ? mass : `${mass}; ${volume}`;
}

function sumOfVolume({ kind, form, massMg, volumeUl, stockMgPer100Ml }: BathLine): string {
  if (volumeUl === undefined) return '';
  if (stockMgPer100Ml !== undefined) {
    return `${grams(massMg)} ÷ ${grams(stockMgPer100Ml)} × 100 mL = ${litres(volumeUl)}`;
  }
  const density = kind && form ? formOf(kind, form)?.densityMgPerMl : undefined;
  return density === undefined ? '' : `÷ ${density / 1000} g/mL = ${litres(volumeUl)}`;
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
