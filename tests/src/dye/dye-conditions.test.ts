import { describe, expect, it } from 'vitest';
import { classesFor } from '../../../src/dye/dye-class.ts';
import { CONDITIONS, conditionsFor } from '../../../src/dye/dye-conditions.ts';
import { heatLimitFor } from '../../../src/dye/dye-facts.ts';
import { FIBRES } from '../../../src/dye/fibre.ts';

describe('conditions', () => {
  it('are given only where the class dyes the fibre', () => {
    for (const { fibres, dyeClass } of CONDITIONS) {
      for (const fibre of fibres) expect(classesFor(fibre), `${fibre} ${dyeClass}`).toContain(dyeClass);
    }
  });

  it('keep every range in order and name every source', () => {
    for (const { startC, temperatureC, minutes, pH, mark } of CONDITIONS) {
      for (const range of [startC, temperatureC, minutes, pH]) {
        if (range) expect(range[0]).toBeLessThanOrEqual(range[1]);
      }
      if (startC) expect(startC[1]).toBeLessThanOrEqual(temperatureC[0]);
      expect(mark.source).not.toBe('');
    }
  });

  it('work in an open vessel only up to the boil and within what the fibre stands', () => {
    for (const { fibres, temperatureC, vessel } of CONDITIONS) {
      if (vessel === 'open') expect(temperatureC[1]).toBeLessThanOrEqual(100);
      else expect(temperatureC[1]).toBeGreaterThan(100);
      for (const fibre of fibres) {
        const { limitC, neverC } = heatLimitFor([{ fibre, shareBp: 10_000 }]);
        expect(temperatureC[1]).toBeLessThanOrEqual(vessel === 'open' ? limitC : neverC);
      }
    }
  });

  it('of disperse dye on polyester begin with the open pot and end with the commission dyer', () => {
    const ways = conditionsFor('polyester', 'disperse');
    expect(ways.map(({ vessel }) => vessel)).toEqual(['open', 'open', 'sealed']);
    expect(ways.at(-1)?.note).toContain('commission dyer');
  });

  it('of reactive dye go by the reactive group, from mild to hot', () => {
    // Temperature bands: fibres2fabrics.blogspot.com, March 2011.
    expect(conditionsFor('cotton', 'reactive').map(({ temperatureC }) => temperatureC)).toEqual([
      [25, 40],
      [40, 60],
      [80, 85],
      [80, 95],
    ]);
  });

  it('are there for every fibre and class that takes', () => {
    const without = FIBRES.flatMap(({ code }) =>
      classesFor(code)
        .filter((dyeClass) => conditionsFor(code, dyeClass).length === 0)
        .map((dyeClass) => `${code} ${dyeClass}`),
    );
    expect(without).toEqual([]);
    expect(conditionsFor('polyester', 'reactive')).toEqual([]);
  });
});
