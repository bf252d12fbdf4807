import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitLengths, lengthFor, lengthsStillWanted, type WantedLength } from '../../../src/supply/lengths.ts';

const whole = (ticks: number): WantedLength => ({ ticks, pieces: 1 });
const pieced = (ticks: number, pieces: number | null = null): WantedLength => ({ ticks, pieces });
const sum = (lengths: readonly number[]) => lengths.reduce((total, length) => total + length, 0);

describe('a length that is cut', () => {
  const reel = (id: number, mayTake: number, begun = true) => ({ id, mayTake, begun });

  it('comes off the shortest begun one that is long enough, else off a whole one, else off none', () => {
    const reels = [reel(1, 2500, false), reel(2, 2080), reel(3, 310), reel(4, 450)];
    expect(lengthFor(reels, 420)?.id).toBe(4);
    expect(lengthFor(reels, 451)?.id).toBe(2);
    expect(lengthFor(reels, 2081)?.id).toBe(1);
    expect(lengthFor(reels, 2501)).toBeNull();
  });
});

describe('what is still wanted', () => {
  it('is less what was provided: whole lengths first, then a part of one', () => {
    expect(lengthsStillWanted([whole(100), whole(300), whole(200)], 300)).toEqual([whole(200), whole(100)]);
    expect(lengthsStillWanted([whole(300), whole(200)], 340)).toEqual([whole(160)]);
    expect(lengthsStillWanted([whole(300)], 300)).toEqual([]);
  });

  it('is never more or less in sum than what was wanted and not provided', () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 50 }).map(whole), { maxLength: 6 });
    fc.assert(
      fc.property(lengths, fc.nat({ max: 300 }), (wanted, provided) => {
        const all = sum(wanted.map(({ ticks }) => ticks));
        const open = lengthsStillWanted(wanted, provided).map(({ ticks }) => ticks);
        expect(sum(open)).toBe(Math.max(0, all - provided));
        expect(open.every((ticks) => ticks > 0)).toBe(true);
      }),
    );
  });
});

describe('wanted lengths in those that there are, by hand', () => {
  it('are missing whole where they may not be joined, though the sum is there', () => {
    // 3.1 and 2.9 m are 6 m, and yet there is no 4.2 m among them.
    expect(fitLengths([whole(420)], [310, 290])).toEqual({
      missing: [whole(420)],
      missingTicks: 420,
      left: [310, 290],
    });
    expect(fitLengths([pieced(420, 2)], [310, 290])).toMatchObject({ missing: [], left: [0, 180] });
  });

  it('are pieced from no more than they may be, and of all that is left where they may', () => {
    expect(fitLengths([pieced(700, 2)], [300, 300, 200])).toMatchObject({
      missing: [pieced(100, 2)],
      left: [0, 0, 200],
    });
    expect(fitLengths([pieced(700)], [300, 300, 200])).toMatchObject({ missing: [], left: [0, 0, 100] });
    expect(fitLengths([pieced(900)], [300, 300, 200]).missing).toEqual([pieced(100)]);
  });

  it('are put where a longer one still has room, which the shortest fit alone would not see', () => {
    // The shortest that has 5 is 6, after which the third 3 has no room; 5 + 3 in 8 and 3 + 3 in 6 do.
    expect(fitLengths([whole(5), whole(3), whole(3), whole(3)], [8, 6]).missing).toEqual([]);
  });
});

/** The least that is missing of lengths that may not be joined, by trying each in every place and in none. */
function leastMissing(wanted: readonly number[], free: readonly number[]): number {
  const [first, ...others] = wanted;
  if (first === undefined) return 0;
  const ways = free.flatMap((has, at) =>
    has >= first ? [leastMissing(others, free.with(at, has - first))] : [],
  );
  return Math.min(first + leastMissing(others, free), ...ways);
}

it('as little is missing as by trying every way, and nothing is cut twice', () => {
  const lengths = (most: number) => fc.array(fc.integer({ min: 1, max: 30 }), { maxLength: most });
  fc.assert(
    fc.property(lengths(6), lengths(2), lengths(4), (wanted, any, free) => {
      const alone = fitLengths(wanted.map(whole), free);
      expect(alone.missingTicks).toBe(leastMissing(wanted, free));
      const both = fitLengths([...wanted.map(whole), ...any.map((ticks) => pieced(ticks))], free);
      expect(sum(both.left)).toBe(sum(free) - (sum(wanted) + sum(any) - both.missingTicks));
      expect(both.missingTicks).toBe(alone.missingTicks + Math.max(0, sum(any) - sum(alone.left)));
      expect(both.left.every((has, at) => has >= 0 && has <= (free[at] ?? 0))).toBe(true);
    }),
    { numRuns: 300 },
  );
});
