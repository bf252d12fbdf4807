import { describe, expect, it } from 'vitest';
import { type GarmentWork, stepsOfGarment } from '../../../src/by-when/garment-steps.ts';
import { readHours, sayHours, writeHours } from '../../../src/by-when/hours.ts';
import { bufferDays, nearestRank } from '../../../src/by-when/late-record.ts';

const WORK: GarmentWork = {
  dueDay: 100,
  fittingDay: null,
  delivery: null,
  dyeDelivery: null,
  supplyDelivery: null,
  clothDay: null,
  supplyDay: null,
  swatchDays: 0,
  baths: 0,
  dryingDays: 1,
  cutMinutes: 60,
  sewMinutes: 300,
  fittingDone: false,
  finishingDays: 2,
  without: new Set(),
};

describe('the steps of a garment', () => {
  it('put cutting behind what is ordered and what is dyed, which wait for nothing of each other', () => {
    const delivery = [{ days: 12, of: 'calendar' as const }];
    const { kinds, job } = stepsOfGarment({ ...WORK, delivery, swatchDays: 2, baths: 3 });
    expect(kinds).toEqual(['order', 'swatch', 'dye', 'cut', 'sew', 'fit']);
    expect(job?.steps.map(({ after }) => after.map(({ step }) => step))).toEqual([
      [],
      [],
      [1],
      [0, 2],
      [3],
      [4],
    ]);
    expect(job?.steps[3]?.after[1]?.waits).toEqual([{ days: 1, of: 'calendar' }]);
    expect(job?.endWaits).toEqual([{ days: 2, of: 'open' }]);
  });

  it('put dyeing behind dyes that are ordered, and sewing behind what is sewn on', () => {
    const waits = [{ days: 9, of: 'calendar' as const }];
    const both = { ...WORK, dyeDelivery: waits, supplyDelivery: waits };
    const { kinds, job } = stepsOfGarment({ ...both, swatchDays: 2, baths: 1, supplyDay: 50 });
    expect(kinds).toEqual(['order-dyes', 'order-supplies', 'swatch', 'dye', 'cut', 'sew', 'fit']);
    expect(job?.steps.map(({ after }) => after.map(({ step }) => step))).toEqual([
      [],
      [],
      [0],
      [2, 0],
      [3],
      [4, 1],
      [5],
    ]);
    expect(job?.steps[5]).toMatchObject({ fromDay: 50, after: [{ waits: [] }, { waits }] });
    // Nothing is ordered for baths that are done, nor for sewing that is.
    expect(stepsOfGarment({ ...both, sewMinutes: 0 }).kinds).toEqual(['cut', 'fit']);
  });

  it('leave out what is done, and put what follows behind what is left', () => {
    expect(stepsOfGarment({ ...WORK, cutMinutes: 0 }).kinds).toEqual(['sew', 'fit']);
    const dyed = stepsOfGarment({ ...WORK, cutMinutes: 0, sewMinutes: 0, baths: 1 });
    expect(dyed.job?.steps[1]?.after.map(({ step }) => step)).toContain(0);
    expect(stepsOfGarment({ ...WORK, cutMinutes: 0, sewMinutes: 0, fittingDone: true }).job).toBeNull();
  });

  it('count a day for what nobody has a rate or hours of', () => {
    const { job } = stepsOfGarment({ ...WORK, cutMinutes: null, without: new Set(['people']) });
    expect(job?.steps.map(({ resource, units }) => [resource, units])).toEqual([
      [null, 1],
      [null, 1],
      [null, 1],
    ]);
  });

  it('end with the day that was agreed for the last fitting', () => {
    const { job } = stepsOfGarment({ ...WORK, fittingDay: 90 });
    expect(job).toMatchObject({ dueDay: 90, endWaits: [] });
    expect(job?.steps[2]?.fromDay).toBe(90);
  });
});

describe('hours', () => {
  it.each([
    ['7', 420],
    ['7.5', 450],
    ['7,5', 450],
    ['7:30', 450],
    ['7 h 30 min', 450],
    ['45 min', 45],
    ['0', 0],
  ])('%s is %i minutes', (typed, minutes) => {
    expect(readHours(typed)).toMatchObject({ ok: true, value: minutes });
  });

  it.each(['', 'many', '7:75', '25', '-1', '1.2.3'])('"%s" is refused, and what to enter said', (typed) => {
    expect(readHours(typed)).toMatchObject({
      ok: false,
      reason: expect.stringMatching(/^Enter /),
    });
  });

  it('are said and written', () => {
    expect([390, 45, 300, 0].map(sayHours)).toEqual(['6 h 30 min', '45 min', '5 h', '0 h']);
    expect([390, 45, 300].map(writeHours)).toEqual(['6:30', '0:45', '5']);
  });
});

describe('days for a supplier’s being late', () => {
  // A worked example of the nearest-rank method, from memory: of 15, 20, 35, 40, 50 the 30th percentile is 20, the
  // 40th 20, the 50th 35 and the 100th 50.
  it.each([
    [3000, 20],
    [4000, 20],
    [5000, 35],
    [10_000, 50],
  ])('a rank of %i hundredths of a percent is %i', (share, found) => {
    expect(nearestRank([50, 15, 40, 20, 35], share)).toBe(found);
  });

  it('cover four deliveries in five; early is not late', () => {
    expect(bufferDays([])).toBeNull();
    expect(bufferDays([-3])).toBe(0);
    expect(bufferDays([0, 7, 1])).toBe(7);
    expect(bufferDays([0, 0, 2, 1, 30])).toBe(2);
  });
});
