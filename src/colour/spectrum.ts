/**
 * Light in 36 bands of 10 nm, from 380 to 730 nm, and the colour that a reflectance has in daylight and in incandescent light.
 *
 * Source of the tables: CIE 15, Colorimetry (observers and illuminant D65 in steps of 5 nm, of which every second is taken; also
 * as data sets 10.25039/CIE.DS.xvudnb9b, .sqksu2n5 and .hjfjmt59). Incandescent light is illuminant A by its formula.
 */

import type { Observer } from './colour-reading.ts';
import type { Lab } from './lab.ts';
import { labFromReflectances } from './reflectance.ts';

/** A value for each band, the shortest wavelength first; of a reflectance from 0 to 1. */
export type Curve = readonly number[];

/** Daylight is CIE D65, incandescent light CIE A (a filament lamp of 2856 K). */
export type Light = 'daylight' | 'incandescent';

export const FIRST_NM = 380;
export const BAND_NM = 10;
export const BANDS = 36;

/** x̄, ȳ and z̄ from 380 to 780 nm of the standard observers of 1931 (2°) and 1964 (10°) (CIE 15, tables T.4 and T.5). */
const OBSERVED: Readonly<Record<Observer, readonly (readonly number[])[]>> = {
  '2': [
    [
      0.001368, 0.004243, 0.01431, 0.04351, 0.13438, 0.2839, 0.34828, 0.3362, 0.2908, 0.19536, 0.09564,
      0.03201, 0.0049, 0.0093, 0.06327, 0.1655, 0.2904, 0.43345, 0.5945, 0.7621, 0.9163, 1.0263, 1.0622,
      1.0026, 0.85445, 0.6424, 0.4479, 0.2835, 0.1649, 0.0874, 0.04677, 0.0227, 0.011359, 0.00579, 0.002899,
      0.00144, 0.00069, 0.000332, 0.000166, 0.000083, 0.000042,
    ],
    [
      0.000039, 0.00012, 0.000396, 0.00121, 0.004, 0.0116, 0.023, 0.038, 0.06, 0.09098, 0.13902, 0.20802,
      0.323, 0.503, 0.71, 0.862, 0.954, 0.99495, 0.995, 0.952, 0.87, 0.757, 0.631, 0.503, 0.381, 0.265, 0.175,
      0.107, 0.061, 0.032, 0.017, 0.00821, 0.004102, 0.002091, 0.001047, 0.00052, 0.000249, 0.00012, 0.00006,
      0.00003, 0.000015,
    ],
    [
      0.00645, 0.02005, 0.06785, 0.2074, 0.6456, 1.3856, 1.74706, 1.77211, 1.6692, 1.28764, 0.81295, 0.46518,
      0.272, 0.1582, 0.07825, 0.04216, 0.0203, 0.00875, 0.0039, 0.0021, 0.00165, 0.0011, 0.0008, 0.00034,
      0.00019, 0.00005, 0.00002, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
    ],
  ],
  '10': [
    [
      0.000159952, 0.0023616, 0.0191097, 0.084736, 0.204492, 0.314679, 0.383734, 0.370702, 0.302273, 0.195618,
      0.080507, 0.016172, 0.003816, 0.037465, 0.117749, 0.236491, 0.376772, 0.529826, 0.705224, 0.878655,
      1.01416, 1.11852, 1.12399, 1.03048, 0.856297, 0.647467, 0.431567, 0.268329, 0.152568, 0.0812606,
      0.0408508, 0.0199413, 0.00957688, 0.00455263, 0.00217496, 0.00104476, 0.000508258, 0.000250969,
      0.00012639, 0.0000645258, 0.0000334117,
    ],
    [
      0.000017364, 0.0002534, 0.0020044, 0.008756, 0.021391, 0.038676, 0.062077, 0.089456, 0.128201, 0.18519,
      0.253589, 0.339133, 0.460777, 0.606741, 0.761757, 0.875211, 0.961988, 0.991761, 0.99734, 0.955552,
      0.868934, 0.777405, 0.658341, 0.527963, 0.398057, 0.283493, 0.179828, 0.107633, 0.060281, 0.0318004,
      0.0159051, 0.0077488, 0.00371774, 0.00176847, 0.00084619, 0.00040741, 0.00019873, 0.000098428,
      0.000049737, 0.000025486, 0.000013249,
    ],
    [
      0.000704776, 0.0104822, 0.0860109, 0.389366, 0.972542, 1.55348, 1.96728, 1.9948, 1.74537, 1.31756,
      0.772125, 0.415254, 0.218502, 0.112044, 0.060709, 0.030451, 0.013676, 0.003988, 0, 0, 0, 0, 0, 0, 0, 0,
      0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0,
    ],
  ],
};

/** Relative power of illuminant D65 from 380 to 780 nm (CIE 15, table T.1). */
const D65 = [
  49.9755, 54.6482, 82.7549, 91.486, 93.4318, 86.6823, 104.865, 117.008, 117.812, 114.861, 115.923, 108.811,
  109.354, 107.802, 104.79, 107.689, 104.405, 104.046, 100, 96.3342, 95.788, 88.6856, 90.0062, 89.5991,
  87.6987, 83.2886, 83.6992, 80.0268, 80.2146, 82.2778, 78.2842, 69.7213, 71.6091, 74.349, 61.604, 69.8856,
  75.087, 63.5927, 46.4182, 66.8054, 63.3828,
] as const;

/** Relative power of illuminant A at a wavelength in nm, 100 at 560 (CIE 15: Planck's law with c₂ 1.435 × 10⁷ at 2848 K). */
function powerOfA(nm: number): number {
  const planck = (at: number) => at ** -5 / (Math.exp(1.435e7 / (2848 * at)) - 1);
  return (100 * planck(nm)) / planck(560);
}

/** What each band counts for in X, Y and Z: 3 rows. What lies beyond 730 nm counts as if it were of the last band. */
function weigh(observer: Observer, powerAt: (band: number) => number): readonly (readonly number[])[] {
  const responses = OBSERVED[observer];
  const perY = 100 / (responses[1] ?? []).reduce((sum, y, band) => sum + y * powerAt(band), 0);
  return responses.map((response) => {
    const all = response.map((value, band) => value * powerAt(band) * perY);
    const beyond = all.slice(BANDS).reduce((sum, value) => sum + value, 0);
    return all.slice(0, BANDS).map((value, band) => (band === BANDS - 1 ? value + beyond : value));
  });
}

function weighIn(light: Light): Readonly<Record<Observer, readonly (readonly number[])[]>> {
  const powerAt =
    light === 'daylight'
      ? (band: number) => D65[band] ?? 0
      : (band: number) => powerOfA(FIRST_NM + band * BAND_NM);
  return { '2': weigh('2', powerAt), '10': weigh('10', powerAt) };
}

const WEIGHTS = { daylight: weighIn('daylight'), incandescent: weighIn('incandescent') };

/** X, Y and Z of what reflects all light, Y being 100. */
export function whitePoint(light: Light, observer: Observer): readonly [number, number, number] {
  const [x = 0, y = 0, z = 0] = WEIGHTS[light][observer].map((row) =>
    row.reduce((sum, value) => sum + value, 0),
  );
  return [x, y, z];
}

function sharesIn(light: Light): Readonly<Record<Observer, readonly (readonly number[])[]>> {
  const sharesOf = (observer: Observer) => {
    const white = whitePoint(light, observer);
    return WEIGHTS[light][observer].map((row, axis) => row.map((value) => value / (white[axis] ?? 1)));
  };
  return { '2': sharesOf('2'), '10': sharesOf('10') };
}

const SHARES = { daylight: sharesIn('daylight'), incandescent: sharesIn('incandescent') };

/** The share of each band in X, Y and Z of a light for an observer: 3 rows of 36, each of which sums to 1. */
export function bandShares(light: Light, observer: Observer): readonly (readonly number[])[] {
  return SHARES[light][observer];
}

/** X, Y and Z of a reflectance as parts of the white of the light. */
export function partsOfWhite(reflectance: Curve, light: Light, observer: Observer): readonly number[] {
  return SHARES[light][observer].map((row) => {
    let sum = 0;
    for (let band = 0; band < BANDS; band++) sum += (row[band] as number) * (reflectance[band] as number);
    return sum;
  });
}

/** CIELAB of a reflectance in a light, for the white of that light and the observer. */
export function labInLight(reflectance: Curve, light: Light, observer: Observer): Lab {
  return labFromReflectances(partsOfWhite(reflectance, light, observer));
}
