import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { addVessel, furnish, plan, start } from '../recipe/making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

const vessels = async () => (await house.data('/dye-bench/vessels').expect(200)).body;

describe('vessels', () => {
  it('are asked for where there is none', async () => {
    expect((await house.page('/dye-bench/vessels').expect(200)).text).toContain('No vessel is in use.');
  });

  it('are listed the largest first, volumes as they were typed', async () => {
    await addVessel(house, 'Jug', '750 ml');
    await addVessel(house, 'Vat', '1 L 500 ml');
    await addVessel(house, 'Pot', '12,5');
    const found = (await vessels()).vessels.map(({ name, volume }: { name: string; volume: string }) => [
      name,
      volume,
    ]);
    expect(found).toEqual([
      ['Pot', '12.5 L'],
      ['Vat', '1.5 L'],
      ['Jug', '750 mL'],
    ]);
  });

  it.each([
    ['10 gal', 'A gallon has two sizes'],
    ['50 ml', 'A vessel holds from 100 mL to 5000 L'],
    ['6000', 'A vessel holds from 100 mL to 5000 L'],
    ['', 'Enter a number'],
    ['big', 'big'],
  ])('of “%s” are refused, and what was typed stays', async (volume, reason) => {
    const { text } = await house
      .submit('/dye-bench/vessels', { name: 'New one', volume, note: 'Dented' })
      .expect(422);
    expect(text).toContain(reason);
    expect(text).toContain('value="New one"');
    expect(text).toContain('value="Dented"');
  });

  it('have names of their own', async () => {
    const { body } = await house.send('/dye-bench/vessels', { name: 'Pot', volume: '5' }).expect(422);
    expect(body.error.problems).toEqual([
      { field: 'name', message: 'There is a vessel Pot already, in use.' },
    ]);
  });

  it('are put away and taken back', async () => {
    const pot = (await vessels()).vessels[0].id;
    await house.submit(`/dye-bench/vessels/${pot}/put-aways`, {}).expect(303);
    expect(await vessels()).toMatchObject({
      putAway: [{ name: 'Pot', gone: expect.stringContaining('2 Mar 2026') }],
    });
    const again = await house.submit(`/dye-bench/vessels/${pot}/put-aways`, {}).expect(409);
    expect(again.text).toContain('Pot was put away already');
    const same = await house.send('/dye-bench/vessels', { name: 'Pot', volume: '5' }).expect(422);
    expect(same.body.error.message).toContain('take it back');
    await house.submit(`/dye-bench/vessels/${pot}/take-backs`, {}).expect(303);
    await house.submit(`/dye-bench/vessels/${pot}/take-backs`, {}).expect(409);
    expect((await vessels()).putAway).toEqual([]);
    await house.submit('/dye-bench/vessels/99/put-aways', {}).expect(404);
  });

  it('that are put away are offered no more, and stay with the batches planned in them', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await house.submit(`/dye-bench/vessels/${vesselId}/put-aways`, {}).expect(303);
    const { body } = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}`);
    expect(body.fields.vessel_id.options.map(({ value }: { value: string }) => value)).not.toContain(
      String(vesselId),
    );
    await start(house, code);
    expect((await house.data(`/dye-bench/batches/${code}`)).body.card.baths.vessel).toBe('Small pot, 5 L');
  });
});
