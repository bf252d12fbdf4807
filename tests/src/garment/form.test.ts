import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkForm, girthAt, warnForm } from '../../../src/garment/form.ts';
import type { Form } from '../../../src/garment/girth.ts';
import { inch, m } from '../../lengths.ts';

function formOf(...points: readonly (readonly [dropTicks: number, girthTicks: number])[]): Form {
  return { girths: points.map(([dropTicks, girthTicks]) => ({ dropTicks, girthTicks })) };
}

function girth(form: Form, dropTicks: number): number {
  const found = girthAt(form, dropTicks);
  if (!found.ok) throw new Error(found.reason);
  return found.girthTicks;
}

/** Forms whose drops rise; girths go up and down. */
const forms = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 400_000 }), fc.integer({ min: 1, max: 16_000_000 })), {
    minLength: 2,
    maxLength: 8,
  })
  .map((steps) => {
    let dropTicks = -1;
    return {
      girths: steps.map(([step, girthTicks]) => {
        dropTicks += step;
        return { dropTicks, girthTicks };
      }),
    };
  });

const formsWithDrop = forms.chain((form) => {
  const drops = form.girths.map(({ dropTicks }) => dropTicks);
  return fc.tuple(fc.constant(form), fc.integer({ min: Math.min(...drops), max: Math.max(...drops) }));
});

describe('the girth at a drop', () => {
  // Frustum of a round cone, geometry: the girth at slant d is 2π(r₀ + d·sin θ), with sin θ = (r₁ − r₀) / D.
  it.each([
    [10, 51],
    [20, 74],
    [30, 97],
  ])('is that of a round cone along its slant: 28 to 120 in over 40 in, at %i in %i in', (drop, expected) => {
    const [top, bottom] = [28 / (2 * Math.PI), 120 / (2 * Math.PI)];
    const cone = 2 * Math.PI * (top + (drop * (bottom - top)) / 40);
    expect(cone).toBeCloseTo(expected, 9);
    expect(girth(formOf([0, inch(28)], [inch(40), inch(120)]), inch(drop))).toBe(inch(expected));
  });

  it('is a given girth where one was given', () => {
    // A hoop skirt of the 1850s ("Fashion's Myriad Fancies", p. 460): steels of 63, 90, 90 and 90 in, 4 nails below
    // the waist, then 6, 2 and 2 nails further; a nail is 2¼ in (from memory).
    const nails = (count: number) => count * inch('2 1/4');
    const hoops = formOf(
      [nails(4), inch(63)],
      [nails(10), inch(90)],
      [nails(12), inch(90)],
      [nails(14), inch(90)],
    );
    expect(girth(hoops, nails(4))).toBe(inch(63));
    expect(girth(hoops, nails(7))).toBe(inch('76 1/2'));
    expect(girth(hoops, nails(13))).toBe(inch(90));
    expect(warnForm(hoops)).toEqual([]);
  });

  it('rounds up to a tick and says so', () => {
    const form = formOf([0, 100], [3, 101]);
    expect(girthAt(form, 1)).toEqual({ ok: true, girthTicks: 101, exact: false });
    expect(girthAt(form, 3)).toEqual({ ok: true, girthTicks: 101, exact: true });
    expect(girthAt(formOf([0, 101], [3, 100]), 1)).toEqual({ ok: true, girthTicks: 101, exact: false });
  });

  it('is refused above the first girth and below the last', () => {
    const form = formOf([inch(4), inch(30)], [inch(40), inch(120)]);
    expect(girthAt(form, inch(4) - 1)).toMatchObject({ ok: false, reason: expect.stringContaining('above') });
    expect(girthAt(form, inch(40) + 1)).toMatchObject({
      ok: false,
      reason: expect.stringContaining('below'),
    });
    expect(girthAt(form, -1).ok).toBe(false);
    expect(girthAt(form, Number.NaN).ok).toBe(false);
  });

  it('is refused on a form that is not complete', () => {
    expect(girthAt(formOf([0, 100]), 0).ok).toBe(false);
    expect(girthAt({ girths: [] }, 0).ok).toBe(false);
  });

  it('is the least whole tick that is not less than the cone has', () => {
    fc.assert(
      fc.property(formsWithDrop, ([form, dropTicks]) => {
        const found = BigInt(girth(form, dropTicks));
        const at = form.girths.findIndex((point) => point.dropTicks >= dropTicks);
        const lower = form.girths[at];
        const upper = form.girths[Math.max(0, at - 1)];
        if (lower === undefined || upper === undefined) throw new Error('the drop lies on the form');
        const span = BigInt(lower.dropTicks - upper.dropTicks) || 1n;
        const rise = BigInt(lower.girthTicks - upper.girthTicks) * BigInt(dropTicks - upper.dropTicks);
        const exactTimesSpan = BigInt(upper.girthTicks) * span + rise;
        expect(found * span >= exactTimesSpan).toBe(true);
        expect((found - 1n) * span < exactTimesSpan).toBe(true);
      }),
    );
  });

  it('never shrinks down a form that widens', () => {
    fc.assert(
      fc.property(formsWithDrop, fc.nat(1_000_000), ([form, dropTicks], further) => {
        const girths = form.girths.map(({ girthTicks }) => girthTicks).sort((a, b) => a - b);
        const widening = {
          girths: form.girths.map((point, i) => ({ ...point, girthTicks: girths[i] ?? 0 })),
        };
        const last = widening.girths.at(-1)?.dropTicks ?? 0;
        const lowerTicks = Math.min(last, dropTicks + further);
        expect(girth(widening, lowerTicks)).toBeGreaterThanOrEqual(girth(widening, dropTicks));
      }),
    );
  });
});

describe('checking a form', () => {
  it('finds nothing wrong with a good one', () => {
    fc.assert(
      fc.property(forms, (form) => {
        expect(checkForm(form)).toEqual([]);
      }),
    );
  });

  it('wants two girths', () => {
    expect(checkForm(formOf([0, inch(28)]))).toEqual([
      { row: null, field: 'girths', message: expect.stringContaining('two') },
    ]);
  });

  it('tells all problems together, each at its row', () => {
    const form = formOf([-1, inch(28)], [inch(10), 0], [inch(10), -inch(1)], [inch(9), m(101)], [0.5, 1.5]);
    expect(checkForm(form).map(({ row, field }) => `${row} ${field}`)).toEqual([
      '0 drop',
      '1 girth',
      '2 girth',
      '2 drop',
      '3 girth',
      '3 drop',
      '4 drop',
      '4 girth',
      '4 drop',
    ]);
  });

  it('warns of girths that shrink downwards', () => {
    expect(warnForm(formOf([0, 300], [10, 200], [20, 200], [30, 199]))).toEqual([
      { kind: 'narrows', row: 1, fromGirthTicks: 300, toGirthTicks: 200 },
      { kind: 'narrows', row: 3, fromGirthTicks: 200, toGirthTicks: 199 },
    ]);
  });
});
