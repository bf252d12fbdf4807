import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { makeGarment, makeTierOf, pageOf, stockOf } from '../../garments/making.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { bestOf, hold } from './planned.ts';

let house: TestHouse;
let code: string;
const keep = (name: string, fields: object) =>
  house
    .send(`/garments/${code}/parts/new/flounce`, {
      name,
      pieces: '1',
      unit: 'cm',
      join: '0',
      width: '147',
      ...fields,
    })
    .expect(200);
const rowOf = async (name: string) => (await pageOf(house, code)).parts.rows.find((row) => row.name === name);

// Two rings of r = 240 ÷ 4π = 19.1 cm, 10 cm deep: blocks of 58.2 cm, holes of 19.1 cm; a ring of R = 9.8 cm goes into one.
beforeEach(async () => {
  house = await openTestHouse();
  const stock = stockOf(house);
  code = await makeGarment(house);
  await makeTierOf(house, code, stock);
  house.write((tx) => makeBolt(tx, stock.lotId, '10 m', 10_000));
  await keep('Large', { seam: '240', depth: '10', circles: '2', sectors: '1' });
});
afterEach(() => house.shut());

const SMALL = { seam: '30', depth: '5', circles: '1', sectors: '1' };
const shapesOn = async () =>
  (await bestOf(house, `/cutting-table/${code}/plan`)).pieces.flatMap(({ lays }) => lays);

describe('lays of shaped blocks', () => {
  it('are planned like strips, and drawn with what is cut out of them', async () => {
    const plan = await bestOf(house, `/cutting-table/${code}/plan`);
    expect(plan.said).toMatch(/^All 4 strips can be cut/);
    const lays = plan.pieces.flatMap((piece) => piece.lays);
    const said = lays.flatMap(({ gives }) => gives).filter((gives) => gives.includes('Large'));
    expect(said).toEqual([expect.stringContaining('Out of each rectangle a ring: outer edge ≈ 29.1 cm')]);
    const cutOut = lays.flatMap(
      ({ picture }) => picture?.strips.flatMap((strip) => strip.cutOut ?? []) ?? [],
    );
    // A ring is two circles and its slit, side by side in two blocks; the tier's strips are what is wanted themselves.
    expect(cutOut).toHaveLength(2);
    expect(cutOut[0]?.outlines).toHaveLength(1);
    expect((await house.page(`/cutting-table/${code}/plan`)).text).toContain('class="lay-shape"');
  });

  it('are cut at the bench, where and on the sheet they say what comes out of them', async () => {
    await hold(house, await bestOf(house, `/cutting-table/${code}/plan`)).expect(200);
    // Folded cloth is never offered for what shapes are cut out of.
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set({ ply_limit: 8, fold_limit: 3 })));
    const sheet = await house.page(`/cutting-table/${code}/sheet`).expect(200);
    expect(sheet.text).toContain('Out of each rectangle a ring');
    for (let turn = 0; turn < 3; turn += 1) {
      const { now } = (await house.data(`/cutting-table/${code}/bench`).expect(200)).body;
      if (now === null) break;
      const large = now.lay.runs.find((run: { tier: string }) => run.tier === 'Large');
      if (large) {
        expect(large.shapes).toEqual([expect.stringContaining('inner edge ≈ 19 cm from the middle')]);
        expect(now.fold).toBeNull();
      }
      await house.submit(`/cutting-table/${code}/bench`, { lays: now.layIds }).expect(303);
    }
    expect((await rowOf('Large'))?.cuts[0]).toMatchObject({ done: 'all cut' });
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('give smaller rings from their holes, which then need no cloth of their own', async () => {
    await keep('Small', SMALL);
    expect((await pageOf(house, code)).needs).toMatchObject([{ strips: 5 }]);
    const { href = '' } = (await rowOf('Small')) ?? {};
    const version = (await house.data(href)).body.own.version.value;
    const small = { name: 'Small', pieces: '3', unit: 'cm', join: '0', width: '147', ...SMALL };
    await house.send(href, { ...small, version, from_holes: 'yes' }).expect(200);
    // Two of three find a hole.
    expect((await pageOf(house, code)).needs).toMatchObject([{ strips: 5 }]);
    expect((await rowOf('Small'))?.brief).toContain('2 from the holes of Large');
    const gives = (await shapesOn()).flatMap((lay) => lay.gives).join('\n');
    expect(gives).toContain('Out of the holes 2 rings for Small: outer edge ≈ 9.8 cm, inner edge ≈ 4.7 cm');
  });

  it('lie in lengths of so many rows of sections, nested in each', async () => {
    const halves = { seam: '240', depth: '10', circles: '2', sectors: '2' };
    await keep('Halves', halves);
    // Four half rings, two across: two rows nested in one length; or a length each.
    const one = await rowOf('Halves');
    expect(one?.cuts[0]?.text).toMatch(/^1 of /);
    await keep('By rows', { ...halves, rows_each: '1' });
    expect((await rowOf('By rows'))?.cuts[0]?.text).toBe('2 of ≈ 29.1 cm × ≈ 116.3 cm');
    const gives = (await shapesOn()).flatMap((lay) => lay.gives).join('\n');
    expect(gives).toContain('up to 4 × half ring');
    expect(gives).toContain('up to 2 × half ring');
  });
});
