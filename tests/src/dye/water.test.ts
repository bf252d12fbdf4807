import { describe, expect, it } from 'vitest';
import { readInWater, sayInWater, sequestrantMg, sodaLostMg } from '../../../src/dye/water.ts';

const value = (typed: string) => {
  const reading = readInWater(typed);
  return reading.ok ? reading.value : reading.reason;
};

describe('reading what is in the water', () => {
  // Degrees of hardness in mg/L of calcium carbonate, from memory: German 17.85, French 10, Clark 14.25, US grain 17.1.
  it.each([
    ['120', 1200],
    ['120 mg/L', 1200],
    ['120,5 ppm', 1205],
    ['120 mg/l CaCO3', 1200],
    ['7 °dH', 1250],
    ['7dH', 1250],
    ['4 °KH', 714],
    ['12 °fH', 1200],
    ['8 °Clark', 1140],
    ['6 gpg', 1026],
    ['6 grains per gallon', 1026],
    ['1.2 mmol/L', 1201],
    ['0', 0],
  ])('%s is %s tenths of a mg/L', (typed, tenths) => {
    expect(value(typed)).toBe(tenths);
  });

  it('says what was understood, and whether it was rounded', () => {
    expect(readInWater('7 °dH')).toMatchObject({ echo: '7 °dH ≈ 125 mg/L', exact: false });
    expect(readInWater('12 °fH')).toMatchObject({ echo: '12 °fH = 120 mg/L', exact: true });
    expect(readInWater('120')).toMatchObject({ echo: '120 mg/L', exact: true });
    expect(sayInWater(1205)).toBe('120.5 mg/L');
  });

  it('refuses what is no unit of water, more than any tap has, and nothing', () => {
    expect(value('7 bananas')).toMatch(/no unit of water: write mg\/L/);
    expect(value('2001')).toBe('Write 2000 mg/L or less.');
    expect(readInWater('').ok).toBe(false);
    expect(readInWater('-3').ok).toBe(false);
  });
});

describe('what hard water takes', () => {
  // Worked from molar masses: 0.106 g of soda ash and 0.372 g of EDTA disodium dihydrate to 100 mg/L.
  it('is soda ash that falls as chalk, and a sequestrant mole for mole', () => {
    const water = { alkalinityTenths: 0, hardnessTenths: 1000, pHTenths: null };
    expect(sodaLostMg(water)).toBeCloseTo(106, 0);
    expect(sequestrantMg(water)).toBeCloseTo(372, 0);
    expect(sodaLostMg({ ...water, hardnessTenths: null })).toBe(0);
  });
});
