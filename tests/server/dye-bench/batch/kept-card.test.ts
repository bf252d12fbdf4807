import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type KeptCard, keepCard, readKeptCard } from '../../../../server/dye-bench/batch/kept-card.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { furnish, keepRecipe, planFields, recipeFields, start } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

/** The card of a batch, as its page tells it in plain figures. */
async function cardOf(code: string): Promise<KeptCard> {
  return (await house.data(`/dye-bench/batches/${code}`).expect(200)).body.figures;
}

type Fields = Record<string, string>;

async function plan(more: Fields = {}, ofRecipe: Fields = {}): Promise<string> {
  const { piece, moss, vesselId } = await furnish(house);
  await house
    .submit(`/dye-bench/vessels/${vesselId}`, {
      name: 'Small pot',
      volume: '5',
      material: 'copper',
      empty: '1.2',
      heater: '2 kW',
      heater_kind: 'gas',
    })
    .expect(303);
  const rates = { heat_rate: '0.5', cool_rate: '1', ph_from: '4', ph_to: '5.5' };
  const recipeId = await keepRecipe(house, recipeFields(moss, { name: 'Slow', ...rates, ...ofRecipe }));
  const fields = planFields({ recipeId, vesselId, lengths: { [piece.code]: '9' } });
  const answer = await house.send('/dye-bench/batches/new', { ...fields, ...more }).expect(200);
  return answer.body.location.split('/').at(-1);
}

/** What an earlier version kept of a card: no order of work, nothing of the vessel but its size, whole milligrams. */
function asKeptEarlier(card: KeptCard): KeptCard {
  const { work: _work, sources: _sources, amounts: _amounts, ...rest } = card;
  const { name, volumeMl } = card.vessel;
  const bath = (of: KeptCard['bath']) => ({ ...of, lines: of.lines.map(({ massUg: _, ...line }) => line) });
  return { ...rest, vessel: { name, volumeMl }, bath: bath(card.bath), baths: card.baths.map(bath) };
}

describe('the card of a batch that was started', () => {
  it.each([
    ['by area', {}, {}],
    // A metre of strip takes 1026 mm: nine metres make eight, in baths of five and three strips.
    ['by strips, from the scale', { strip: '1', parts: '5 3', scale: '120', basis: 'oven-dry' }, {}],
    ['from a stock that was asked for', { 'stocks.0.strength': '1' }, {}],
    ['from a stock that is thinned', {}, { 'dyes.0.owf': '0.001' }],
  ])('is all that was worked out, and the order of work: %s', async (_, more: Fields, ofRecipe: Fields) => {
    const code = await plan(more, ofRecipe);
    const planned = await cardOf(code);
    await start(house, code);
    const { work, ...kept } = await cardOf(code);
    expect(kept).toEqual(planned);
    expect(kept.recipe).toMatchObject({ heatRateMilli: 500, coolRateMilli: 1000 });
    expect(work?.map(({ kind }) => kind)).toContain('hold');
  });

  it('is read where an earlier version kept it, and shown at the bench', async () => {
    const code = await plan();
    await start(house, code);
    const earlier = asKeptEarlier(await cardOf(code));
    house.write((tx) => tx.run(tx.db.updateTable('batch').set({ card: JSON.stringify(earlier) })));
    expect(await cardOf(code)).toEqual(earlier);
    for (const page of ['bench', 'record', 'repeat', 'tag']) {
      await house.data(`/dye-bench/batches/${code}/${page}`).expect(200);
    }
  });

  it('is neither kept nor read where it is no card', async () => {
    const code = await plan();
    const card = await cardOf(code);
    const { massMg: _, ...less } = card;
    expect(() => keepCard({ ...card, massMg: Number.NaN })).toThrow('massMg');
    expect(() => readKeptCard(JSON.stringify(less))).toThrow('massMg');
    expect(readKeptCard(keepCard(card))).toEqual(card);
  });
});
