import { describe, expect, it } from 'vitest';
import {
  isOval,
  silhouetteAt,
  silhouetteBetween,
  silhouetteOf,
  type View,
} from '../../../../src/garment/drawing/silhouette.ts';
import type { Form } from '../../../../src/garment/girth.ts';
import { inch } from '../../../lengths.ts';

/** 28 in at the waist and 120 in at a drop of 40 in. */
const CONE: Form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
};

describe('a form from the side', () => {
  // A round cone of slant 40 in whose radius grows by 92 ÷ 2π = 14.64 in falls by √(40² − 14.64²) = 37.22 in.
  it('falls 37.22 in over a slant of 40 in from 28 in round to 120 in', () => {
    const [waist, hem] = silhouetteOf(CONE, 'side');
    expect(waist).toEqual({ dropTicks: 0, halfWidthTicks: inch(28) / (2 * Math.PI), downTicks: 0 });
    expect((hem?.downTicks ?? 0) / inch(1)).toBeCloseTo(37.22, 2);
    expect((hem?.halfWidthTicks ?? 0) * 2 * Math.PI).toBeCloseTo(inch(120), 3);
  });

  it('grows evenly between two girths, 51, 74, 97 in, and hangs straight down below the last', () => {
    const side = silhouetteOf(CONE, 'side');
    const round = [10, 20, 30, 50].map(
      (drop) => (silhouetteAt(side, inch(drop)).halfWidthTicks * 2 * Math.PI) / inch(1),
    );
    [51, 74, 97, 120].forEach((girth, place) => {
      expect(round[place]).toBeCloseTo(girth, 6);
    });
    expect(
      (silhouetteAt(side, inch(50)).downTicks - silhouetteAt(side, inch(40)).downTicks) / inch(1),
    ).toBeCloseTo(10, 6);
  });

  it('is level where the girth grows by more than the slant allows, and keeps its bends', () => {
    const wide = { dropTicks: inch(41), girthTicks: inch(240) };
    const side = silhouetteOf({ girths: [...CONE.girths, wide] }, 'side');
    expect(side[2]?.downTicks).toBe(side[1]?.downTicks);
    const drops = silhouetteBetween(side, inch(30), inch(41)).map(({ dropTicks }) => dropTicks / inch(1));
    expect(drops).toEqual([30, 40, 41]);
  });

  it('is as wide as an oval hoop is deep, and from the front as wide as it is', () => {
    const oval = {
      dropTicks: inch(40),
      girthTicks: inch(120),
      hoop: { widthTicks: inch(44), depthTicks: inch(30) },
    };
    const form: Form = { girths: [{ dropTicks: 0, girthTicks: inch(28) }, oval] };
    const at = (view: View) =>
      (silhouetteAt(silhouetteOf(form, view), inch(40)).halfWidthTicks * 2) / inch(1);
    expect([at('side'), at('front')]).toEqual([30, 44]);
    expect([isOval(form), isOval(CONE)]).toEqual([true, false]);
  });
});
