import { describe, expect, it } from 'vitest';
import { dayOf, daysBetween } from '../../../server/kit/when.ts';
import { nearness } from '../../../server/today/days.ts';
import { shapeProgress } from '../../../server/today/progress.ts';

const TODAY = '2026-03-02';

describe('how near a day is', () => {
  it.each([
    ['2026-03-02', 'today'],
    ['2026-03-03', 'tomorrow'],
    ['2026-03-01', 'yesterday'],
    ['2026-03-09', 'in 7 days'],
    ['2026-02-28', '2 days ago'],
    ['2028-03-02', 'in 731 days'],
  ])('%s is %s', (day, words) => {
    expect(nearness(day, TODAY).words).toBe(words);
  });

  it('marks what has gone by, and what is due within a week', () => {
    const marks = ['2026-03-01', '2026-03-02', '2026-03-09', '2026-03-10'].map((day) => nearness(day, TODAY));
    expect(marks.map(({ past }) => past)).toEqual([true, false, false, false]);
    expect(marks.map(({ soon }) => soon)).toEqual([false, true, true, false]);
  });

  it('says nothing of a day that was not given', () => {
    expect(nearness(null, TODAY)).toEqual({ words: '', past: false, soon: false });
  });

  it('counts days over the change to summer time and over a leap day', () => {
    expect(daysBetween('2026-03-28', '2026-03-30')).toBe(2);
    expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
    expect(daysBetween('2026-03-30', '2026-03-28')).toBe(-2);
  });

  it('is that of the clock on the wall', () => {
    const evening = new Date(2026, 2, 2, 23, 59);
    expect(dayOf(evening.toISOString())).toBe('2026-03-02');
    expect(dayOf(new Date(evening.getTime() + 60_000).toISOString())).toBe('2026-03-03');
  });
});

describe('how far the strips are', () => {
  it('shares the bar out: 10 of 40 cut, 20 held, 4 short, the rest from free cloth', () => {
    const progress = shapeProgress({ wanted: 40, cut: 10, held: 20, short: 4 });
    expect(progress?.said).toBe('10 of 40 strips cut, 20 held, 4 short');
    expect(progress?.bar.stretches).toEqual([
      { fill: 'solid', x: 0, width: 100 },
      { fill: 'hatched', x: 100, width: 200 },
      { fill: 'open', x: 300, width: 60 },
      { fill: 'dashed', x: 360, width: 40 },
    ]);
  });

  it('tells what is coming apart from what is to get, on the scale of a list', () => {
    const progress = shapeProgress({ wanted: 10, cut: 0, held: 0, short: 10, coming: 4 }, 40);
    expect(progress?.bar.stretches).toEqual([
      { fill: 'dotted', x: 0, width: 40 },
      { fill: 'dashed', x: 40, width: 60 },
    ]);
  });

  it('leaves out what there is none of', () => {
    const progress = shapeProgress({ wanted: 1, cut: 1, held: 0, short: 0 });
    expect(progress).toMatchObject({
      said: '1 of 1 strip cut',
      bar: { stretches: [{ fill: 'solid', x: 0, width: 400 }] },
    });
  });

  it('is not drawn where no strips are wanted', () => {
    expect(shapeProgress({ wanted: 0, cut: 0, held: 0, short: 0 })).toBeNull();
  });
});
