import { describe, expect, it } from 'vitest';
import { curveWithColour, labForObserver, TURNED_WITHIN } from '../../../src/colour/curve-from-lab.ts';
import { deltaE00, screenToLab } from '../../../src/colour/lab.ts';
import { BANDS, type Curve, labInLight } from '../../../src/colour/spectrum.ts';
import { dyeWorld, someMixture } from './prediction/dye-worlds.ts';

function screen(hex: string) {
  const reading = screenToLab(hex);
  if (!reading.ok) throw new Error(reading.reason);
  return reading.value;
}

/** What is to be least: the squared steps of z, where R = (1 + tanh z) ÷ 2. */
function steepness(curve: Curve): number {
  const z = curve.map((reflectance) => Math.atanh(2 * reflectance - 1));
  return z.slice(1).reduce((sum, each, at) => sum + (each - (z[at] ?? 0)) ** 2, 0);
}

describe('a smooth curve of a colour', () => {
  it('has that colour, over the whole screen, and lies between 0 and 1', () => {
    let tried = 0;
    for (const r of ['11', '44', '88', 'cc', 'ee'])
      for (const g of ['11', '44', '88', 'cc', 'ee'])
        for (const b of ['11', '44', '88', 'cc', 'ee']) {
          const wanted = screen(`#${r}${g}${b}`);
          const curve = curveWithColour(wanted, '2');
          expect(deltaE00(labInLight(curve, 'daylight', '2'), wanted), `#${r}${g}${b}`).toBeLessThan(0.001);
          expect(Math.min(...curve)).toBeGreaterThanOrEqual(0);
          expect(Math.max(...curve)).toBeLessThanOrEqual(1);
          tried += 1;
        }
    expect(tried).toBe(125);
  });

  it('is flat for a grey', () => {
    const curve = curveWithColour({ l: 50, a: 0, b: 0 }, '2');
    expect(Math.max(...curve) - Math.min(...curve)).toBeLessThan(1e-9);
    // L* 50 is a Y of 18.42 % (CIE 15).
    expect(curve[0]).toBeCloseTo(0.1842, 4);
  });

  it('is no steeper than any curve near it that has the same colour', () => {
    const wanted = { l: 45, a: 38, b: 20 };
    const smooth = curveWithColour(wanted, '2');
    // A departure that X, Y and Z do not see: four bumps of which the fourth is found so that the colour stays.
    const bump = (middle: number) =>
      Array.from({ length: BANDS }, (_, band) => Math.exp(-(((band - middle) / 3) ** 2)));
    const seen = [6, 14, 20, 28].map((middle) => bump(middle));
    const colourOf = (curve: readonly number[]) => Object.values(labInLight(curve, 'daylight', '2'));
    const start = colourOf(smooth);
    const follow = seen.map((each) =>
      colourOf(smooth.map((value, band) => value + 1e-5 * (each[band] ?? 0))).map(
        (value, axis) => (value - (start[axis] ?? 0)) / 1e-5,
      ),
    );
    const unseen = nullVector(follow);
    const departed = (by: number) =>
      smooth.map(
        (value, band) =>
          value + by * seen.reduce((sum, each, at) => sum + (unseen[at] ?? 0) * (each[band] ?? 0), 0),
      );
    for (const by of [-2e-3, 2e-3]) {
      expect(deltaE00(labInLight(departed(by), 'daylight', '2'), wanted)).toBeLessThan(0.02);
      expect(steepness(departed(by))).toBeGreaterThan(steepness(smooth));
    }
  });

  it('looks in incandescent light about as the real curve of a dyed cloth does', () => {
    // Of 612 real textiles the mean difference is 0.9 to 1.1, and 95 % lie within 2.7 to 4.2.
    const world = dyeWorld(5, 'power');
    const apart = Array.from({ length: 40 }, () => {
      const real = world.curveOf(someMixture(world));
      const smooth = curveWithColour(labInLight(real, 'daylight', '2'), '2');
      return deltaE00(labInLight(real, 'incandescent', '2'), labInLight(smooth, 'incandescent', '2'));
    }).sort((a, b) => a - b);
    expect(apart[20]).toBeLessThan(2);
    expect(apart[38]).toBeLessThan(5);
  });

  it('turns the colour of a dyed cloth from one observer to the other about right', () => {
    const world = dyeWorld(5, 'power');
    const off = Array.from({ length: 60 }, () => {
      const real = world.curveOf(someMixture(world));
      const [two, ten] = [labInLight(real, 'daylight', '2'), labInLight(real, 'daylight', '10')];
      return { turned: deltaE00(labForObserver(two, '2', '10'), ten), left: deltaE00(two, ten) };
    });
    const sorted = off.map(({ turned }) => turned).sort((a, b) => a - b);
    expect(sorted[56]).toBeLessThan(TURNED_WITHIN);
    expect(sorted[30] ?? 9).toBeLessThan(0.5 * (off.map(({ left }) => left).sort((a, b) => a - b)[30] ?? 0));
    expect(labForObserver({ l: 40, a: 10, b: 5 }, '10', '10')).toEqual({ l: 40, a: 10, b: 5 });
  });

  it.each([
    { l: 100, a: 0, b: 0 },
    { l: 0, a: 0, b: 0 },
    { l: 60, a: 120, b: 100 },
    { l: 95, a: -90, b: 110 },
    { l: 20, a: -180, b: -180 },
  ])('is still a curve for %o, which no cloth has', (wanted) => {
    const curve = curveWithColour(wanted, '2');
    expect(curve).toHaveLength(BANDS);
    for (const value of curve) {
      expect(value).toBeGreaterThanOrEqual(0);
      expect(value).toBeLessThanOrEqual(1);
    }
  });
});

/** Four numbers that three rows of slopes, one for each, add up to nothing: by cross products. */
function nullVector(columns: readonly (readonly number[])[]): number[] {
  const minor = (left: number) => {
    const [p = [], q = [], r = []] = columns.filter((_, at) => at !== left);
    const [a = 0, b = 0, c = 0] = p;
    const [d = 0, e = 0, f = 0] = q;
    const [g = 0, h = 0, i = 0] = r;
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  };
  const found = [0, 1, 2, 3].map((at) => (at % 2 === 0 ? 1 : -1) * minor(at));
  const longest = Math.max(...found.map(Math.abs));
  return found.map((each) => each / longest);
}
