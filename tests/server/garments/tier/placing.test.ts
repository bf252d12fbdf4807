import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import {
  makeGarment,
  makeTierOf,
  pageOf,
  problemsOf,
  stockOf,
  tierFields,
  tierOfPage,
  workedOf,
} from '../making.ts';

let house: TestHouse;
let stock: Stock;
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterAll(() => house.shut());

/** A tube of 100 cm, down which a drop is as far as it falls, with the waist 100 cm above the floor. */
const TUBE = {
  name: 'Tube',
  girths: [
    { drop: '0', girth: '100' },
    { drop: '100', girth: '100' },
  ],
  waist_height: '100',
};
const hangsAt = async (code: string, name: string) => workedOf(await tierOfPage(house, code, name)).hangs;
const lowerEdge = async (code: string, name: string) => (await tierOfPage(house, code, name)).lowerEdge;

describe('a tier that is placed as it is pinned', () => {
  it('hangs where its lower edge asks, by drop, by the floor, and level with a ruffle', async () => {
    const code = await makeGarment(house, TUBE);
    await makeTierOf(house, code, stock, { name: 'Low', placed: 'lower', drop: '70', depth: '30' });
    await makeTierOf(house, code, stock, {
      name: 'Floor',
      placed: 'floor',
      drop: '',
      height: '12',
      depth: '30',
    });
    expect(await hangsAt(code, 'Low')).toContain('at a drop of 40 cm');
    expect(await lowerEdge(code, 'Low')).toBe(
      'Its lower edge lies at a drop of 70 cm, 30 cm above the floor.',
    );
    expect(await hangsAt(code, 'Floor')).toContain('at a drop of 58 cm');

    const lowId = (await tierOfPage(house, code, 'Low')).id;
    const ruffle = { name: 'Ruffle', hangs: `edge-${lowId}`, drop: '', depth: '8' };
    const ruffleId = await makeTierOf(house, code, stock, ruffle);
    const level = { name: 'Level', placed: `level-${ruffleId}`, drop: '', depth: '20' };
    await makeTierOf(house, code, stock, level);
    expect(await hangsAt(code, 'Level')).toContain('at a drop of 58 cm');

    // The ruffle gets deeper: what is level with it follows, with nothing saved again.
    await house.send(`/garments/${code}/tiers/${ruffleId}`, tierFields(stock, { ...ruffle, depth: '10' }));
    expect(await hangsAt(code, 'Level')).toContain('at a drop of 60 cm');
    // The waist is measured higher: what is placed by the floor follows.
    await house.send(`/garments/${code}/edit`, { ...TUBE, waist_height: '104' });
    expect(await hangsAt(code, 'Floor')).toContain('at a drop of 62 cm');

    const taken = await house.send(`/garments/${code}/tiers/${ruffleId}/taken-out`, {});
    expect(JSON.stringify(taken.body)).toContain('Level (3) is level with Ruffle (1r)');
    const form = (await house.data(`/garments/${code}/tiers/${lowId}`).expect(200)).body.fields;
    expect([form.placed.value, form.drop.value, form.height.value]).toEqual(['lower', '70', '']);
    const copied = (await house.send(`/garments/${code}/copies`, { name: 'Twin' })).body.location
      .split('/')
      .at(-1);
    expect(await hangsAt(copied, 'Level')).toContain('at a drop of 60 cm');
    const versions = await house.page(`/garments/${code}/versions`).expect(200);
    expect(versions.text).toContain('Ruffle');
  });

  it('says what follows no more, and stays where it was', async () => {
    const code = await makeGarment(house, TUBE);
    await makeTierOf(house, code, stock, { placed: 'floor', drop: '', height: '12', depth: '30' });
    await house.send(`/garments/${code}/edit`, { ...TUBE, waist_height: '' });
    expect((await pageOf(house, code)).warnings).toContain(
      'Tier 1: Give how high the waist is above the floor, in name and form: it is measured from there. Until then it stays at a drop of 58 cm.',
    );
  });

  it.each([
    ['a drop that is missing', { placed: 'lower', drop: '' }, { drop: 'Give the drop of its lower edge.' }],
    [
      'a height that is missing',
      { placed: 'floor', drop: '' },
      { height: 'Give the height of its lower edge above the floor.' },
    ],
    [
      'a drop beside a height',
      { placed: 'floor', height: '10' },
      { drop: 'The drop follows from its lower edge: leave it blank, or place it by a drop.' },
    ],
    [
      'a depth above the waist',
      { placed: 'lower', drop: '20' },
      { depth: 'It is deeper than its lower edge lies below the waist.' },
    ],
  ])('refuses %s at its field', async (_what, fields, problems) => {
    const code = await makeGarment(house, TUBE);
    const answer = await house.send(
      `/garments/${code}/tiers/new`,
      tierFields(stock, { depth: '30', ...fields }),
    );
    expect([answer.status, problemsOf(answer)]).toEqual([422, problems]);
  });

  it('is not moved with the tiers above it', async () => {
    const code = await makeGarment(house, TUBE);
    const id = await makeTierOf(house, code, stock, { name: 'Top', depth: '30' });
    await makeTierOf(house, code, stock, { name: 'Next', drop: '30', depth: '20' });
    await makeTierOf(house, code, stock, { name: 'Pinned', placed: 'lower', drop: '80', depth: '30' });
    const deeper = tierFields(stock, { name: 'Top', depth: '34', move_below: 'yes' });
    expect((await house.send(`/garments/${code}/tiers/${id}`, deeper)).status).toBe(200);
    expect(await hangsAt(code, 'Next')).toContain('at a drop of 34 cm');
    expect(await hangsAt(code, 'Pinned')).toContain('at a drop of 50 cm');
  });
});
