import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { newKey, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const HEADING = 'Code,Cloth,Width,Colour,Dye lot,Length,Location,Cost';
const GOOD = [
  HEADING,
  'A1,Nylon organza,150 cm,Moss,77,12.5,Rack 1,40.00',
  'A2,Nylon organza,150 cm,Moss,77,2 yd 4 in,Rack 1,',
  ',Soft net,280 cm,Foam,,"3,25 m",,',
].join('\n');

/** Hands rows in and gives the path of the list. */
async function handIn(pasted: string): Promise<string> {
  const answer = await house.submit('/setup/lists', { pasted }).expect(303);
  return (answer.headers.location ?? '').split('?')[0] ?? '';
}

const listOf = async (path: string) => (await house.data(path).expect(200)).body;
const pieces = async () => {
  const { text } = await house.page('/setup/lists/out/pieces.csv').expect(200);
  return text.replace('\uFEFF', '').trim().split('\r\n');
};

describe('a list that comes in', () => {
  it('is looked at first, then comes onto the shelf with its names, and goes back in one tap', async () => {
    const path = await handIn(GOOD);
    const looked = await listOf(path);
    expect(looked).toMatchObject({ state: 'ready', wanted: 3, counts: { all: 3, wrong: 0 } });
    expect(looked.columns.map(({ value }: { value: string }) => value)).toEqual([
      ...['code', 'cloth', 'cloth_width', 'shade', 'lot', 'length', 'place', 'cost'],
    ]);
    expect(await pieces()).toHaveLength(1);

    await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(303);
    expect(await listOf(path)).toMatchObject({ state: 'in', counts: { in: 3 } });
    const rows = await pieces();
    expect(rows[1]).toContain(
      'A1,bolt,Nylon organza,not said,,150 cm,150 cm,,,Moss,no,77,12.5 m,150 cm,Rack 1,,40.00',
    );
    // 2 yd 4 in are 76 in of 25.4 mm: 1.9304 m.
    expect(rows[2]).toContain('1.9304 m');
    expect(rows[3]).toMatch(/^B\d+,bolt,Soft net.*3\.25 m/);
    expect(checkBook(house.book).findings).toEqual([]);

    await house.submit(`${path}/take-backs`, {}).expect(303);
    expect(await listOf(path)).toMatchObject({ state: 'taken back' });
    expect(await pieces()).toHaveLength(1);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('finds names that differ by case or spaces alone, as every form does', async () => {
    await house.submit('/shelf/shades/new', { name: 'Sea  Moss' }).expect(303);
    const path = await handIn(
      [
        HEADING,
        'A1,Nylon organza,150 cm,Sea Moss,77,12.5,Rack 1,',
        'A2,nylon\u00a0 ORGANZA,,SEA MOSS,77,2,rack  1,',
      ].join('\n'),
    );
    expect(await listOf(path)).toMatchObject({ counts: { all: 2, wrong: 0 } });
    await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(303);
    const rows = await pieces();
    expect(rows).toHaveLength(3);
    for (const row of rows.slice(1)) expect(row).toMatch(/Nylon organza.*Sea {1,2}Moss.*Rack 1/);
  });

  it('is not taken back once a piece of it was used', async () => {
    const path = await handIn(GOOD);
    await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(303);
    await house.submit('/shelf/pieces/A1/splits', { length: '1', why: '' }).expect(303);
    await house.submit(`${path}/take-backs`, {}).expect(303);
    const kept = await listOf(path);
    expect(kept.state).toBe('in');
    expect(kept.problem).toContain('Some of these pieces were used since');
    expect(await pieces()).toHaveLength(5);
  });

  it('shows what is wrong first, lets it be mended, and gives the rest back with reasons', async () => {
    const path = await handIn(
      [HEADING, 'A1,Organza,150,Moss,,"1,500",,', 'A1,Organza,150,Moss,,4,,', 'A3,Velvet,,,,3 ells,,-2'].join(
        '\n',
      ),
    );
    const looked = await listOf(path);
    expect(looked.counts).toMatchObject({ all: 3, wrong: 2 });
    expect(looked.wrong[0].cells[0].error).toContain('can mean 1.5 or 1500');
    expect(looked.wrong[1].cells.map(({ label }: { label: string }) => label)).toEqual([
      'Colour',
      'Length',
      'Cost',
    ]);
    const mended = { 'rows.0.row': '1', 'rows.0.c5': '1.5' };
    await house.submit(`${path}/rows`, mended).expect(303);
    const again = await listOf(path);
    // The code stands twice now that the first row counts.
    expect(again.wrong[0].cells[0].error).toBe('A1 stands twice in this list: give each piece its own code.');
    const { text } = await house.page(`${path}/left-out.csv`).expect(200);
    expect(text.split('\r\n')[0]).toBe(`\uFEFF${HEADING},Left out because`);
    expect(text).toContain('The shade must be filled in.');
    await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(303);
    expect(await listOf(path)).toMatchObject({ state: 'in', counts: { in: 1, wrong: 2 } });
  });

  it('remembers how the columns of a heading were read', async () => {
    await house.submit('/shelf/shades/new', { name: 'Moss' }).expect(303);
    const first = await handIn('Stuff;Hue;How long;Full width\nNylon organza;Moss;1.234,5;150');
    expect((await listOf(first)).counts.wrong).toBe(1);
    const columns = {
      'columns.0.field': 'cloth',
      'columns.1.field': 'shade',
      'columns.2.field': 'length',
      'columns.3.field': 'cloth_width',
    };
    const writing = { length_unit: 'cm', size_unit: 'cm', mass_unit: 'g/m²', decimals: 'comma' };
    await house.submit(`${first}/columns`, { ...columns, ...writing }).expect(303);
    expect((await listOf(first)).counts.wrong).toBe(0);
    await house.submit(`${first}/takings`, { skip_twins: 'yes' }).expect(303);
    expect((await pieces())[1]).toContain('12.345 m');
    const second = await handIn('Stuff;Hue;How long;Full width\nNylon organza;Foam;2.000;150');
    const remembered = await listOf(second);
    expect(remembered.writing).toMatchObject({
      length_unit: { value: 'cm' },
      decimals: { value: 'comma' },
    });
    expect(remembered.counts.wrong).toBe(0);
    const twice = { ...columns, 'columns.1.field': 'cloth', ...writing, length_unit: 'mm' };
    const refused = await house.send(`${second}/columns`, twice).expect(422);
    expect(refused.body.page.columns[1]).toMatchObject({ value: 'cloth' });
    expect(refused.body.page.writing).toMatchObject({ length_unit: { value: 'mm' } });
  });

  it('the same list twice is offered to be left out, equal bolts counted one by one', async () => {
    const list = 'Cloth,Width,Shade,Length\nOrganza,150,Moss,5\nOrganza,150,Moss,5';
    const first = await handIn(list);
    await house.submit(`${first}/takings`, { skip_twins: 'yes' }).expect(303);
    const second = await handIn(`${list}\nOrganza,150,Moss,5`);
    expect(await listOf(second)).toMatchObject({ wanted: 1, counts: { all: 3, twins: 2 } });
    await house.submit(`${second}/takings`, { skip_twins: 'yes' }).expect(303);
    expect(await pieces()).toHaveLength(4);
    const third = await handIn(list);
    await house.submit(`${third}/takings`, { skip_twins: '' }).expect(303);
    expect(await pieces()).toHaveLength(6);
  });

  it('says what it cannot read, and keeps what was pasted', async () => {
    const none = await house.submit('/setup/lists', { pasted: ' ' }).expect(422);
    expect(none.text).toContain('Choose a file, or paste rows below.');
    expect(await listOf(await handIn('Cloth,Shade,Length'))).toMatchObject({
      state: 'failed',
      problem: 'A list has a heading and at least one row below it.',
    });
    const wide = await listOf(await handIn(`Cloth,Shade,Length\n${'x,'.repeat(300)}`));
    expect(wide.wrong[0].problems[0]).toContain('This row has 301 cells, and the heading has 3:');
    const nul = await listOf(await handIn('Cloth,Shade,Length\nOrg\0anza,Moss,2'));
    expect(nul.wrong[0].cells[0].error).toContain('control characters');
  });

  it('handed in twice with one key comes in once, and other rows of the same size are refused', async () => {
    const key = newKey();
    const hand = (pasted: string) => house.submit('/setup/lists', { request_key: key, pasted });
    const first = await hand('Cloth,Width,Shade,Length\nOrganza,150,Moss,5').expect(303);
    const again = await hand('Cloth,Width,Shade,Length\nOrganza,150,Moss,5').expect(303);
    expect(again.headers.location).toBe(first.headers.location);
    await hand('Cloth,Width,Shade,Length\nOrganza,150,Moss,7').expect(409);
    expect((await house.data('/setup/lists').expect(200)).body.came).toHaveLength(1);
  });

  it('put aside, leaves nothing behind', async () => {
    const path = await handIn(GOOD);
    await house.submit(`${path}/stops`, {}).expect(303);
    expect((await listOf(path)).state).toBe('stopped');
    const late = await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(409);
    expect(late.text).toContain('it is put aside');
    expect(await pieces()).toHaveLength(1);
  });
});

describe('lists that go out', () => {
  it('pieces come in again as they went out', async () => {
    const path = await handIn(GOOD);
    await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(303);
    const out = await house.page('/setup/lists/out/pieces.csv').expect(200);
    const other = await openTestHouse();
    try {
      const answer = await other.submit('/setup/lists', { pasted: out.text }).expect(303);
      const there = (answer.headers.location ?? '').split('?')[0] ?? '';
      expect((await other.data(there).expect(200)).body.counts).toMatchObject({ all: 3, wrong: 0 });
      await other.submit(`${there}/takings`, { skip_twins: 'yes' }).expect(303);
      expect((await other.page('/setup/lists/out/pieces.csv').expect(200)).text).toBe(out.text);
    } finally {
      await other.shut();
    }
  });

  it('each is there as CSV and as JSON with the same cells', async () => {
    const path = await handIn(GOOD);
    await house.submit(`${path}/takings`, { skip_twins: 'yes' }).expect(303);
    const { out } = (await house.data('/setup/lists').expect(200)).body;
    expect(out).toHaveLength(29);
    for (const { csv, json } of out) {
      const sheet = await house
        .page(csv)
        .expect(200)
        .expect('content-type', /text\/csv/);
      const { body } = await house.data(json).expect(200);
      expect(sheet.text.trim().split('\r\n')).toHaveLength(body.length + 1);
    }
    await house.page('/setup/lists/out/nothing.csv').expect(404);
  });
});
