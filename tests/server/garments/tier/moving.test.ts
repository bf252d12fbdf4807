import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { asForm, makeGarment, standingIn, stockOf } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house, {
    girths: [
      { drop: '0', girth: '95' },
      { drop: '100', girth: '295' },
    ],
  });
  for (const [name, drop] of [
    ['Tier 1', '0'],
    ['Tier 2', '15'],
    ['Tier 3', '30'],
  ]) {
    const blocks = [{ shade_id: String(stock.shadeId), strips: '1' }];
    const tier = { name, drop, depth: '20', overlap: '5', fullness: '2', closing: 'ring', blocks };
    await house
      .submit(`/garments/${code}/tiers/new`, asForm({ ...tier, cloth_id: String(stock.clothId) }))
      .expect(303);
  }
});
afterEach(() => house.shut());

const drops = () =>
  house.book
    .all(house.book.db.selectFrom('tier').select(['name', 'drop_ticks']).orderBy('position'))
    .map(({ drop_ticks }) => (drop_ticks ?? 0) / length('1 cm'));

async function deepen(fields: object) {
  const path = `/garments/${code}/tiers/1`;
  const { body } = await house.data(path).expect(200);
  const { blocks, ...typed } = standingIn(body.fields);
  return { path, fields: { ...typed, blocks: blocks.slice(0, 1), depth: '26', ...fields } };
}

describe('a tier that gets deeper', () => {
  it('leaves those below where they were, and says how far the next is covered now', async () => {
    const { path, fields } = await deepen({});
    const { body } = await house.send(path, fields).expect(200);
    expect(body.said).toContain(
      'Tier 2 stays at a drop of 15 cm: Tier 1 now covers it by 11 cm, before it was 5 cm.',
    );
    expect(drops()).toEqual([0, 15, 30]);
  });

  it('says so before it is saved, beside the tick that moves them', async () => {
    const { path, fields } = await deepen({ act: 'work-out' });
    const page = await house.submit(path, asForm(fields)).expect(200);
    expect(page.text).toContain('Tick “Move the tiers below” to move them with it.');
    expect(page.text).toContain('name="move_below"');
  });

  it('moves all below with it where that is asked, and their strips are counted anew', async () => {
    const { path, fields } = await deepen({ move_below: 'yes' });
    const { body } = await house.send(path, fields).expect(200);
    expect(body.said).toContain('Tier 2, Tier 3 moved down by 6 cm with it.');
    expect(drops()).toEqual([0, 21, 36]);
    // 95 cm at the waist and 2 cm more round for each centimetre down: 95 + 2 × 21 = 137 cm.
    const { text } = await house.page(`/garments/${code}`).expect(200);
    expect(text).toContain('137 cm');
    const again = await house.data(`/garments/${code}/tiers/2`).expect(200);
    expect(again.body.fields.drop.value).toBe('21');
  });

  it('moves nothing where one of them would hang too low, and what was typed stays', async () => {
    const { path, fields } = await deepen({ depth: '900', move_below: 'yes' });
    const refused = await house.submit(path, asForm(fields));
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('value="900"');
    expect(drops()).toEqual([0, 15, 30]);
  });
});
