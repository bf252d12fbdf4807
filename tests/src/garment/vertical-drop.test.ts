import { describe, expect, it } from 'vitest';
import type { Form } from '../../../src/garment/girth.ts';
import { hoopGirth } from '../../../src/garment/hoop.ts';
import {
  floorBelowWaist,
  surfaceDropAt,
  verticalDropAt,
  verticalDropsOf,
} from '../../../src/garment/vertical-drop.ts';
import { cm, inch } from '../../lengths.ts';

const CONE: Form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
};

describe('the vertical drop of a form', () => {
  // Geometry of a round cone: radii 28/2π and 120/2π, slant 40, so √(40² − (92/2π)²) = 37.22 in.
  it('from 28 to 120 in round over 40 in of slant is 37.22 in', () => {
    const cone = verticalDropsOf(CONE);
    expect(verticalDropAt(cone, inch(40)) / inch(1)).toBeCloseTo(
      Math.sqrt(1600 - (92 / (2 * Math.PI)) ** 2),
      3,
    );
    expect(verticalDropAt(cone, inch(40)) / inch(1)).toBeCloseTo(37.22, 2);
    expect(verticalDropAt(cone, inch(20)) / inch(1)).toBeCloseTo(18.61, 2);
  });

  it('goes straight down below the last girth, and the drop to a clearance is its inverse', () => {
    const cone = verticalDropsOf(CONE);
    expect(verticalDropAt(cone, inch(43)) - verticalDropAt(cone, inch(40))).toBe(inch(3));
    // A waist 41 in up and a hem 2 in clear: 39 in down, 1.78 in below the form.
    expect(surfaceDropAt(cone, inch(39)) / inch(1)).toBeCloseTo(40 + 39 - 37.2247, 2);
    for (const drop of [0, 7, 25, 40, 55]) {
      expect(
        Math.abs(surfaceDropAt(cone, verticalDropAt(cone, inch(drop))) - inch(drop)),
      ).toBeLessThanOrEqual(1);
    }
  });

  it('of a form that grows by more than its slant is level there', () => {
    const flat: Form = {
      girths: [
        { dropTicks: cm(10), girthTicks: cm(60) },
        { dropTicks: cm(20), girthTicks: cm(600) },
      ],
    };
    expect(verticalDropAt(verticalDropsOf(flat), cm(20))).toBe(cm(10));
  });

  it('of an ellipse follows the radius of the circle with its area', () => {
    const hoops = [
      { widthTicks: cm(40), depthTicks: cm(10) },
      { widthTicks: cm(160), depthTicks: cm(40) },
    ];
    const girths = hoops.map((hoop, i) => ({ dropTicks: cm(100 * i), girthTicks: hoopGirth(hoop), hoop }));
    // √(20·5) = 10 to √(80·20) = 40: √(100² − 30²) = 95.394.
    expect(verticalDropAt(verticalDropsOf({ girths }), cm(100)) / cm(1)).toBeCloseTo(95.394, 3);
  });
});

describe('the floor below the waist', () => {
  const upright = { frontDropTicks: null, sideDropTicks: null, backDropTicks: null };
  const tilted = { frontDropTicks: inch(38), sideDropTicks: inch(39), backDropTicks: inch(40) };

  it('lies as far down as the waist was measured up, where the form stands upright', () => {
    expect(floorBelowWaist(CONE, { ...upright, waistHeightTicks: inch(41), clearanceTicks: null })).toBe(
      inch(41),
    );
    expect(floorBelowWaist(CONE, { ...tilted, waistHeightTicks: null, clearanceTicks: inch(2) })).toBeNull();
  });

  it('lies below the end of the longest drop by the clearance, where the form is tilted', () => {
    const floorTicks = floorBelowWaist(CONE, {
      ...tilted,
      waistHeightTicks: inch(41),
      clearanceTicks: inch(2),
    });
    // 40 in down the cone are 37.22 in straight down.
    expect((floorTicks ?? 0) / inch(1)).toBeCloseTo(39.22, 2);
    expect(floorBelowWaist(CONE, { ...tilted, waistHeightTicks: inch(41), clearanceTicks: null })).toBeNull();
  });
});
