import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { holdLength } from '../../../../server/ledger/verbs.ts';
import { finish, furnish, makeShade, plan, start } from '../../dye-bench/recipe/making.ts';
import { length, makeTier, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let codes: string[];
let other: number;
beforeAll(async () => {
  house = await openTestHouse();
  const { piece, recipeId, vesselId } = await furnish(house, '10 m');
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
  await start(house, code);
  await finish(house, code, ['1.95', '1.9']);
  codes = [`${code}.1`, `${code}.2`];
  other = house.write((tx) => makeShade(tx, 'Off shade'));
});
afterAll(() => house.shut());

const keep = (code: string, shade: number, note = '') =>
  house.send(`/shelf/lots/${code}/shade`, { kept_as: String(shade), kept_note: note });
const lotOf = (code: string) => {
  const row = house.book.first(house.book.db.selectFrom('lot').selectAll().where('code', '=', code));
  if (!row) throw new Error(`there is no lot ${code}`);
  return row;
};

describe('a dyed lot', () => {
  it('is kept as another shade, and as the former again', async () => {
    const [code = ''] = codes;
    const { shade_id: before } = lotOf(code);
    const kept = await keep(code, other, 'Two shades too dark.');
    expect(kept.body.said).toMatch(/^Lot D\d+\.1 is kept as Off shade; it was /);
    expect(lotOf(code).shade_id).toBe(other);
    const shelf = (await house.data(`/shelf?shade=${other}`)).text;
    expect(shelf).toContain(code);
    const page = (await house.data(`/shelf/lots/${code}`)).body;
    expect(page.keptAs.before[0]).toMatch(/^Kept as Off shade: .+\. Two shades too dark\.$/);
    expect((await keep(code, other)).body.error.problems[0].message).toContain('is Off shade already');
    await keep(code, before);
    expect(lotOf(code).shade_id).toBe(before);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('is refused where a tier holds cloth of it, where it counts as one with another, and where it was bought', async () => {
    const [one = '', two = ''] = codes;
    const lot = lotOf(one);
    house.write((tx) => {
      const tierId = makeTier(tx, { clothId: lot.cloth_id, shadeId: lot.shade_id, lotId: lot.id });
      const piece = tx.first(tx.db.selectFrom('piece').select('id').where('lot_id', '=', lot.id));
      holdLength(tx, piece?.id ?? 0, tierId, { lengthTicks: length('10 cm'), typed: '10 cm' });
    });
    const held = await keep(one, other);
    expect(held.status).toBe(409);
    expect(held.body.error.message).toContain('is used as');
    await house.send(`/shelf/lots/${two}/joins`, { other: one, judged: 'eye', delta: '', join_note: '' });
    expect((await keep(two, other)).body.error.message).toContain('counts as one with other lots');
    const bought = house.book.first(
      house.book.db.selectFrom('lot').select('code').where('origin', '=', 'mill').limit(1),
    );
    expect((await keep(bought?.code ?? '', other)).body.error.message).toContain('was bought');
    expect((await keep(one, 99_999)).status).toBe(422);
    expect((await keep('nobody', other)).status).toBe(404);
  });
});
