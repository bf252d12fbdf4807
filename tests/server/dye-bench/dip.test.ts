import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../support.ts';
import { furnish, plan, start } from './recipe/making.ts';

let house: TestHouse;
let path: string;
let code: string;
let now = new Date('2026-03-02T12:00:00.000Z');
beforeAll(async () => {
  house = await openTestHouse(() => now);
  const { piece, recipeId, vesselId } = await furnish(house);
  code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '1 m' } });
  path = `/dye-bench/batches/${code}/dip`;
});
afterAll(() => house.shut());

const GRADIENT = { way: 'lower-in', bands: '3', height: '60', minutes: '9' };

describe('a gradient within one length', () => {
  it('is asked how it is dipped, with the hold of the recipe to start from', async () => {
    const { body } = await house.data(path).expect(200);
    const texts = body.fields.map(({ name, value }: { name: string; value: string }) => [name, value]);
    expect(Object.fromEntries(texts)).toMatchObject({ way: 'lower-in', bands: '6', minutes: '45' });
    const batch = await house.page(`/dye-bench/batches/${code}`).expect(200);
    expect(batch.text).toContain(`href="${path}"`);
  });

  it.each([
    ['two exposures', { bands: '2' }, 'bands'],
    ['no height', { height: '' }, 'height'],
    ['no time', { minutes: '0' }, 'minutes'],
    ['neither way', { way: 'sideways' }, 'way'],
  ])('with %s is refused', async (_, changed, field) => {
    const { body } = await house.send(path, { ...GRADIENT, ...changed }).expect(422);
    expect(body.error.problems[0].field).toBe(field);
  });

  it('has its moves: the deep end first, and each band under for its own time', async () => {
    await house.send(path, GRADIENT).expect(200);
    const { body } = await house.data(path).expect(200);
    const moves = body.dip.moves.map(({ at, length }: Record<string, string>) => [at, length]);
    // Times as 1 : 4 : 9, 20 cm a band: the deep band goes in at 0, the next 9 − 4 and the pale one 9 − 1 minutes later.
    expect(moves).toEqual([
      ['0 min', '20 cm'],
      ['5 min', '40 cm'],
      ['8 min', '60 cm'],
      ['9 min', 'all out'],
    ]);
    await house.send(path, GRADIENT).expect(409);
  });

  it('is written down move by move once the batch has started, with the time that each band had', async () => {
    await house.send(`${path}/moves`, { bands_under: '1', note: '' }).expect(409);
    await start(house, code);
    for (const [minutes, under, note] of [
      [0, '1', ''],
      [5, '2', 'A third of the dye before it.'],
      [3, '3', ''],
      [2, '0', ''],
    ] as const) {
      now = new Date(now.getTime() + minutes * 60_000);
      await house.send(`${path}/moves`, { bands_under: under, note }).expect(200);
    }
    const { body } = await house.data(path).expect(200);
    expect(body.dip.next).toBeNull();
    expect(body.dip.moves[1]).toMatchObject({ off: false, note: 'A third of the dye before it.' });
    expect(body.dip.moves[1].done).toContain('5 min');
    // The last minute was two: every band had a minute more.
    expect(body.dip.exposures).toEqual([
      { band: 1, wanted: '1 min', was: '2 min' },
      { band: 2, wanted: '4 min', was: '5 min' },
      { band: 3, wanted: '9 min', was: '10 min' },
    ]);
    const { body: refused } = await house.send(`${path}/moves`, { bands_under: '4', note: '' }).expect(422);
    expect(refused.error.problems[0].field).toBe('bands_under');
  });
});
