import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import {
  addVessel,
  keepRecipe,
  makeGround,
  makeShade,
  plan,
  planFields,
  recipeFields,
  start,
} from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

/** Organza of 20 g/m² and 150 cm, and a recipe with the offered ratio of 1:20, or one of the workroom's own. */
async function furnishSheer(ratio = '1:20') {
  const { piece, moss } = house.write((tx) => {
    const { lotId } = makeGround(tx, { name: 'Fine organza', content: { nylon: 100 }, gramsPerM2: 20 });
    return { piece: makeBolt(tx, lotId, '20 m', 0, '150 cm'), moss: makeShade(tx, 'Moss') };
  });
  const fields = recipeFields(moss, { liquor_ratio: ratio, liquor_ratio_label: '' });
  const recipeId = await keepRecipe(house, fields);
  const vesselId = await addVessel(house, 'Large pot', '60');
  return { recipeId, vesselId, lengths: { [piece.code]: '10' } };
}
const card = async (code: string) => (await house.data(`/dye-bench/batches/${code}`).expect(200)).body.card;
const ratioOf = (shown: { figures: { label: string; value: string; source: string }[] }) =>
  shown.figures.find(({ label }) => label === 'Liquor ratio');
const warns = (shown: { warnings: { id: string }[] }) => shown.warnings.map(({ id }) => id);

describe('the bath of sheer cloth', () => {
  it('is a litre to the square metre where the ratio was only offered, and the card says whose rule that is', async () => {
    const made = await furnishSheer();
    const shown = await card(await plan(house, made));
    // 10 m × 1.5 m are 15 m² and 300 g: 15 L, which is 1:50; by the recipe 6 L.
    expect(shown.bathVolume).toBe('15 L');
    expect(ratioOf(shown)).toEqual({
      label: 'Liquor ratio',
      value: '1:50',
      source: 'our rule: 1 m² of sheer cloth moves freely in a litre',
    });
    expect(warns(shown)).toContain('sheer-covered');
    expect(warns(shown)).not.toContain('sheer-bath');
    const crease = shown.warnings.find(({ id }: { id: string }) => id === 'crease-care').text;
    expect(crease).toContain('1:30 or longer');
    expect(crease).not.toContain('tighter');
  });

  it('is as the workroom itself wrote it down, with a warning that it is packed', async () => {
    const made = await furnishSheer('1:25');
    const shown = await card(await plan(house, made));
    expect(ratioOf(shown)).toMatchObject({ value: '1:25', source: "this workroom's own" });
    expect(warns(shown)).toContain('sheer-bath');
  });

  it('is as it was asked for this batch, kept, and asked again when the batch is repeated', async () => {
    const made = await furnishSheer();
    const fields = { ...planFields(made), ratio: '1:40' };
    const answer = await house.send('/dye-bench/batches/new', fields).expect(200);
    const code = answer.body.location.split('/').at(-1);
    expect((await card(code)).bathVolume).toBe('12 L');
    await start(house, code);
    const { body } = await house.data(`/dye-bench/batches/${code}/repeat`).expect(200);
    expect(body.fields.ratio.value).toBe('1:40');
    expect(body.equal).toContainEqual({ what: 'Liquor ratio', was: '1:40' });
    const record = await house.data(`/dye-bench/batches/${code}/record`).expect(200);
    expect(record.body.figures).toContain('liquor ratio 1:40');
    const batchCard = await house.data(`/dye-bench/batches/${code}/card`).expect(200);
    expect(batchCard.body.figures).toContain('liquor ratio 1:40');
  });

  it('is refused below what covers the cloth', async () => {
    const made = await furnishSheer();
    const refused = await house
      .send('/dye-bench/batches/new', { ...planFields(made), ratio: '1:4' })
      .expect(422);
    expect(refused.body.error.problems).toEqual([
      { field: 'ratio', message: 'Less than 1:5 does not cover the cloth: enter more water.' },
    ]);
  });

  it('is offered by area in the quick bath, by the care of creases where no area is typed, and as typed otherwise', async () => {
    const quick = async (asked: string) =>
      (
        await house
          .data(`/dye-bench/quick?fibres.0.fibre=nylon&depth=pale&offered=yes&sheer=yes&${asked}`)
          .expect(200)
      ).body.result;
    const byArea = await quick('area=15 m²&mass_per_area=20');
    expect(byArea.bath.shown).toBe('15 L');
    const byMass = await quick('mass=300&weighed=conditioned&mass_per_area=20');
    expect(byMass.bath.shown).toBe('15 L');
    expect((await quick('mass=300&weighed=conditioned')).bath.shown).toBe('9 L');
    const typed = await quick('area=15 m²&mass_per_area=20&liquor_ratio=20');
    expect(typed.bath.shown).toBe('6 L');
    expect(warns(typed)).toContain('sheer-bath');
  });
});
