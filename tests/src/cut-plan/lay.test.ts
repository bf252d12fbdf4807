import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boxArea,
  crossCutsOf,
  isFlawOnLay,
  isRestKept,
  type LaidBox,
  type LaidStrips,
  leadTaken,
  restsOf,
  restsToKeep,
  shareLay,
  slitsOf,
  startOfLay,
  stripArea,
  stripBoxes,
} from '../../../src/cut-plan/lay.ts';
import { cm } from '../../lengths.ts';

const run = (of: Partial<LaidStrips>): LaidStrips => ({
  leftTicks: 0,
  acrossTicks: cm('49'),
  alongTicks: cm('32'),
  columns: 1,
  stack: 1,
  strips: (of.columns ?? 1) * (of.stack ?? 1),
  ...of,
});

describe('strips of a lay', () => {
  it('stand column by column, and the last column may have fewer', () => {
    const boxes = stripBoxes(run({ columns: 2, stack: 2, strips: 3 }));
    expect(boxes.map(({ leftTicks, fromTicks }) => [leftTicks / cm('1'), fromTicks / cm('1')])).toEqual([
      [0, 0],
      [0, 32],
      [49, 0],
    ]);
  });

  it('are slit at the edges of their columns, and not at the selvedges', () => {
    const runs = [run({ columns: 2 }), run({ leftTicks: cm('98') })];
    expect(slitsOf(runs, cm('147'))).toEqual([cm('49'), cm('98')]);
    expect(slitsOf(runs, cm('150'))).toEqual([cm('49'), cm('98'), cm('147')]);
    expect(slitsOf([run({ leftTicks: cm('10') })], cm('147'))).toEqual([cm('10'), cm('59')]);
  });

  it('are cut across where a column has several or is shorter than the lay', () => {
    expect(crossCutsOf(run({ stack: 2 }), cm('64'))).toEqual([cm('32')]);
    expect(crossCutsOf(run({ stack: 2 }), cm('70'))).toEqual([cm('32'), cm('64')]);
    expect(crossCutsOf(run({}), cm('32'))).toEqual([]);
  });
});

describe('where a lay begins', () => {
  const lay = { heightTicks: cm('32'), runs: [run({ columns: 2 })] };
  const flaw = (from: string, to: string, left = '0', right = '147') => ({
    fromTicks: cm(from),
    toTicks: cm(to),
    leftTicks: cm(left),
    rightTicks: cm(right),
  });
  const piece = (flaws: ReturnType<typeof flaw>[], length = '200', width = '147') => ({
    lengthTicks: cm(length),
    widthTicks: cm(width),
    flaws,
  });

  it('is the free end, wherever it was planned', () => {
    expect(startOfLay(lay, piece([]), cm('40'))).toBe(0);
  });

  it('is behind a flaw that lies in a strip, and not behind one beside the strips', () => {
    expect(startOfLay(lay, piece([flaw('20', '25')]), 0)).toBe(cm('25'));
    expect(startOfLay(lay, piece([flaw('20', '25', '98', '110')]), 0)).toBe(0);
    expect(startOfLay(lay, piece([flaw('20', '25'), flaw('50', '51')]), 0)).toBe(cm('51'));
    expect(startOfLay(lay, piece([flaw('20', '25')]), cm('30'))).toBe(cm('30'));
  });

  it('is nowhere where the piece is too short or too narrow', () => {
    expect(startOfLay(lay, piece([], '31.9'), 0)).toBeNull();
    expect(startOfLay(lay, piece([], '200', '97'), 0)).toBeNull();
    expect(startOfLay(lay, piece([flaw('1', '170')]), 0)).toBeNull();
  });
});

describe('what is left of a lay', () => {
  it('lies beside all columns and behind the short ones', () => {
    // 147 cm wide and 64 cm long: two columns of 49 × 32 in stacks of two, three strips wanted.
    const lay = { heightTicks: cm('64'), runs: [run({ columns: 2, stack: 2, strips: 3 })] };
    const rests = restsOf(lay, cm('147'));
    const sizes = rests.map((box) => [
      (box.rightTicks - box.leftTicks) / cm('1'),
      (box.toTicks - box.fromTicks) / cm('1'),
    ]);
    expect(sizes).toEqual([
      [49, 64],
      [49, 32],
    ]);
  });

  it('is as long as was taken for the lay, and what is cut off before it is a rest of its own', () => {
    const [beside, lead] = restsOf({ heightTicks: cm('32'), runs: [run({})] }, cm('147'), cm('8'), cm('45'));
    expect(beside).toMatchObject({ fromTicks: 0, toTicks: cm('37'), leftTicks: cm('49') });
    expect(lead).toEqual({ fromTicks: -cm('8'), toTicks: 0, leftTicks: 0, rightTicks: cm('147') });
  });

  it('is kept where it is long enough and as wide as the least deep strip', () => {
    const rest = (width: string, length: string): LaidBox => ({
      fromTicks: 0,
      toTicks: cm(length),
      leftTicks: 0,
      rightTicks: cm(width),
    });
    expect(isRestKept(rest('20', '50'), [cm('32'), cm('20')], cm('50'))).toBe(true);
    expect(isRestKept(rest('19.9', '50'), [cm('32'), cm('20')], cm('50'))).toBe(false);
    expect(isRestKept(rest('20', '49.9'), [cm('32'), cm('20')], cm('50'))).toBe(false);
    // However shallow the strips and short the useful length: 5 cm either way.
    expect(isRestKept(rest('5', '5'), [cm('3')], cm('4'))).toBe(true);
    expect(isRestKept(rest('4.9', '50'), [cm('3')], cm('4'))).toBe(false);
  });

  it('may be kept of what was really taken: less lead where less was taken, and longer where more was', () => {
    const lay = { heightTicks: cm('32'), runs: [{ ...run({}), depthTicks: cm('32') }] };
    const piece = { widthTicks: cm('147'), leadTicks: cm('8'), usefulTicks: cm('30') };
    const sizes = (taken: string) =>
      restsToKeep(lay, piece, cm(taken)).map(({ box, keep }) => [
        (box.rightTicks - box.leftTicks) / cm('1'),
        (box.toTicks - box.fromTicks) / cm('1'),
        keep,
      ]);
    expect(sizes('40')).toEqual([
      [98, 32, true],
      [147, 8, false],
    ]);
    // Of 8 cm before the lay 4 were cut off: too little to be told.
    expect(sizes('36')).toEqual([[98, 32, true]]);
    expect(sizes('60')[0]).toEqual([98, 52, true]);
    expect([leadTaken(lay, cm('8'), cm('36')), leadTaken(lay, cm('8'), cm('30'))]).toEqual([cm('4'), 0]);
  });

  it('tells of a flaw on the lay or on what is cut off before it', () => {
    const flaw = (from: string, to: string) => ({
      fromTicks: cm(from),
      toTicks: cm(to),
      leftTicks: 0,
      rightTicks: 1,
    });
    const lay = { heightTicks: cm('32') };
    expect(isFlawOnLay(flaw('31', '40'), lay)).toBe(true);
    expect(isFlawOnLay(flaw('32', '40'), lay)).toBe(false);
    const before = { ...flaw('0', '1'), fromTicks: -cm('8'), toTicks: -cm('5') };
    expect([isFlawOnLay(before, lay, cm('5')), isFlawOnLay(before, lay, cm('6'))]).toEqual([false, true]);
  });
});

const lays = fc
  .array(
    fc.record({
      across: fc.integer({ min: 1, max: 40 }),
      along: fc.integer({ min: 1, max: 30 }),
      columns: fc.integer({ min: 1, max: 3 }),
      stack: fc.integer({ min: 1, max: 3 }),
      less: fc.integer({ min: 0, max: 2 }),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((rows) => {
    let leftTicks = 0;
    const runs = rows.map(({ across, along, columns, stack, less }) => {
      const strips = columns * stack - Math.min(less, stack - 1);
      const made = { leftTicks, acrossTicks: across, alongTicks: along, columns, stack, strips };
      leftTicks += columns * across;
      return made;
    });
    const heightTicks = Math.max(...runs.map(({ stack, alongTicks }) => stack * alongTicks));
    return { heightTicks, runs, right: leftTicks };
  });

describe('any lay', () => {
  it('is its strips and its rests, and no two of them lie on each other', () => {
    fc.assert(
      fc.property(lays, fc.integer({ min: 0, max: 30 }), (lay, more) => {
        const width = lay.right + more;
        const boxes = [...lay.runs.flatMap(stripBoxes), ...restsOf(lay, width)];
        const area = boxes.reduce((sum, box) => sum + boxArea(box), 0n);
        expect(area).toBe(BigInt(lay.heightTicks) * BigInt(width));
        const apart = (a: LaidBox, b: LaidBox) =>
          a.toTicks <= b.fromTicks ||
          b.toTicks <= a.fromTicks ||
          a.rightTicks <= b.leftTicks ||
          b.rightTicks <= a.leftTicks;
        boxes.forEach((a, i) => {
          for (const b of boxes.slice(i + 1)) expect(apart(a, b)).toBe(true);
        });
      }),
      { numRuns: 100 },
    );
  });

  it('is shared among its tiers to the tick, and what is kept fits beside the cut that carries it', () => {
    fc.assert(
      fc.property(lays, fc.integer({ min: 0, max: 30 }), fc.nat({ max: 50 }), (small, more, extra) => {
        const times = 1000;
        const lay = {
          heightTicks: small.heightTicks * times,
          runs: small.runs.map((of) => ({
            ...of,
            leftTicks: of.leftTicks * times,
            acrossTicks: of.acrossTicks * times,
            alongTicks: of.alongTicks * times,
          })),
        };
        const width = (small.right + more) * times;
        const taken = lay.heightTicks + extra;
        const kept = restsOf(lay, width, 0, taken).reduce((sum, box) => sum + boxArea(box), 0n);
        const { lengthsTicks, carrier } = shareLay(taken, lay.runs.map(stripArea), kept, width);
        expect(lengthsTicks.reduce((sum, ticks) => sum + ticks, 0)).toBe(taken);
        expect(Math.min(...lengthsTicks)).toBeGreaterThan(0);
        expect(BigInt(lengthsTicks[carrier] ?? 0) * BigInt(width)).toBeGreaterThanOrEqual(kept);
      }),
      { numRuns: 100 },
    );
  });

  it('is shared by the area of the strips', () => {
    // 147 cm wide, 32 cm long (51 200 ticks), two strips to one: 34 133⅓ and 17 066⅔ ticks.
    const area = stripArea(run({}));
    const { lengthsTicks } = shareLay(cm('32'), [2n * area, area], 0n, cm('147'));
    expect(lengthsTicks).toEqual([34_133, 17_067]);
    expect(() => shareLay(1, [area, area], 0n, cm('147'))).toThrow(RangeError);
  });
});
