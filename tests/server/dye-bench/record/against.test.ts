import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { finish, furnish, plan, start } from '../recipe/making.ts';

let house: TestHouse;
let code: string;
beforeAll(async () => {
  house = await openTestHouse();
  // 4 m are two baths of the small pot, and come back as two lots.
  const { piece, recipeId, vesselId } = await furnish(house, '10 m');
  code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
  await start(house, code);
  await finish(house, code, ['1.95', '1.9']);
});
afterAll(() => house.shut());

const against = async () => (await house.data(`/dye-bench/batches/${code}/record`).expect(200)).body.against;

function wanted(l: number | null): void {
  const lab =
    l === null
      ? { lab_l: null, lab_a: null, lab_b: null, lab_how: null }
      : { lab_l: l, lab_a: 0, lab_b: 0, lab_how: 'instrument' as const };
  const { db } = house.book;
  const shade = db.selectFrom('lot').select('shade_id').where('code', '=', `${code}.1`);
  house.write((tx) => tx.run(tx.db.updateTable('shade').set(lab).where('id', 'in', shade)));
}

const read = (lot: string, l: string, viewing = 'D65/2') =>
  house.send(`/shelf/lots/${lot}/colour`, { l, a: '0', b: '0', how: 'instrument', viewing });

describe('what came out of a batch', () => {
  it('is not compared with a shade that has no colour, or where nothing was read', async () => {
    wanted(null);
    const { lots, baths } = await against();
    expect(lots.map((each: { lot: { code: string } }) => each.lot.code)).toEqual([`${code}.1`, `${code}.2`]);
    expect(lots[0]).toMatchObject({
      said: 'not compared',
      sure: expect.stringContaining('has no colour recorded'),
    });
    expect(baths).toMatchObject([{ said: expect.stringContaining('Nobody has compared them') }]);
    wanted(50);
    expect((await against()).lots[0].sure).toBe('The lot was not read, and nobody has compared the two.');
  });

  it('passes or is off by what was read, with what to shift and how sure that is', async () => {
    await read(`${code}.1`, '50.3');
    await read(`${code}.2`, '46', 'D65/2');
    const { lots, baths } = await against();
    // Neutrals at L* 50: ΔE00 of 0.3 is 0.30; CMC(2:1) is 0.3 / (2 · SL), SL = 0.040975·50 / (1 + 0.01765·50) = 1.0883.
    expect(lots[0]).toMatchObject({
      said: 'passes',
      sure: 'ΔE00 0.30, likely within ± 0.7: by readings, measured with an instrument.',
      differs: 'No difference to name.',
      figures: 'CMC(2:1) 0.14, grey scale 5',
    });
    expect(lots[1]).toMatchObject({
      said: 'off: shade again, or keep it as another shade',
      differs: 'It is darker than wanted.',
      figures: expect.stringContaining('grey scale 3'),
    });
    expect(baths[0].said).toContain('1 pair of lots: 1 by readings.');
    expect(lots[0].photo).toMatch(/one=lot-\d+&other=shade-\d+$/);
  });

  it('is never compared for another observer', async () => {
    await read(`${code}.1`, '50', 'D65/10');
    const page = await house.page(`/dye-bench/batches/${code}/record`);
    expect(page.text).toContain('Bath against bath:');
    // The reading for the shade's own observer still counts.
    expect((await against()).lots[0]).toMatchObject({ said: 'passes' });
  });
});
