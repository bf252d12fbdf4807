import { describe, expect, it } from 'vitest';
import {
  boiledAwayUl,
  fastestRate,
  heatKj,
  kwForRate,
  materialCaution,
  minutesFor,
} from '../../../src/dye/heater.ts';

const water = { volumeUl: 20_000_000, clothMg: 0 };

describe('heat', () => {
  it('20 L from 15 to 95 °C take 6698 kJ, 1.86 kWh; 2 kW of which three quarters arrive do it in 74 min', () => {
    const { inAllKj } = heatKj(water, 15, 95);
    expect(inAllKj).toBeCloseTo(6697.6, 5);
    expect((inAllKj / 3600).toFixed(2)).toBe('1.86');
    expect(Math.round(minutesFor(inAllKj, { watts: 2000, efficiencyBp: 7500 }))).toBe(74);
  });

  it('20 L at 1 °C a minute want 1.40 kW', () => {
    expect(kwForRate(water, 1).toFixed(2)).toBe('1.40');
  });

  it('a quart in 350 s at 1300 W: 0.126 kWh in, 317 BTU in the water, 74 %', () => {
    // Fastcompany.com/3062598; a US quart is 0.946353 L, 1 BTU 1.055 kJ, from 50 to about 212 °F.
    const kwh = (1.3 * 350) / 3600;
    expect(kwh.toFixed(3)).toBe('0.126');
    const { inAllKj } = heatKj({ volumeUl: 946_353, clothMg: 0 }, 15.5, 100);
    expect(Math.round((100 * inAllKj) / (kwh * 3600))).toBe(74);
  });

  it('boils away 1.595 kg an hour for each kW', () => {
    // 3600 ÷ 2257 kJ/kg, redelectrickettle.net/1296.
    expect(boiledAwayUl({ watts: 1000, efficiencyBp: 10_000 }, 60)).toBe(1_595_038);
  });

  it('counts cloth and pot too, and manages a rate as its power allows', () => {
    const load = { ...water, clothMg: 1_000_000, potMg: 2_000_000, material: 'aluminium' } as const;
    expect(heatKj(load, 20, 30)).toEqual({ waterKj: 837.2, clothKj: 13, potKj: 18, inAllKj: 868.2 });
    const heater = { watts: 2000, efficiencyBp: 10_000 };
    expect(kwForRate(load, fastestRate(load, heater))).toBeCloseTo(2, 10);
    expect(() => minutesFor(1, { watts: 0, efficiencyBp: 10_000 })).toThrow(RangeError);
  });

  it('warns of metals that acid eats and of plastic that softens', () => {
    const mild = { acid: false, alkaline: false, temperatureC: 50 };
    expect(materialCaution('aluminium', { ...mild, acid: true })).toMatch(/eaten by acid/);
    expect(materialCaution('plastic', { ...mild, temperatureC: 61 })).toMatch(/60 °C/);
    expect(materialCaution('copper', mild)).toMatch(/ions/);
    expect(materialCaution('stainless steel', { ...mild, acid: true, temperatureC: 98 })).toBe('');
  });
});
