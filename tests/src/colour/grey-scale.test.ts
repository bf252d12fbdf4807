import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GREY_STEPS, rateChange, rateStaining } from '../../../src/colour/grey-scale.ts';
import type { Lab } from '../../../src/colour/lab.ts';

const neutral = (l: number): Lab => ({ l, a: 0, b: 0 });

// Steps of the grey scales in ΔE*ab of neutral chips. A02: EN 20105-A02:1994; A03: as public implementations have it.
const A02 = [0, 0.8, 1.7, 2.5, 3.4, 4.8, 6.8, 9.6, 13.6];
const A03 = [0, 2.2, 4.3, 6.0, 8.5, 12.0, 16.9, 24.0, 34.1];

describe('the grey scale for change of colour', () => {
  it.each(A02.map((difference, at) => [difference, GREY_STEPS[at]] as const))(
    'reads the step of ΔE*ab %d as %s',
    (difference, step) => {
      expect(rateChange(neutral(60), neutral(60 - difference)).step).toBe(step);
    },
  );

  // What neutral steps of A02 come to by the formula of A05, worked out apart from this program.
  it.each(
    [4.53, 4.0, 3.53, 3.0, 2.5, 2.0, 1.5, 1.0].map((figure, at) => [A02[at + 1] as number, figure] as const),
  )('gives ΔE*ab %d the figure %d', (difference, figure) => {
    expect(rateChange(neutral(60), neutral(60 + difference)).figure).toBeCloseTo(figure, 1);
  });

  it('changes its step exactly at the bounds of ΔE_F', () => {
    // Of neutrals ΔE_F is ΔL*. Bounds: as two public implementations have A05.
    const bounds = [0.4, 1.25, 2.1, 2.95, 4.1, 5.8, 8.2, 11.6];
    for (const [at, bound] of bounds.entries()) {
      expect(rateChange(neutral(0), neutral(bound - 1e-6)).step).toBe(GREY_STEPS[at]);
      expect(rateChange(neutral(0), neutral(bound)).step).toBe(GREY_STEPS[at + 1]);
    }
  });

  it('is the same whichever is the reference, and no larger than the whole difference', () => {
    const colour = fc.record({
      l: fc.double({ min: 5, max: 95, noNaN: true }),
      a: fc.double({ min: -80, max: 80, noNaN: true }),
      b: fc.double({ min: -80, max: 80, noNaN: true }),
    });
    fc.assert(
      fc.property(colour, colour, (one, other) => {
        expect(rateChange(one, other).figure).toBeCloseTo(rateChange(other, one).figure, 8);
      }),
    );
  });

  it('takes the mean hue across 0°, as half the sum of hues would not', () => {
    // Hues 350° and 10°: the mean is 0°, far from 280°, so nothing is taken off. ΔH* = 2·40·sin(10°) = 13.89; h_M weighs it by
    // 1/(1 + 0.4²); figure 5 − log2(11.976/0.85) by hand.
    const at = (hue: number) => ({
      l: 50,
      a: 40 * Math.cos((hue * Math.PI) / 180),
      b: 40 * Math.sin((hue * Math.PI) / 180),
    });
    expect(rateChange(at(350), at(10)).figure).toBeCloseTo(5 - Math.log2(11.976 / 0.85), 2);
  });

  it('takes chroma off a blue by how near its hue is to 280°', () => {
    // C* 20 and 30 at 280°: ΔC* = 10, C_M = 25, D = 10·25/100 = 2.5; ΔC_F = 7.5/(1 + 0.5²) = 6, ΔH_F = −2.5/(1 + 0.25²) = −2.353.
    const at = (chroma: number) => ({
      l: 40,
      a: chroma * Math.cos((280 * Math.PI) / 180),
      b: chroma * Math.sin((280 * Math.PI) / 180),
    });
    expect(rateChange(at(20), at(30)).figure).toBeCloseTo(5 - Math.log2(Math.hypot(6, 2.353) / 0.85), 3);
  });
});

describe('the grey scale for staining', () => {
  it.each(A03.map((difference, at) => [difference, GREY_STEPS[at]] as const))(
    'reads the step of ΔE*ab %d as %s',
    (difference, step) => {
      expect(rateStaining(neutral(95), neutral(95 - difference)).step).toBe(step);
    },
  );

  // What neutral steps of A03 come to by the formula of A04, worked out apart from this program.
  it.each(
    [4.49, 3.99, 3.5, 3.0, 2.5, 2.0, 1.49, 1].map((figure, at) => [A03[at + 1] as number, figure] as const),
  )('gives ΔE*ab %d the figure %d', (difference, figure) => {
    expect(rateStaining(neutral(95), neutral(95 - difference)).figure).toBeCloseTo(figure, 1);
  });

  it('counts chroma for less than lightness', () => {
    const stained = { l: 95, a: 10, b: 0 };
    expect(rateStaining(neutral(95), stained).figure).toBeCloseTo(6.1 - 1.45 * Math.log(6), 6);
    expect(rateStaining(neutral(95), neutral(95)).figure).toBe(5);
  });
});
