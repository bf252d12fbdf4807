import { describe, expect, it } from 'vitest';
import {
  byBalance,
  byJug,
  byVolume,
  leastWeighedTo,
  offBpOf,
  type SmallMeasure,
  type Source,
  weighingMg,
} from '../../../src/dye/measuring.ts';
import { isTooLittle, proposeStocks, sourcesOf } from '../../../src/dye/stock-solution.ts';

const percent = ({ relative }: Source) => relative * 100;
const u = (...sources: readonly Source[]) =>
  Math.sqrt(sources.reduce((sum, { relative }) => sum + relative ** 2, 0)) * 100;

describe('weighing', () => {
  // USP chapter 41: the least weight for a tolerance is 2 s ÷ tolerance, s at least 0.41 of a step. Its example, s of
  // 0.00015 g and 0.10 %, is 0.30 g; 0.01 g and 1 % make 0.82 g.
  it('is never held to be better than the published rule', () => {
    const leastG = (sG: number, part: number) => (2 * sG) / part;
    expect(leastG(0.00015, 0.001)).toBeCloseTo(0.3, 9);
    expect(leastG(0.41 * 0.01, 0.01)).toBeCloseTo(0.82, 9);
    for (const stepMg of [1, 10, 100]) {
      const publishedMg = leastG(0.41 * (stepMg / 1000), 0.01) * 1000;
      const ours = leastWeighedTo(stepMg, 100);
      expect(ours).toBeGreaterThanOrEqual(publishedMg);
      // Ours counts the reading of the scale too, which makes it √(1/6 ÷ 0.41² + 1) as much.
      expect(ours).toBeLessThanOrEqual(Math.ceil(1.42 * publishedMg));
    }
  });

  it('of 0.05 g to 0.01 g is off by 11.6 %, told as 23 %', () => {
    // u² = 2 (d ÷ √12)² + (0.41 d)², worked out by hand.
    expect(weighingMg(10)).toBeCloseTo(5.786, 3);
    expect(percent(byBalance(50_000, 10))).toBeCloseTo(11.6, 1);
    expect(offBpOf([byBalance(50_000, 10)])).toBe(2315);
    expect(leastWeighedTo(10, 500)).toBe(232);
  });
});

describe('measuring', () => {
  // ASTM E1272 for cylinders of class B: 10 mL is right to 0.20 mL, so that 5 mL are off by 0.20 ÷ √3 ÷ 5 = 2.31 %.
  // USP chapter 31 for graduated pipettes; ISO 8655 for a piston of 1000 µL, 8 µL at any setting: 4 % at 200 µL.
  it.each<[what: string, ml: number, measure: SmallMeasure, percent: number, by: string]>([
    ['5 mL in a cylinder of 5', 5, 'cylinder', 0.1 / Math.sqrt(3) / 0.05, 'cylinder of 5 mL'],
    ['5 mL by a graduated pipette', 5, 'pipette', 0.23, 'graduated pipette of 5 mL'],
    ['0.2 mL by a piston', 0.2, 'piston', 2.31, 'piston pipette of 1 mL'],
    ['5 mL with a piston at hand', 5, 'piston', 0.23, 'graduated pipette of 5 mL'],
    ['10 mL in a cylinder', 10, 'cylinder', 1.155, 'cylinder of 10 mL'],
    ['100 mL in a cylinder', 100, 'pipette', 0.577, 'cylinder of 100 mL'],
    ['5 mL by a syringe', 5, 'syringe', 2.31, 'syringe of 5 mL'],
    [
      '20 mL by pipette, twice 10',
      20,
      'pipette',
      (0.03 * Math.sqrt(2) * 100) / Math.sqrt(3) / 20,
      'graduated pipette of 10 mL',
    ],
    [
      '4 L in a cylinder of 2, twice',
      4000,
      'pipette',
      (20 * Math.sqrt(2) * 100) / Math.sqrt(3) / 4000,
      'cylinder of 2000 mL',
    ],
  ])('%s', (_, ml, measure, wanted, by) => {
    const source = byVolume(ml * 1000, measure);
    expect(percent(source)).toBeCloseTo(wanted, 2);
    expect(source.with).toBe(by);
  });

  it('5 mL in a cylinder of 10 is off by 2.31 %, as a limit of 4 %', () => {
    // What is read in the middle of a measure is as far off as at its mark: 6 mL wants the cylinder of 10.
    const source = byVolume(6000, 'cylinder');
    expect((source.relative * 6) / 5).toBeCloseTo(0.0231, 4);
    expect(byVolume(200, 'piston').relative * Math.sqrt(3)).toBeCloseTo(0.04, 9);
  });
});

describe('a route together', () => {
  it('of 1 g in 100 mL and 5 mL of it: 0.85 % by a pipette; 1 % to 0.1 to 0.01 % by cylinders: 1.29 % a step, 2.0 % in all', () => {
    const made = [byBalance(1_000_000, 10), byJug(100)];
    expect(made.map(percent).map((each) => each.toFixed(2))).toEqual(['0.58', '0.58']);
    expect(u(...made, byVolume(5000, 'pipette'))).toBeCloseTo(0.85, 2);
    const step = [byVolume(10_000, 'cylinder'), byJug(100)];
    expect(u(...step)).toBeCloseTo(1.29, 2);
    expect(u(...made, ...step, ...step)).toBeCloseTo(2, 1);
    // Twice 2.002 %, rounded up to a hundredth of a percent.
    expect(offBpOf([...made, ...step, ...step])).toBe(401);
  });

  const line = { part: 'dye', name: 'Fern', asked: '', massMg: 50, massUg: 50_000 } as const;
  const bath = { massMg: 100_000, volumeUl: 4_000_000, freshWaterUl: 4_000_000, lines: [line] };

  it('is proposed where the thing itself is worse than the setting, and not where the setting allows it', () => {
    expect(isTooLittle(line, { balanceMg: 10 })).toBe(true);
    expect(isTooLittle(line, { balanceMg: 10, offBp: 2400 })).toBe(false);
    expect(proposeStocks(bath, 1, { balanceMg: 10, offBp: 2400 })).toEqual([]);
    const [stock] = proposeStocks(bath, 1, { balanceMg: 10 });
    expect(stock).toMatchObject({ mgPer100Ml: 200, perBathUl: 25_000 });
    const taken = { ...line, volumeUl: 25_000, stockMgPer100Ml: 200 };
    expect(offBpOf(sourcesOf(taken, stock, { balanceMg: 10 }))).toBeLessThanOrEqual(500);
  });

  it('of a liquid is the truer of weighing and measuring, and a stock where neither will do', () => {
    // 0.3 mL by cylinder is hopeless; on a fine balance it is weighed.
    const drops = { massMg: 302, massUg: 301_800, volumeUl: 300 };
    expect(sourcesOf(drops, undefined, { balanceMg: 1, measuresWith: 'cylinder' })).toMatchObject([
      { with: 'balance of 0.001 g' },
    ]);
    expect(sourcesOf(drops, undefined, { balanceMg: 100, measuresWith: 'pipette' })).toMatchObject([
      { with: 'graduated pipette of 2 mL' },
    ]);
    expect(isTooLittle(drops, { balanceMg: 100, measuresWith: 'cylinder' })).toBe(true);
    const acid = { ...bath, lines: [{ ...line, ...drops, part: 'auxiliary' as const }] };
    expect(proposeStocks(acid, 1, { balanceMg: 100, measuresWith: 'cylinder' })).toHaveLength(1);
    expect(proposeStocks(acid, 1, { balanceMg: 10, measuresWith: 'pipette' })).toEqual([]);
  });

  it('of a stock that somebody asked for counts its measuring alone, and of nothing is nothing', () => {
    const taken = { ...line, volumeUl: 5000, stockMgPer100Ml: 1000 };
    expect(sourcesOf(taken, undefined, { balanceMg: 10 })).toMatchObject([
      { with: 'graduated pipette of 5 mL' },
    ]);
    expect(sourcesOf({ massMg: 0 }, undefined, { balanceMg: 10 })).toEqual([]);
    expect(isTooLittle({ massMg: 0 }, { balanceMg: 10 })).toBe(false);
  });
});
