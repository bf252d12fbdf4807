import { describe, expect, it } from 'vitest';
import { groupLots, type LotPairs, MOST_TRIED, orderOfTaper } from '../../../src/colour/lot-groups.ts';
import { seededRandom } from '../../../src/cut-plan/random.ts';

/** Lots on a plane that may meet where they are at most so far apart. */
function onPlane(places: readonly (readonly [number, number])[], most: number): LotPairs {
  const apart = (one: number, other: number) => {
    const [[ax, ay], [bx, by]] = [places[one] ?? [0, 0], places[other] ?? [0, 0]];
    return Math.hypot(ax - bx, ay - by);
  };
  return { count: places.length, mayMeet: (one, other) => apart(one, other) <= most, apart };
}

/** Every way to put lots into groups, by the rule alone. */
function everyGrouping(count: number): number[][][] {
  let all: number[][][] = [[]];
  for (let lot = 0; lot < count; lot++)
    all = all.flatMap((groups) => [
      ...groups.map((_, at) => groups.map((group, place) => (place === at ? [...group, lot] : group))),
      [...groups, [lot]],
    ]);
  return all;
}

function sumOf(groups: readonly (readonly number[])[], lots: LotPairs): number {
  return groups
    .flatMap((group) =>
      group.flatMap((one, at) => group.slice(at + 1).map((other) => lots.apart(one, other) ?? 0)),
    )
    .reduce((sum, apart) => sum + apart, 0);
}

function isSound(groups: readonly (readonly number[])[], lots: LotPairs): boolean {
  return groups.every((group) =>
    group.every((one) => group.every((other) => one === other || lots.mayMeet(one, other))),
  );
}

describe('groups of lots that may meet', () => {
  it('are as few and as close as any of all ways, on 1,000 small sets', () => {
    const random = seededRandom(11);
    for (let set = 0; set < 1000; set++) {
      const count = 1 + Math.floor(random() * 6);
      const places = Array.from({ length: count }, () => [random() * 3, random() * 3] as const);
      const lots = onPlane(places, 0.5 + random());
      const groups = groupLots(lots);
      expect(groups.flat().toSorted((a, b) => a - b)).toEqual(places.map((_, at) => at));
      expect(isSound(groups, lots)).toBe(true);
      const sound = everyGrouping(count).filter((grouping) => isSound(grouping, lots));
      const fewest = Math.min(...sound.map(({ length }) => length));
      const least = Math.min(
        ...sound.filter(({ length }) => length === fewest).map((each) => sumOf(each, lots)),
      );
      expect(groups).toHaveLength(fewest);
      expect(sumOf(groups, lots)).toBeCloseTo(least, 6);
    }
  });

  it('never chain: neighbours of a neighbour do not meet', () => {
    const line = onPlane(
      [
        [0, 0],
        [1, 0],
        [2, 0],
      ],
      1.1,
    );
    expect(groupLots(line)).toEqual([[0, 1], [2]]);
  });

  it('hold every pair where there are too many to try, and put close ones together', () => {
    const random = seededRandom(5);
    const places = Array.from(
      { length: 3 * MOST_TRIED },
      (_, at) => [(at % 3) * 10 + random(), random()] as const,
    );
    const lots = onPlane(places, 2);
    const groups = groupLots(lots);
    expect(isSound(groups, lots)).toBe(true);
    expect(groups).toHaveLength(3);
  });

  it('keep a lot of which nothing is known by itself', () => {
    const lots: LotPairs = { count: 3, mayMeet: (a, b) => a + b === 1, apart: () => null };
    expect(groupLots(lots)).toEqual([[0, 1], [2]]);
    expect(groupLots({ count: 0, mayMeet: () => true, apart: () => null })).toEqual([]);
  });
});

describe('the taper from tier to tier', () => {
  const at = [70, 40, 60, 50];
  const step = (one: number, other: number) => Math.abs((at[one] ?? 0) - (at[other] ?? 0));

  it('goes from light to dark where the lots differ in lightness alone', () => {
    expect(orderOfTaper(4, step, (group) => at[group] ?? 0)).toEqual([0, 2, 3, 1]);
  });

  it('makes the worst step as small as can be, against every order', () => {
    const random = seededRandom(3);
    for (let set = 0; set < 50; set++) {
      const places = Array.from({ length: 5 }, () => [random() * 50, random() * 20, random() * 20] as const);
      const between = (one: number, other: number) =>
        Math.hypot(...[0, 1, 2].map((axis) => (places[one]?.[axis] ?? 0) - (places[other]?.[axis] ?? 0)));
      const order = orderOfTaper(5, between, (group) => places[group]?.[0] ?? 0);
      const worst = (groups: readonly number[]) =>
        Math.max(...groups.slice(1).map((group, place) => between(groups[place] ?? 0, group)));
      const orders = everyOrder([0, 1, 2, 3, 4]);
      expect(orders).toHaveLength(120);
      expect(worst(order)).toBeCloseTo(Math.min(...orders.map(worst)), 9);
      expect(places[order[0] ?? 0]?.[0]).toBeGreaterThanOrEqual(places[order.at(-1) ?? 0]?.[0] ?? 0);
    }
  });

  it('is by lightness of more than are tried', () => {
    const lightness = [5, 9, 1, 8, 2, 7, 3, 6, 4];
    expect(
      orderOfTaper(
        9,
        () => 1,
        (group) => lightness[group] ?? 0,
      ),
    ).toEqual([1, 3, 5, 7, 0, 8, 6, 4, 2]);
  });
});

function everyOrder(groups: readonly number[]): number[][] {
  if (groups.length === 0) return [[]];
  return groups.flatMap((first) =>
    everyOrder(groups.filter((group) => group !== first)).map((rest) => [first, ...rest]),
  );
}
