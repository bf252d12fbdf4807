import culori from 'culori/require';
import { describe, expect, it } from 'vitest';
import { OBSERVERS } from '../../../src/colour/colour-reading.ts';
import { curveWithColour } from '../../../src/colour/curve-from-lab.ts';
import { screenToLab } from '../../../src/colour/lab.ts';
import { BANDS, bandShares, labInLight, partsOfWhite, whitePoint } from '../../../src/colour/spectrum.ts';

const VIEWINGS = (['daylight', 'incandescent'] as const).flatMap((light) =>
  OBSERVERS.map((observer) => [light, observer] as const),
);

describe('the white', () => {
  // ASTM E 308-01, as the documentation of the R package colorSpec quotes it (officialXYZ). Bands of 10 nm are summed here, not
  // weighted as there, so a tenth is allowed.
  it.each([
    ['daylight', '2', [95.047, 100, 108.883]],
    ['incandescent', '2', [109.85, 100, 35.585]],
    ['daylight', '10', [94.811, 100, 107.304]],
    ['incandescent', '10', [111.144, 100, 35.2]],
  ] as const)('of %s for the observer of %s° is the published one', (light, observer, published) => {
    for (const [axis, value] of whitePoint(light, observer).entries())
      expect(Math.abs(value - (published[axis] ?? 0))).toBeLessThan(0.1);
  });

  it('has colour 100, 0, 0 in both lights for both observers', () => {
    for (const [light, observer] of VIEWINGS) {
      const { l, a, b } = labInLight(new Array(BANDS).fill(1), light, observer);
      expect([l, Math.abs(a), Math.abs(b)].map((each) => Number(each.toFixed(9)))).toEqual([100, 0, 0]);
    }
  });

  it('is that of the library of colours to a thousandth', () => {
    const { x, y, z } = culori.converter('xyz65')('#ffffff') ?? { x: 0, y: 0, z: 0 };
    for (const [axis, value] of [x, y, z].entries())
      expect(Math.abs(value - (whitePoint('daylight', '2')[axis] ?? 0) / 100)).toBeLessThan(0.0015);
  });
});

describe('the shares of bands', () => {
  it('sum to 1 in each of X, Y and Z', () => {
    for (const [light, observer] of VIEWINGS)
      for (const row of bandShares(light, observer))
        expect(row.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  it('give a published reflectance its published X, Y and Z', () => {
    // Documentation of the Python package colour (recovery after Otsu 2018): 380 to 730 nm, D65 and the 2° observer.
    const published = [
      0.0601939, 0.0568063, 0.0517429, 0.0495841, 0.0502007, 0.0506489, 0.051002, 0.0493782, 0.0468046,
      0.0437132, 0.0416957, 0.0403783, 0.0405197, 0.0406031, 0.0416912, 0.0430956, 0.0444474, 0.0459336,
      0.0507631, 0.0628967, 0.0844661, 0.1334277, 0.2262428, 0.359933, 0.4885571, 0.5752546, 0.6193023,
      0.6450744, 0.6610548, 0.6688673, 0.6795426, 0.6887933, 0.7003469, 0.7084128, 0.7154674, 0.7234334,
    ];
    const white = whitePoint('daylight', '2');
    const parts = partsOfWhite(published, 'daylight', '2');
    const wanted = [0.2065494, 0.1219712, 0.0514002];
    for (const axis of [0, 1, 2])
      expect(Math.abs(((parts[axis] ?? 0) * (white[axis] ?? 0)) / 100 - (wanted[axis] ?? 0))).toBeLessThan(
        2e-4,
      );
  });

  it('give a colour the CIELAB that the library of colours gives it by its own white', () => {
    const toXyz = culori.converter('xyz65');
    const white = toXyz('#ffffff') ?? { x: 1, y: 1, z: 1 };
    for (const hex of ['#c81e3a', '#1e6b5a', '#f0d040', '#30306a', '#808080']) {
      const reading = screenToLab(hex);
      if (!reading.ok) throw new Error(reading.reason);
      const { x, y, z } = toXyz(hex) ?? { x: 0, y: 0, z: 0 };
      const parts = partsOfWhite(curveWithColour(reading.value, '2'), 'daylight', '2');
      for (const [axis, part] of [x / white.x, y / white.y, z / white.z].entries())
        expect(Math.abs(part - (parts[axis] ?? 0))).toBeLessThan(2e-4);
    }
  });
});

describe('incandescent light', () => {
  it('makes what is yellow by day paler, and what is blue darker', () => {
    const yellow = curveWithColour({ l: 80, a: 5, b: 70 }, '2');
    const blue = curveWithColour({ l: 40, a: 5, b: -45 }, '2');
    expect(labInLight(yellow, 'incandescent', '2').l).toBeGreaterThan(80);
    expect(labInLight(blue, 'incandescent', '2').l).toBeLessThan(40);
  });
});
