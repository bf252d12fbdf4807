import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkLab } from '../../../src/colour/check-lab.ts';
import { deltaE00, type Lab, labToScreen, screenShows, screenToLab } from '../../../src/colour/lab.ts';
import { CIEDE2000_PAIRS } from '../ciede2000-pairs.ts';
import { labOfXyz, screen } from './lab-of.ts';

const lab = (l: number, a: number, b: number): Lab => ({ l, a, b });

function expectLab(got: Lab, wanted: Lab, tolerance: number): void {
  for (const axis of ['l', 'a', 'b'] as const) {
    expect(Math.abs(got[axis] - wanted[axis]), `${axis}*`).toBeLessThan(tolerance);
  }
}

describe('the difference CIEDE2000', () => {
  it.each(CIEDE2000_PAIRS)('of %d %d %d and %d %d %d is %d', (l1, a1, b1, l2, a2, b2, wanted) => {
    expect(deltaE00(lab(l1, a1, b1), lab(l2, a2, b2))).toBeCloseTo(wanted, 4);
    expect(deltaE00(lab(l2, a2, b2), lab(l1, a1, b1))).toBeCloseTo(wanted, 4);
  });

  it('is checked on all 34 pairs', () => {
    expect(CIEDE2000_PAIRS).toHaveLength(34);
  });
});

describe('a screen colour as Lab', () => {
  it('is checked by a formula that itself gives the published Lab', () => {
    // XYZ to Lab, test data of the Colourful library.
    expectLab(labOfXyz(0.216938, 0.150041, 0.04885), lab(45.6398, 39.8753, 35.2091), 1e-3);
  });

  // XYZ of the sRGB primaries and white: Lindbloom's calculator; of #008000: CSS Color 4 test value xyz-001.
  it.each([
    ['#ffffff', 0.95047, 1, 1.08883],
    ['#ff0000', 0.412456, 0.212673, 0.019334],
    ['#00ff00', 0.357576, 0.715152, 0.119192],
    ['#0000ff', 0.1804375, 0.072175, 0.950304],
    ['#008000', 0.07719, 0.15438, 0.02573],
  ])('of %s is that of its published XYZ', (hex, x, y, z) => {
    expectLab(screen(hex), labOfXyz(x, y, z), 0.02);
  });

  it('is for D65, not for D50', () => {
    // Lab of #008000 for D50: web-platform-tests css/css-color/lab-001.html.
    expect(Math.abs(screen('#008000').a - -47.562)).toBeGreaterThan(3);
  });

  it('reads capitals, blanks and a missing #, and says what it read', () => {
    expect(screenToLab(' C81E3A ')).toMatchObject({ ok: true, echo: '#c81e3a', value: screen('#c81e3a') });
  });

  it.each(['', '#fff', 'red', '#12345g', '#1234567'])('refuses %j', (typed) => {
    expect(screenToLab(typed)).toMatchObject({ ok: false, reason: expect.stringContaining('six digits') });
  });
});

describe('Lab on the screen', () => {
  it('gives back every screen colour that was turned into Lab', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 0xffffff }), (number) => {
        const hex = `#${number.toString(16).padStart(6, '0')}`;
        expect(labToScreen(screen(hex))).toBe(hex);
      }),
      { numRuns: 5000 },
    );
  });

  it.each(['#ff0000', '#00ff00', '#0000ff', '#00ffff', '#ff00ff', '#ffff00', '#ff0001', '#01ff00'])(
    'gives back %s, which lies on the edge of what a screen shows',
    (hex) => expect(labToScreen(screen(hex))).toBe(hex),
  );

  it.each([lab(50, 110, -90), lab(70, -120, 60), lab(30, 20, -110), lab(85, 10, 140)])(
    'keeps lightness and hue of %o, which is out of its reach',
    (wanted) => {
      expect(screenShows(wanted)).toBe(false);
      const shown = screen(labToScreen(wanted));
      const hue = ({ a, b }: Lab) => (Math.atan2(b, a) * 180) / Math.PI;
      expect(Math.abs(shown.l - wanted.l)).toBeLessThan(1);
      expect(Math.abs(hue(shown) - hue(wanted))).toBeLessThan(2);
      expect(Math.hypot(shown.a, shown.b)).toBeLessThan(Math.hypot(wanted.a, wanted.b));
    },
  );

  it('is always six digits, however far out the Lab', () => {
    const wild = fc.double({ min: -300, max: 300, noNaN: true });
    fc.assert(
      fc.property(wild, wild, wild, (l, a, b) => {
        expect(labToScreen(lab(l, a, b))).toMatch(/^#[0-9a-f]{6}$/);
      }),
    );
  });

  it('shows what lies within its reach', () => {
    expect(screenShows(lab(50, 10, 10))).toBe(true);
  });
});

describe('checking a Lab value', () => {
  it('takes what a cloth can have', () => {
    expect(checkLab(lab(0, 0, 0))).toEqual([]);
    expect(checkLab(lab(50, -60, 40))).toEqual([]);
  });

  it('refuses what no surface can have, with the chroma that it can', () => {
    const [problem] = checkLab(lab(100, -190, 190));
    expect(problem).toMatchObject({ field: 'b', message: expect.stringContaining('chroma of 19 at most') });
    expect(checkLab(lab(20, 150, 3)).map(({ field }) => field)).toEqual(['a']);
  });

  it('names every figure that is out of range', () => {
    expect(checkLab(lab(101, 201, -201)).map(({ field }) => field)).toEqual(['l', 'a', 'b']);
    expect(checkLab(lab(-0.1, Number.NaN, 0)).map(({ field }) => field)).toEqual(['l', 'a']);
  });
});
