import { describe, expect, it } from 'vitest';
import { sayTapeStep, shapeTape, TAPE_WIDTH, tapeStep } from '../../../server/kit/tape.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { IMPERIAL, METRIC } from '../../../src/quantity/length-show.ts';

const m = (metres: number) => Math.round(metres * TICKS_PER.m);
const yd = (yards: number) => Math.round(yards * TICKS_PER.yd);
const b12 = {
  name: 'B12',
  onHandTicks: m(12),
  heldTicks: m(3),
  usedTicks: m(8),
  flawsAtTicks: [m(4)],
  maxTicks: m(20),
  units: METRIC,
};

describe('a tape', () => {
  // 400 units stand for 20 m, so 20 units are a metre: 9 m free, 3 m held, 8 m used.
  it('shows what is to spare, held and used one after the other on the scale', () => {
    const tape = shapeTape(b12);
    expect(tape.spare).toEqual({ x: 0, width: 180 });
    expect(tape.held).toEqual({ x: 180, width: 60 });
    expect(tape.used).toEqual({ x: 240, width: 160 });
    expect(tape.outline).toEqual({ x: 0, width: 240 });
  });

  it('shows what is needed between what is to spare and what is held', () => {
    const tape = shapeTape({ ...b12, neededTicks: m(4) });
    expect(tape.spare).toEqual({ x: 0, width: 100 });
    expect(tape.needed).toEqual({ x: 100, width: 80 });
    expect(tape.held).toEqual({ x: 180, width: 60 });
    expect(tape.said).toContain('5 m to spare, 4 m needed, 3 m held');
    expect(shapeTape({ ...b12, neededTicks: m(9) }).spare).toBeNull();
    expect(() => shapeTape({ ...b12, neededTicks: m(9) + 1 })).toThrow(RangeError);
    expect(() => shapeTape({ ...b12, neededTicks: -1 })).toThrow(RangeError);
  });

  it('is as long as its share of the longest of the list', () => {
    const tape = shapeTape({ name: 'R3', onHandTicks: m(5), heldTicks: 0, maxTicks: m(20), units: METRIC });
    expect(tape.spare).toEqual({ x: 0, width: TAPE_WIDTH / 4 });
    expect(tape.held).toBeNull();
    expect(tape.used).toBeNull();
  });

  it('has a tick each metre, a tall one each fifth, and one at its end', () => {
    const { marks } = shapeTape({ ...b12, usedTicks: 0, maxTicks: m(20) });
    const drawn = [...marks.matchAll(/M([\d.]+) 6V(\d)/g)].map(([, x, top]) => [Number(x), Number(top)]);
    expect(drawn.map(([x]) => x)).toEqual([0, 20, 40, 60, 80, 100, 120, 140, 160, 180, 200, 220, 240]);
    expect(drawn.filter(([, top]) => top === 0).map(([x]) => x)).toEqual([0, 100, 200]);
  });

  it('has a tick each yard for who measures in yards', () => {
    const { marks } = shapeTape({
      name: 'B1',
      onHandTicks: yd(3.5),
      heldTicks: 0,
      maxTicks: yd(10),
      units: IMPERIAL,
    });
    expect(marks).toBe('M0 6V0M40 6V3M80 6V3M120 6V3');
  });

  it('notches each flaw within the piece and leaves out one beyond it', () => {
    const notches = (flawsAtTicks: number[]) => shapeTape({ ...b12, flawsAtTicks }).notches;
    expect(notches([m(4)])).toEqual([{ x: 75, width: 10 }]);
    expect(notches([0, m(12)])).toEqual([
      { x: 0, width: 5 },
      { x: 235, width: 5 },
    ]);
    expect(notches([m(12.5)])).toEqual([]);
  });

  it('says in words what it shows', () => {
    expect(shapeTape(b12).said).toBe('B12: 12 m on hand, 9 m to spare, 3 m held, 8 m used, flaw at 4 m');
    expect(
      shapeTape({ name: 'R3', onHandTicks: m(5), heldTicks: 0, maxTicks: m(5), units: METRIC }).said,
    ).toBe('R3: 5 m on hand, 5 m to spare');
    expect(shapeTape({ ...b12, flawsAtTicks: [m(4), m(13)] }).said).toContain('flaw at 4 m');
    expect(shapeTape({ ...b12, flawsAtTicks: [m(1), m(4)] }).said).toContain('flaws at 1 m, 4 m');
  });

  it('shows a sliver of what is too short for the scale, and nothing of nothing', () => {
    const sliver = shapeTape({ name: 'R9', onHandTicks: 1, heldTicks: 0, maxTicks: m(1000), units: METRIC });
    expect(sliver.spare).toBeNull();
    expect(
      shapeTape({ name: 'R9', onHandTicks: m(0.1), heldTicks: 0, maxTicks: m(100), units: METRIC }).spare,
    ).toEqual({ x: 0, width: 1.5 });
    const none = shapeTape({
      name: 'B2',
      onHandTicks: 0,
      heldTicks: 0,
      usedTicks: m(20),
      maxTicks: m(20),
      units: METRIC,
    });
    expect([none.spare, none.held, none.outline]).toEqual([null, null, null]);
    expect(none.used).toEqual({ x: 0, width: 400 });
  });

  it('refuses what the ledger can never hold, and a scale that is too short', () => {
    expect(() => shapeTape({ ...b12, heldTicks: m(12) + 1 })).toThrow(RangeError);
    expect(() => shapeTape({ ...b12, onHandTicks: -1, heldTicks: 0 })).toThrow(RangeError);
    expect(() => shapeTape({ ...b12, usedTicks: -1 })).toThrow(RangeError);
    expect(() => shapeTape({ ...b12, maxTicks: m(20) - 1 })).toThrow(RangeError);
    expect(() => shapeTape({ ...b12, onHandTicks: 0, heldTicks: 0, usedTicks: 0, maxTicks: 0 })).toThrow(
      RangeError,
    );
    expect(() => shapeTape({ ...b12, maxTicks: Number.NaN })).toThrow(RangeError);
  });
});

describe('the step of a tape', () => {
  // 400 units of width and 6 units between ticks: at most 66 ticks.
  it.each([
    [m(66), m(1)],
    [m(67), m(2)],
    [m(133), m(2)],
    [m(134), m(5)],
    [m(3000), m(50)],
    [m(2), m(1)],
    [m(1.99), m(0.1)],
  ])('of a scale of %i ticks is %i', (maxTicks, stepTicks) => {
    expect(tapeStep(maxTicks, METRIC).stepTicks).toBe(stepTicks);
  });

  it('is a quarter yard under two yards', () => {
    expect(tapeStep(yd(1.5), IMPERIAL)).toEqual({ stepTicks: yd(0.25), tallEvery: 4 });
  });

  it('leaves at least 6 units between ticks however long the scale', () => {
    for (const metres of [1, 7, 66.7, 500, 12_345, 4_000_000, 900_000_000]) {
      const { stepTicks } = tapeStep(m(metres), METRIC);
      expect((stepTicks / m(metres)) * TAPE_WIDTH).toBeGreaterThanOrEqual(6);
    }
  });

  it('is said in words', () => {
    expect(sayTapeStep(m(20), METRIC)).toBe('One tick is 1 m, a tall one 5 m');
    expect(sayTapeStep(yd(20), IMPERIAL)).toBe('One tick is 1 yd, a tall one 5 yd');
  });
});
