import { describe, expect, it } from 'vitest';
import { type Lab, screenToLab } from '../../../src/colour/lab.ts';
import { isRealColour, mostChroma } from '../../../src/colour/real-colours.ts';
import { labInLight } from '../../../src/colour/spectrum.ts';
import { seededRandom } from '../../../src/cut-plan/random.ts';

const lab = (l: number, a: number, b: number): Lab => ({ l, a, b });
/** Twenty units of chroma (our rule), and what the line of one hue grazes. */
const MOST_BEYOND = 30;

describe('a colour of cloth', () => {
  it('is that of any reflectance', () => {
    const random = seededRandom(9);
    for (let at = 0; at < 300; at++) {
      const reflectance = Array.from({ length: 36 }, () => random() ** (1 + (at % 5)));
      expect(isRealColour(labInLight(reflectance, 'daylight', '2'))).toBe(true);
    }
  });

  it('goes little further than what reflects all or nothing, with two changes between (Schrödinger 1920)', () => {
    const beyond: number[] = [];
    for (let from = 0; from < 34; from += 3)
      for (let to = from + 2; to < 36; to += 3)
        for (const inside of [0, 1]) {
          const optimal = Array.from({ length: 36 }, (_, band) =>
            band >= from && band < to ? inside : 1 - inside,
          );
          const colour = labInLight(optimal, 'daylight', '2');
          expect(isRealColour(colour)).toBe(true);
          // Next to black and white a step of hue changes the chroma that can be had by much.
          if (colour.l > 10 && colour.l < 95)
            beyond.push(mostChroma(colour) - Math.hypot(colour.a, colour.b));
        }
    expect(beyond.length).toBeGreaterThan(90);
    expect(Math.max(...beyond)).toBeLessThan(MOST_BEYOND);
    expect(Math.min(...beyond)).toBeGreaterThan(-1);
  });

  it('may be any that a screen shows', () => {
    for (const red of [0, 128, 255])
      for (const green of [0, 128, 255])
        for (const blue of [0, 128, 255]) {
          const hex = [red, green, blue].map((part) => part.toString(16).padStart(2, '0')).join('');
          const read = screenToLab(hex);
          expect(read.ok && isRealColour(read.value), hex).toBe(true);
        }
  });

  // Real surface colours at their strongest for their lightness and hue: Pointer, Color Research & Application 5 (1980),
  // as far as from memory: yellow L* 85, chroma 120 at 90°; red L* 45, 99 at 30°; blue L* 30, 83 at 290°.
  it.each([
    [85, 120, 90],
    [45, 99, 30],
    [30, 83, 290],
  ])('may be as strong as surfaces are: L* %d, chroma %d, hue %d°', (l, chroma, hue) => {
    const angle = (hue * Math.PI) / 180;
    expect(isRealColour(lab(l, chroma * Math.cos(angle), chroma * Math.sin(angle)))).toBe(true);
  });

  it('may be a brightened white', () => {
    expect(isRealColour(lab(95, 3, -16))).toBe(true);
  });

  it.each([
    [95, 80, 0],
    [99, 0, 90],
    [5, 120, 0],
    [50, -150, -60],
    [20, 0, 120],
  ])('is none where no surface is so strong: L* %d, a* %d, b* %d', (l, a, b) => {
    expect(isRealColour(lab(l, a, b))).toBe(false);
    const most = mostChroma(lab(l, a, b));
    const chroma = Math.hypot(a, b);
    expect(most).toBeLessThan(chroma);
    expect(isRealColour(lab(l, (a / chroma) * most, (b / chroma) * most))).toBe(true);
  });

  it('is between black and white', () => {
    expect(isRealColour(lab(0, 0, 0))).toBe(true);
    expect(isRealColour(lab(100, 0, 0))).toBe(true);
    expect(isRealColour(lab(101, 0, 0))).toBe(false);
  });
});
