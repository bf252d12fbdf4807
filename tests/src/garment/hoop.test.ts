import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { axesAt } from '../../../src/garment/axes.ts';
import { checkForm, girthAt } from '../../../src/garment/form.ts';
import type { Form } from '../../../src/garment/girth.ts';
import { ellipsePerimeter, type Hoop, hoopGirth } from '../../../src/garment/hoop.ts';
import { cm, inch } from '../../lengths.ts';

/** The perimeter by the trapezium rule over the arc, which converges at once for a smooth closed curve. */
function integrated(a: number, b: number): number {
  const parts = 4096;
  let sum = 0;
  for (let part = 0; part < parts; part += 1) {
    const angle = (2 * Math.PI * (part + 0.5)) / parts;
    sum += Math.hypot(a * Math.sin(angle), b * Math.cos(angle));
  }
  return (sum * 2 * Math.PI) / parts;
}

/** Ramanujan's two approximations (Modular equations and approximations to π, 1914). */
function ramanujan(a: number, b: number): readonly [first: number, second: number] {
  const h = ((a - b) / (a + b)) ** 2;
  const first = Math.PI * (3 * (a + b) - Math.sqrt((3 * a + b) * (a + 3 * b)));
  const second = Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
  return [first, second];
}

const axes = fc.tuple(fc.integer({ min: 1, max: 8_000_000 }), fc.integer({ min: 1, max: 8_000_000 }));

describe('the perimeter of an ellipse', () => {
  // Worked out by integration; the two flat ones are the hardest for every approximation.
  it.each([
    [20, 15, 110.517461],
    [10, 5, 48.442241],
    [5, 1, 21.010045],
    [1, 0, 4],
  ])('with the semi-axes %d and %d is %d', (a, b, expected) => {
    expect(ellipsePerimeter(a, b)).toBeCloseTo(expected, 6);
    // The trapezium rule is exact here but for a flat ellipse, whose curve has corners.
    if (b > 0) expect(Math.abs(ellipsePerimeter(a, b) / integrated(a, b) - 1)).toBeLessThan(1e-9);
  });

  it('is that of a circle where both are alike, and has no direction', () => {
    expect(ellipsePerimeter(7, 7)).toBeCloseTo(14 * Math.PI, 12);
    expect(ellipsePerimeter(3, 9)).toBe(ellipsePerimeter(9, 3));
    expect(() => ellipsePerimeter(-1, 2)).toThrow(RangeError);
    expect(() => ellipsePerimeter(Number.NaN, 2)).toThrow(RangeError);
  });

  // The worst errors of both forms are those of the flat ellipse: 0.416 % and 0.040 %, since π(3 − √3) = 3.98338 and
  // π·14/11 = 3.99839 stand for 4.
  it('is never further from Ramanujan’s forms than they can be', () => {
    const [first, second] = ramanujan(1, 0);
    expect(1 - first / 4).toBeCloseTo(0.004155, 5);
    expect(1 - second / 4).toBeCloseTo(0.000402, 6);
    fc.assert(
      fc.property(axes, ([a, b]) => {
        const exact = ellipsePerimeter(a, b);
        const [r1, r2] = ramanujan(a, b);
        expect(Math.abs(r1 / exact - 1)).toBeLessThanOrEqual(0.00416);
        expect(Math.abs(r2 / exact - 1)).toBeLessThanOrEqual(0.000403);
      }),
    );
  });

  it('agrees with integration to a thousand-millionth wherever that converges', () => {
    const stout = axes.filter(([a, b]) => Math.max(a, b) < 100 * Math.min(a, b));
    fc.assert(
      fc.property(stout, ([a, b]) => {
        expect(Math.abs(ellipsePerimeter(a, b) / integrated(a, b) - 1)).toBeLessThan(1e-9);
      }),
    );
  });
});

describe('the girth of a hoop', () => {
  it('is rounded once, up to a tick', () => {
    const round = hoopGirth({ widthTicks: inch(30), depthTicks: inch(30) });
    expect(round).toBe(Math.ceil(Math.PI * inch(30)));
    // Steels of the 1850s went to 90 in round: a hoop of 28 5/8 in has 89.93 in.
    expect(hoopGirth({ widthTicks: inch('28 5/8'), depthTicks: inch('28 5/8') }) / inch(1)).toBeCloseTo(
      89.93,
      2,
    );
  });
});

function hooped(
  profile: 'straight' | 'domed',
  ...hoops: readonly (readonly [drop: number, hoop: Hoop])[]
): Form {
  const girths = hoops.map(([dropTicks, hoop]) => ({ dropTicks, girthTicks: hoopGirth(hoop), hoop }));
  return { girths, profile };
}

function hoop(width: number, depth: number): Hoop {
  return { widthTicks: cm(width), depthTicks: cm(depth) };
}

function girth(form: Form, dropTicks: number): number {
  const found = girthAt(form, dropTicks);
  if (!found.ok) throw new Error(found.reason);
  return found.girthTicks;
}

describe('a form of elliptical hoops', () => {
  const skirt = hooped('straight', [0, hoop(30, 22)], [cm(100), hoop(130, 110)]);

  it('is between two of them what its semi-axes are there', () => {
    expect(checkForm(skirt)).toEqual([]);
    // Half way: 80 × 66 cm.
    expect(axesAt(skirt, cm(50))).toEqual({ a: cm(40), b: cm(33) });
    expect(girth(skirt, cm(50))).toBe(Math.ceil(ellipsePerimeter(cm(40), cm(33))));
    expect(girth(skirt, 0)).toBe(hoopGirth(hoop(30, 22)));
    expect(girth(skirt, cm(100))).toBe(hoopGirth(hoop(130, 110)));
  });

  it('mixes with girths, which are round', () => {
    const mixed = { girths: [{ dropTicks: 0, girthTicks: cm(70) }, ...skirt.girths.slice(1)] };
    const radius = cm(70) / (2 * Math.PI);
    expect(axesAt(mixed, cm(50)).a).toBeCloseTo((radius + cm(65)) / 2, 6);
    expect(axesAt(mixed, cm(50)).b).toBeCloseTo((radius + cm(55)) / 2, 6);
  });
});

describe('a domed form', () => {
  it('is the parabola 2t − t² between two girths, upright at the lower', () => {
    const dome = hooped('domed', [0, hoop(30, 30)], [cm(100), hoop(130, 130)]);
    const at = (share: number) => 15 + 50 * (2 * share - share * share);
    for (const share of [0.1, 0.25, 0.5, 0.9]) {
      expect(axesAt(dome, cm(100) * share).a).toBeCloseTo(cm(at(share)), 3);
    }
    expect(girth(dome, cm(50))).toBeGreaterThan(
      girth(hooped('straight', [0, hoop(30, 30)], [cm(100), hoop(130, 130)]), cm(50)),
    );
  });

  it('goes through every girth, and between two never beyond either', () => {
    const points = fc.array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 10, max: 200 })), {
      minLength: 2,
      maxLength: 6,
    });
    fc.assert(
      fc.property(points, fc.double({ min: 0, max: 1, noNaN: true }), (steps, share) => {
        let drop = -1;
        const form = hooped(
          'domed',
          ...steps.map(([step, width]) => {
            drop += step;
            return [cm(drop), hoop(width, width)] as const;
          }),
        );
        form.girths.forEach(({ dropTicks, hoop: given }, place) => {
          const above = form.girths[place - 1];
          expect(axesAt(form, dropTicks).a).toBeCloseTo((given?.widthTicks ?? 0) / 2, 3);
          if (!above) return;
          const { a } = axesAt(form, above.dropTicks + share * (dropTicks - above.dropTicks));
          const ends = [above.hoop?.widthTicks ?? 0, given?.widthTicks ?? 0].map((width) => width / 2);
          expect(a).toBeGreaterThanOrEqual(Math.min(...ends) - 1e-3);
          expect(a).toBeLessThanOrEqual(Math.max(...ends) + 1e-3);
        });
      }),
    );
  });
});
