import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, makeBolt, makeLot, makeStock, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf, entries, type OnTable, putOnTable } from './tier.ts';

let house: TestHouse;
let table: OnTable;
let bolt: string;

// Eight strips of 32 × 49 cm, three a cut length of 147 cm.
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house, { strip: '49 cm' });
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m', 1000)).code;
});
afterEach(() => house.shut());

const cut = (fields: Record<string, string>) =>
  house.submit(`${table.path}/cuts`, { piece: bolt, ...fields });
async function problems(fields: object, status = 422): Promise<{ field: string; message: string }[]> {
  const before = entries(house);
  const { body } = await house.send(`${table.path}/cuts`, { piece: bolt, ...fields }).expect(status);
  expect(entries(house)).toBe(before);
  return body.error.problems;
}

describe('a cut is refused', () => {
  it('with no strips, or not a number of them', async () => {
    expect(await problems({ strips: 0 })).toEqual([{ field: 'strips', message: 'Write 1 or more.' }]);
    expect((await problems({ strips: '2.5' }))[0]?.field).toBe('strips');
    expect((await problems({}))[0]?.field).toBe('strips');
  });

  it('where the length is shorter than the strips need, at the length', async () => {
    expect(await problems({ strips: 4, length: '63.9 cm' })).toEqual([
      { field: 'length', message: '4 strips need 0.64 m in 2 cut lengths.' },
    ]);
    const page = await cut({ strips: '4', length: '0.5' }).expect(422);
    expect(page.text).toContain('value="0.5"');
    expect(page.text).toContain('id="f-length-error"');
  });

  it('where more strips are cut than wanted, unless that is ticked', async () => {
    const [over] = await problems({ strips: 9 });
    expect(over).toMatchObject({
      field: 'strips',
      message: expect.stringMatching(/wants only 8 more .*0 of 8 are cut.*more than wanted/),
    });
    const page = await cut({ strips: '9' }).expect(422);
    expect(page.text).toContain('name="more_than_wanted"');
    await cut({ strips: '8' }).expect(303);
    expect((await problems({ strips: 1 }))[0]?.message).toContain(
      'wants no more of this shade (8 of 8 are cut)',
    );
    await cut({ strips: '1', more_than_wanted: 'yes', why: 'One was spoiled' }).expect(303);
    const { body } = await house.data(table.path);
    expect(body.shades[0]).toMatchObject({ wantedStrips: 8, cutStrips: 9, leftStrips: 0 });
    expect(body.differences[0]).toContain('1 too many');
  });

  it('from a piece of another cloth or shade, too narrow, or not there, at the piece', async () => {
    const [cloth, shade, narrow] = house.write((tx) => [
      makeBolt(tx, makeStock(tx).lotId, '5 m').code,
      makeBolt(tx, makeLot(tx, table.stock.clothId, makeStock(tx).shadeId), '5 m').code,
      makeBolt(tx, table.stock.lotId, '5 m', 0, '48 cm').code,
    ]);
    for (const piece of [cloth, shade, narrow, 'B99']) {
      expect((await problems({ piece, strips: 1 }))[0]?.field).toBe('piece');
    }
    const page = await cut({ piece: 'B99', strips: '1' }).expect(422);
    expect(page.text).toContain('There is no piece B99: check the code.');
    expect(page.text).toContain('value="B99"');
  });

  it('from a second lot, unless lots may meet', async () => {
    const lotId = house.write((tx) => makeLot(tx, table.stock.clothId, table.stock.shadeId));
    const second = house.write((tx) => makeBolt(tx, lotId, '4 m')).code;
    await cut({ strips: '3' }).expect(303);
    const [problem] = await problems({ piece: second, strips: 3 });
    expect(problem).toMatchObject({
      field: 'lots_meet',
      message: expect.stringMatching(/\(3 strips cut for Tier 1\) is in use/),
    });
    const page = await cut({ piece: second, strips: '3' }).expect(422);
    expect(page.text).toContain('name="lots_meet"');
    await cut({ piece: second, strips: '3', lots_meet: 'yes' }).expect(303);
    await cut({ piece: second, strips: '2' }).expect(303);
    expect(balanceOf(house, second).onHand).toBe(length('3.36 m'));
  });

  it('where a rest is to be kept that cannot be there', async () => {
    expect(await problems({ strips: 3, rest: 'keep' })).toEqual([
      {
        field: 'rest',
        message: `3 strips take the whole width of ${bolt}: there is no remnant, so untick this.`,
      },
    ]);
    const rest = { strips: 7, rest: 'keep' };
    expect((await problems({ ...rest, leftover_length: '0.97' }))[0]?.field).toBe('leftover_length');
    expect((await problems({ ...rest, leftover_width: '148' }))[0]?.field).toBe('leftover_width');
    // 98 × 32 cm are left: a centimetre more each way is cloth that the strips have.
    const over = { ...rest, leftover_width: '99', leftover_length: '33 cm' };
    expect((await problems(over))[0]).toMatchObject({
      field: 'leftover_width',
      message: expect.stringMatching(/more cloth than is cut/),
    });
    expect((await problems({ strips: 3, rest: 'keep it' }))[0]?.field).toBe('rest');
  });

  it('with all that is wrong told together', async () => {
    const found = await problems({ strips: 9, length: '0.5', rest: 'perhaps' });
    expect(found.map(({ field }) => field)).toEqual(['rest']);
    const both = await problems({ strips: 10, length: '0.5' });
    expect(both.map(({ field }) => field)).toEqual(['strips', 'length']);
  });

  it('where the length was filled in for another number of strips and left as it was', async () => {
    const drawn = { planned_strips: '8', planned_length: '0.96', length: '0.96' };
    expect(await problems({ ...drawn, strips: 5 })).toEqual([
      {
        field: 'length',
        message:
          'This was filled in for 8 strips, and 5 need 0.64 m: enter the length actually used, or leave it blank for 0.64 m.',
      },
    ]);
    await cut({ ...drawn, strips: '7' }).expect(303);
    expect(balanceOf(house, bolt).onHand).toBe(length('1.04 m'));
  });

  it('where the tier was changed after the form was drawn', async () => {
    const deeper = { depth_ticks: length('40 cm'), changed_at: '2026-03-02T11:00:00.000Z', changed_by_id: 1 };
    const size = `${length('32 cm')}x${length('49 cm')}`;
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(deeper).where('id', '=', table.tierId)));
    const [problem] = await problems({ strips: 3, size }, 409);
    expect(problem?.message).toMatch(/Tier 1 was changed by Maker, .*a strip is now 42 cm × 49 cm/);
  });

  it('where the tier’s strips cannot be counted', async () => {
    const low = { drop_ticks: length('2 m') };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(low).where('id', '=', table.tierId)));
    expect((await problems({ strips: 3 }, 409))[0]?.message).toContain(
      'cannot be counted. This drop is below',
    );
    const page = await house.page(table.path).expect(200);
    expect(page.text).toContain('cannot be counted');
    await house.page(`${table.path}/cuts?piece=${bolt}`).expect(200);
  });
});
