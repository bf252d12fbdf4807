import { afterAll, beforeAll, expect, it } from 'vitest';
import type { garmentDaysPage } from '../../../server/by-when/garment-page.ts';
import { LAWFUL } from '../../migrations/rows.ts';
import { furnish, plan } from '../dye-bench/recipe/making.ts';
import { makeGarment, makeTierOf } from '../garments/making.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

type DaysPage = ReturnType<typeof garmentDaysPage>['data'];
const daysOf = async (code: string): Promise<DaysPage> =>
  (await house.data(`/garments/${code}/by-when`).expect(200)).body;

it('a planned batch has its swatch to dye where no lot of it has one by its recipe', async () => {
  const { piece, recipeId, vesselId, stock: ground, moss } = await furnish(house);
  const code = await makeGarment(house, { name: 'Mantle', due_on: '2026-04-15' });
  await makeTierOf(house, code, { clothId: ground.clothId, shadeId: moss });
  const batch = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
  const { rows, notes } = await daysOf(code);
  expect(rows.map(({ step }) => step)).toEqual(expect.arrayContaining(['Swatch', 'Dye']));
  const note = notes.find(({ text }) => text.startsWith(`Batch ${batch} `));
  expect(note?.text).toMatch(
    /has no approved swatch by its recipe of Nylon organza, lot L\d+: 2 days are counted/,
  );
  expect(note?.href).toContain('/dye-bench/swatches/new');
  const bench = async () =>
    (await house.data('/dye-bench').expect(200)).body.planned.find(
      (row: { code: string }) => row.code === batch,
    );
  expect((await bench()).withoutSwatch).toMatchObject([{ href: note?.href }]);
  expect((await house.page('/dye-bench')).text).toContain('none yet of Nylon organza');
  const judged = (depth: number) =>
    house.write((tx) => {
      const job = { ...LAWFUL.swatch_job, code: `T${depth}`, lot_id: ground.lotId };
      const jobId = tx.run(tx.db.insertInto('swatch_job').values(job as never)).lastId;
      const one = { ...LAWFUL.swatch, job_id: jobId, recipe_id: recipeId, depth_owf_milli: depth };
      const swatchId = tx.run(tx.db.insertInto('swatch').values(one as never)).lastId;
      const result = {
        ...LAWFUL.swatch_result,
        swatch_id: swatchId,
        reading_id: null,
        verdict: 'approved',
      };
      tx.run(tx.db.insertInto('swatch_result').values(result as never));
    });
  // Approved at another depth it counts for nothing; at that of the recipe, 2 %, it does.
  judged(1000);
  expect((await bench()).withoutSwatch).toHaveLength(1);
  judged(2000);
  expect((await bench()).withoutSwatch).toEqual([]);
  const after = await daysOf(code);
  expect(after.rows.map(({ step }) => step)).not.toContain('Swatch');
  expect(after.works.find(({ work }) => work === 'swatch')?.state).toBe(`approved: batch ${batch}`);
  // The same as the page of the batch says.
  const page = (await house.data(`/dye-bench/batches/${batch}`)).body;
  expect(page.swatches.every(({ approved }: { approved: boolean }) => approved)).toBe(true);
});
