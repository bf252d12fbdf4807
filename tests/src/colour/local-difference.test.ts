import { describe, expect, it } from 'vitest';
import { deltaE00, type Lab } from '../../../src/colour/lab.ts';
import { differenceAlong, differencesNear } from '../../../src/colour/local-difference.ts';
import { seededRandom } from '../../../src/cut-plan/random.ts';

describe('small differences near a colour', () => {
  it.each([
    { l: 50, a: 2.5, b: 0 },
    { l: 50, a: 40, b: 30 },
    { l: 30, a: 10, b: -55 },
    { l: 85, a: -5, b: 80 },
    { l: 22, a: 0, b: 0 },
  ])('at %o are as long as CIEDE2000 has them', (lab) => {
    const upper = differencesNear(lab);
    const random = seededRandom(3);
    for (let tries = 0; tries < 50; tries++) {
      const off = () => (random() - 0.5) * 0.6;
      const other: Lab = { l: lab.l + off(), a: lab.a + off(), b: lab.b + off() };
      const wanted = deltaE00(lab, other);
      expect(Math.abs(Math.hypot(...differenceAlong(upper, lab, other)) - wanted)).toBeLessThan(
        0.02 + 0.04 * wanted,
      );
    }
  });
});
