import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { KEYS } from '../../../server/help/keys.ts';
import { ROOM_HELP } from '../../../server/help/rooms.ts';
import { ROOMS } from '../../../server/web/shell-data.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(async () => {
  await house.shut();
});

const sums = ROOMS.flatMap(({ key }) => ROOM_HELP[key].sums);

describe('the help', () => {
  it.each(ROOMS)(
    'of $name has its words, its sums and the keys, and is led to from the room',
    async ({ key, href, name }) => {
      const { text } = await house.page(`/help/${key}`).expect(200);
      expect(text).toContain(`<title>Help: ${name}`);
      for (const { word } of ROOM_HELP[key].words) expect(text).toContain(`<dt>${word}</dt>`);
      for (const each of KEYS) expect(text).toContain(`<kbd>${each.key}</kbd></dt><dd>${each.does}`);
      expect((await house.page(href).expect(200)).text).toContain(`href="/help/${key}" accesskey="h"`);
    },
  );

  it('of no room is refused, and of a page of none is that of Today', async () => {
    expect((await house.page('/help/attic').expect(404)).text).toContain('There is no help for such a room.');
    expect((await house.data('/help').expect(200)).body.room.name).toBe('Today');
  });

  it('has an example of every sum that a pencil can check', () => {
    expect(sums.length).toBeGreaterThan(15);
    for (const each of sums) expect(isRight(each), each.example).toBe(true);
  });

  it.each([
    ['Length', '3 × 33 cm = 98 cm'],
    ['Strips, rounded up', '600 cm ÷ 145 cm = 4.2, so 5 strips'],
    ['Lengths, rounded up', '8 ÷ 3 = 2.67, so 2 cut lengths'],
    ['Strips, rounded down', '147 ÷ 50 = 2.94, so 3 strips'],
  ])('would not pass with an example that is wrong: %s, %s', (what, example) =>
    expect(isRight({ what, example })).toBe(false),
  );
});

describe('a key of the list', () => {
  it('is on every page, each once', async () => {
    const { text } = await house.page('/shelf').expect(200);
    const onPage = [...text.matchAll(/accesskey="(.)"/g)].map(([, key]) => key);
    // Undo has its key while it is offered: tests/server/shelf/ledger/undo-routes.test.ts.
    expect([...onPage, 'z'].sort()).toEqual(KEYS.map(({ key }) => key).sort());
  });
});

/** Whether an example is right as it is written: worked out here from its figures and signs alone. */
function isRight({ what, example }: { readonly what: string; readonly example: string }): boolean {
  const [working = '', after] = example.split(', so ');
  const [left = '', right] = working.split(' = ');
  const figureOf = (text: string) => Number(/\d+(?:\.\d+)?/.exec(text)?.[0]);
  const signs = left.replace(/m²/g, 'm').match(/\d+(?:\.\d+)?|[−+×÷()]/g) ?? [];
  const value = sumOf(signs);
  if (right !== undefined) {
    const places = /\.(\d+)/.exec(right)?.[1]?.length ?? 0;
    if (Math.abs(value - figureOf(right)) > 0.5 * 10 ** -places) return false;
  }
  const whole = what.includes('rounded down') ? Math.floor(value) : Math.ceil(value);
  return after === undefined || whole === figureOf(after);
}

/** Figures and signs by the rules of school: brackets, then × and ÷ from left to right, then + and −. */
function sumOf(signs: string[]): number {
  let value = productOf(signs);
  while (signs[0] === '+' || signs[0] === '−') {
    const isMore = signs.shift() === '+';
    const next = productOf(signs);
    value += isMore ? next : -next;
  }
  return value;
}

function productOf(signs: string[]): number {
  let value = figure(signs);
  while (signs[0] === '×' || signs[0] === '÷') {
    const isTimes = signs.shift() === '×';
    const next = figure(signs);
    value = isTimes ? value * next : value / next;
  }
  return value;
}

function figure(signs: string[]): number {
  const first = signs.shift() ?? '';
  if (first !== '(') return Number(first);
  const inside = sumOf(signs);
  signs.shift();
  return inside;
}
