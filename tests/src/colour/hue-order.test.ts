import { describe, expect, it } from 'vitest';
import { orderByHue } from '../../../src/colour/hue-order.ts';
import { hueOf, type Lab } from '../../../src/colour/lab.ts';
import { labOfXyz, screen } from './lab-of.ts';

/** Degrees between two angles. */
const turned = (one: number, other: number) => Math.abs(((one - other + 540) % 360) - 180);

describe('the hue of a colour', () => {
  // web-platform-tests, css/css-color: oklch-001 (green), -005, -006 and -007, their sRGB percentages to the nearest of 256 steps.
  it.each([
    ['#008000', 142.495],
    ['#3b51d3', 270],
    ['#52db9c', 160],
    ['#ac4785', 345],
  ])('of %s is %d° in OKLCH', (hex, wanted) => {
    expect(turned(hueOf(screen(hex)), wanted)).toBeLessThan(0.5);
  });

  // Table of example pairs by the author of Oklab (bottosson.github.io/posts/oklab), to three places.
  it.each([
    [1, 0, 0, 1.236, -0.019],
    [0, 1, 0, -0.671, 0.263],
    [0, 0, 1, -1.415, -0.449],
  ])('of XYZ %d %d %d is that of its published Oklab', (x, y, z, a, b) => {
    const wanted = (Math.atan2(b, a) * 180) / Math.PI;
    expect(turned(hueOf(labOfXyz(x, y, z)), wanted)).toBeLessThan(0.1);
  });

  it('keeps a blue where it is as it gets paler, which CIELAB does not', () => {
    const [deep, pale] = [screen('#0000ff'), screen('#a0b4ff')];
    const inCielab = ({ a, b }: Lab) => (Math.atan2(b, a) * 180) / Math.PI;
    expect(turned(hueOf(deep), hueOf(pale))).toBeLessThan(15);
    expect(turned(inCielab(deep), inCielab(pale))).toBeGreaterThan(15);
  });
});

describe('the order by hue', () => {
  const COLOURS: Readonly<Record<string, string>> = {
    black: '#000000',
    blue: '#0000ff',
    cyan: '#00ffff',
    grey: '#808080',
    lime: '#00ff00',
    magenta: '#ff00ff',
    orange: '#ffa500',
    pink: '#ff69b4',
    red: '#ff0000',
    violet: '#8a2be2',
    white: '#ffffff',
    yellow: '#ffff00',
  };
  const labOf = (name: string) => (COLOURS[name] ? screen(COLOURS[name]) : null);

  it('goes once round from pink to magenta, whatever order they come in', () => {
    const names = Object.keys(COLOURS);
    const wanted = ['pink', 'red', 'orange', 'yellow', 'lime', 'cyan', 'blue', 'violet', 'magenta'];
    expect(orderByHue(names, labOf).hues).toEqual(wanted);
    expect(orderByHue(names.toReversed(), labOf).hues).toEqual(wanted);
  });

  it('keeps greys apart by lightness, and last what has no colour, as it came', () => {
    const { greys, uncoloured } = orderByHue(['unread', 'black', 'asked', 'white', 'red', 'grey'], labOf);
    expect(greys).toEqual(['white', 'grey', 'black']);
    expect(uncoloured).toEqual(['unread', 'asked']);
  });

  it('leaves what is alike in its order, and calls grey what has a chroma below 5', () => {
    const alike = ['first', 'second'].map((name) => ({ name, lab: { l: 70, a: 30, b: 0 } }));
    expect(orderByHue(alike, ({ lab }) => lab).hues.map(({ name }) => name)).toEqual(['first', 'second']);
    expect(orderByHue([{ l: 50, a: 4.9, b: 0 }], (lab) => lab).greys).toHaveLength(1);
    expect(orderByHue([{ l: 50, a: 5.1, b: 0 }], (lab) => lab).hues).toHaveLength(1);
  });

  it('says nothing of nothing', () => {
    expect(orderByHue([], () => null)).toEqual({ hues: [], greys: [], uncoloured: [] });
  });
});
