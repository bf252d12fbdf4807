/** How the specimens of the water and perspiration tests are pressed. */

/** ISO 105-E04:2013, as excerpted: specimens of 40 × 100 mm under 12.5 kPa; E01 the same, from memory. */
export const PRESSED_SPECIMEN = { widthMm: 40, lengthMm: 100, pressureKPa: 12.5 } as const;

/** Standard acceleration of free fall, m/s²: General Conference on Weights and Measures, 1901. */
const FREE_FALL = 9.806_65;

export interface Pressed {
  readonly areaCm2: number;
  readonly newtons: number;
  /** what weighs so much, in kilograms */
  readonly kilograms: number;
}

/** What presses a specimen so hard: pressure × area, and the mass that weighs as much. Sizes above 0. */
export function pressOf({
  widthMm,
  lengthMm,
  pressureKPa,
}: {
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly pressureKPa: number;
}): Pressed {
  // A kilopascal is a thousandth of a newton on a square millimetre.
  const newtons = (pressureKPa * widthMm * lengthMm) / 1000;
  return { areaCm2: (widthMm * lengthMm) / 100, newtons, kilograms: newtons / FREE_FALL };
}
