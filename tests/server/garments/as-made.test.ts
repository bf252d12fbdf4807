import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../support.ts';
import { makeGarment, makeTierOf, pageOf, problemsOf, stockOf, tierOfPage, workedOf } from './making.ts';

let house: TestHouse;
let stock: Stock;
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterAll(() => house.shut());

const hangsAt = async (code: string, name: string) => workedOf(await tierOfPage(house, code, name)).hangs;
const measure = (code: string, tier_id: number | string, lower: string, note = '') =>
  house.send(`/garments/${code}/as-made`, { tier_id: String(tier_id), lower, note });

describe('what is measured on the stand', () => {
  it('stays beside the plan, says what differs and what is left, and is followed once', async () => {
    const code = await makeGarment(house);
    const top = await makeTierOf(house, code, stock, { name: 'Top', depth: '30' });
    await makeTierOf(house, code, stock, { name: 'Next', drop: '28', depth: '40' });
    const empty = await house.page(`/garments/${code}/as-made`).expect(200);
    expect(empty.text).toContain('Nothing was measured yet');
    expect((await pageOf(house, code)).made).toBeNull();

    expect((await measure(code, top, '32', 'the floor is 4 cm nearer at the back')).status).toBe(200);
    const { made } = await pageOf(house, code);
    expect(made?.rows).toMatchObject([
      {
        name: 'Top (1)',
        planned: '30 cm',
        made: '32 cm',
        differs: '2 cm lower than planned',
        note: 'the floor is 4 cm nearer at the back',
        follow: 'Next (2), still to cut, can move down by 2 cm.',
      },
    ]);
    // The hem is planned at 68 cm.
    expect(made?.left).toBe(
      'From the lowest edge measured to the planned hem 36 cm are left; Next (2) is the next to cut.',
    );
    const cutList = async (name: string) => {
      const tier = house.book.first(house.book.db.selectFrom('tier').select('id').where('name', '=', name));
      return (await house.data(`/cutting-table/${code}/${tier?.id}`).expect(200)).body.left;
    };
    expect(await cutList('Next')).toBe(
      'As made, 36 cm are left from the lowest edge measured to the planned hem.',
    );
    expect((await house.page(`/garments/${code}/book`).expect(200)).text).toContain(
      '2 cm lower than planned',
    );

    const follow = () => house.send(`/garments/${code}/as-made/${top}/followed`, {});
    expect((await follow()).status).toBe(200);
    expect(await hangsAt(code, 'Next')).toContain('at a drop of 30 cm');
    expect((await follow()).status).toBe(409);
    // Measured again, 1 cm higher than before: only the rest is left to follow.
    await measure(code, top, '31');
    expect((await pageOf(house, code)).made?.rows[0]?.follow).toBe(
      'Next (2), still to cut, can move up by 1 cm.',
    );
    const versions = await house.page(`/garments/${code}/versions`).expect(200);
    expect(versions.text).toContain('Next (2) moved down by 2 cm, as Top (1) was made.');
  });

  it('is followed at once by a tier that is level with it', async () => {
    const code = await makeGarment(house);
    const top = await makeTierOf(house, code, stock, { name: 'Top', depth: '50' });
    await makeTierOf(house, code, stock, { name: 'Level', placed: `level-${top}`, drop: '', depth: '20' });
    expect(await hangsAt(code, 'Level')).toContain('at a drop of 30 cm');
    await measure(code, top, '53');
    expect(await hangsAt(code, 'Level')).toContain('at a drop of 33 cm');
  });

  it('is refused at its fields, and never for a tier of another garment or a finished one', async () => {
    const code = await makeGarment(house);
    const top = await makeTierOf(house, code, stock, { name: 'Top', depth: '30' });
    expect(problemsOf(await measure(code, '', ''))).toMatchObject({
      tier_id: 'Choose the tier that was measured.',
    });
    expect((await measure(await makeGarment(house), top, '30')).status).toBe(422);
    expect((await house.send(`/garments/${code}/as-made/${top}/followed`, {})).status).toBe(409);
    await house.send(`/garments/${code}/finished`, {});
    expect((await measure(code, top, '30')).status).toBe(409);
    expect((await house.page(`/garments/${code}/as-made`).expect(200)).text).not.toContain('name="lower"');
  });
});
