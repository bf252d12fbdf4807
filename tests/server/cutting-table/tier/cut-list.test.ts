import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, makeBolt, makeLot, openTestHouse, type TestHouse } from '../../support.ts';
import { type OnTable, putOnTable } from './tier.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const bolt = (lotId: number, text: string, width = '147 cm') =>
  house.write((tx) => makeBolt(tx, lotId, text, 0, width)).code;
const list = async (table: OnTable) => (await house.data(table.path).expect(200)).body;

interface Row {
  piece: { code: string };
  lotNote: string;
  gives: string;
  hold: { length: string } | null;
}
const rows = (free: Row[]) => free.map(({ piece, gives, hold }) => [piece.code, gives, hold?.length ?? null]);

describe('the cut list', () => {
  it('tells size, counts, cut lengths and the cloth they take', async () => {
    const table = putOnTable(house, { strip: '49 cm' });
    const [shade] = (await list(table)).shades;
    expect(shade).toMatchObject({
      size: '32 cm × 49 cm',
      depthTicks: length('32 cm'),
      stripLengthTicks: length('49 cm'),
      wantedStrips: 8,
      cutStrips: 0,
      leftStrips: 8,
      toCut: '8 strips in 3 cut lengths of 32 cm, 3 strips a length: 0.96 m',
      lots: 'one lot',
      missingStrips: 8,
    });
  });

  it('lists free pieces that fit: the shortest that gives all first, then those that give most', async () => {
    const table = putOnTable(house, { strip: '49 cm' });
    const { lotId } = table.stock;
    const long = bolt(lotId, '5 m');
    const some = bolt(lotId, '40 cm');
    const enough = bolt(lotId, '1 m');
    const narrow = bolt(lotId, '2 m', '98 cm');
    bolt(lotId, '31 cm');
    bolt(lotId, '2 m', '48 cm');
    const [shade] = (await list(table)).shades;
    expect(rows(shade.free)).toEqual([
      [enough, '9 strips, 3 a length', '0.96'],
      // Two a cut length: eight strips take four cut lengths of 32 cm.
      [narrow, '12 strips, 2 a length', '1.28'],
      [long, '45 strips, 3 a length', '0.96'],
      [some, '3 strips, 3 a length', '0.32'],
    ]);
    expect(shade.tooSmall).toBe('2 free pieces give no strip, being too short or too narrow: 2.31 m in all.');
    expect(shade.missingStrips).toBe(0);
  });

  it('marks the best lot, and once a lot is in use, that one and the others', async () => {
    const table = putOnTable(house);
    const lotId = house.write((tx) => makeLot(tx, table.stock.clothId, table.stock.shadeId));
    const first = bolt(table.stock.lotId, '64 cm');
    const second = bolt(lotId, '4 m');
    const notes = async () => {
      const [shade] = (await list(table)).shades;
      return shade.free.map((row: Row) => [row.piece.code, row.lotNote, row.hold === null]);
    };
    // Three strips come from the second lot and two from the first.
    expect(await notes()).toEqual([
      [second, 'best lot', false],
      [first, '', false],
    ]);
    await house.submit(`${table.path}/holds`, { piece: first, length: '0.32' }).expect(303);
    expect(await notes()).toEqual([
      [first, 'in use', false],
      [second, 'another lot', true],
    ]);
    const [shade] = (await list(table)).shades;
    expect(shade.inUse).toMatch(/^lot L\d+ \(0.32 m held for Tier 1\) is in use$/);
  });

  it('shows what is held with its strips, and asks for no more than is missing', async () => {
    const table = putOnTable(house);
    const code = bolt(table.stock.lotId, '2 m');
    await house.submit(`${table.path}/holds`, { piece: code, length: '0.7' }).expect(303);
    const body = await list(table);
    expect(body.shades[0].held).toMatchObject([
      { held: '0.7 m', heldTicks: length('0.7 m'), strips: 2, gives: '2 strips', release: { length: '0.7' } },
    ]);
    expect(rows(body.shades[0].free)).toEqual([[code, '4 strips', '0.32']]);
    const page = await house.page(table.path).expect(200);
    expect(page.text).toContain(`aria-label="Length of ${code} to hold"`);
    expect(body.shades[0].heldCoversAll).toBe(false);
    await house.submit(`${table.path}/holds`, { piece: code, length: '0.32' }).expect(303);
    const covered = await list(table);
    expect(covered.shades[0]).toMatchObject({ heldCoversAll: true, missingStrips: 0 });
    expect(rows(covered.shades[0].free)).toEqual([[code, '3 strips', null]]);
    expect((await house.page(table.path)).text).toContain('All that is left fits into what is held.');
    expect(page.text).toContain('Release all that is held');
  });

  it('tells what is held that the tier does not want, with its release', async () => {
    const table = putOnTable(house);
    const code = bolt(table.stock.lotId, '2 m');
    await house.submit(`${table.path}/holds`, { piece: code, length: '0.96' }).expect(303);
    const other = putOnTable(house);
    const changed = { shade_id: other.stock.shadeId };
    house.write((tx) =>
      tx.run(tx.db.updateTable('colour_block').set(changed).where('tier_id', '=', table.tierId)),
    );
    const body = await list(table);
    expect(body.strange).toMatchObject([{ piece: { code }, held: '0.96 m', cutHref: '' }]);
    expect(body.differences[0]).toContain(`0.96 m of ${code} held in`);
    await house.submit(`${table.path}/releases`, { piece: code, length: '' }).expect(303);
    expect((await list(table)).strange).toEqual([]);
  });

  it('has a way on where there is no cloth', async () => {
    const table = putOnTable(house);
    const page = await house.page(table.path).expect(200);
    expect(page.text).toContain('No free piece gives a strip.');
    expect(page.text).toContain('Nothing of this cloth and shade is free.');
    expect(page.text).toContain(`/short?garment=${table.code}`);
    expect(page.text).toContain('Nothing is cut for it yet.');
    expect(page.text).not.toContain('Cut at the bench');
  });

  it('offers no hold and no cut for a tier that is taken out', async () => {
    const table = putOnTable(house);
    bolt(table.stock.lotId, '2 m');
    const out = { taken_out_at: '2026-03-01T10:00:00.000Z' };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(out).where('id', '=', table.tierId)));
    const body = await list(table);
    expect(body).toMatchObject({ shades: [], canCutNow: false });
    expect(body.closed).toContain('Tier 1 is taken out');
    const page = await house.page(table.path).expect(200);
    expect(page.text).not.toContain('/holds"');
  });
});

describe('the cut sheet', () => {
  it('names pieces, lengths and a box a strip: held first, then free, a cut length to a group', async () => {
    const table = putOnTable(house, { strip: '49 cm' });
    const held = bolt(table.stock.lotId, '70 cm');
    const free = bolt(table.stock.lotId, '3 m');
    await house.submit(`${table.path}/holds`, { piece: held, length: '0.64' }).expect(303);
    const [shade] = (await list(table)).shades;
    const strips = shade.sheet.reduce((sum: number, row: { strips: number }) => sum + row.strips, 0);
    expect(strips).toBe(8);
    expect(shade.sheet[0]).toMatchObject({
      code: held,
      from: 'held',
      strips: 6,
      cutLengths: 2,
      columns: 3,
      length: '0.64 m',
      groups: [
        { from: 1, to: 3 },
        { from: 4, to: 6 },
      ],
    });
    expect(shade.sheet[1]).toMatchObject({ code: free, from: 'free', groups: [{ from: 7, to: 8 }] });
    const page = await house.page(table.path).expect(200);
    expect(page.text.match(/class="tape-outline"\/>/g)?.length).toBeGreaterThanOrEqual(8);
    expect(page.text).toContain('Boxes for strips 7 to 8');
    expect(page.text).toContain(`>${free}<`);
  });

  it('keeps to the lot that is in use, though another would give more', async () => {
    const table = putOnTable(house);
    const lotId = house.write((tx) => makeLot(tx, table.stock.clothId, table.stock.shadeId));
    const first = bolt(table.stock.lotId, '70 cm');
    bolt(lotId, '5 m');
    await house.submit(`${table.path}/holds`, { piece: first, length: '0.32' }).expect(303);
    const [shade] = (await list(table)).shades;
    const planned = shade.sheet.map((row: { code: string; from: string; strips: number }) => [
      row.code,
      row.from,
      row.strips,
    ]);
    expect(planned).toEqual([
      [first, 'held', 1],
      [first, 'free', 1],
    ]);
    expect(shade.missingStrips).toBe(1);
  });

  it('goes on counting where cutting has begun, five to a group where a cut length is one strip', async () => {
    const table = putOnTable(house);
    const many = { fullness_milli: 10_000 };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(many).where('id', '=', table.tierId)));
    // 1160 cm ÷ 145 cm is 8 strips exactly.
    const code = bolt(table.stock.lotId, '2.3 m');
    await house.submit(`${table.path}/cuts`, { piece: code, strips: '1' }).expect(303);
    const [shade] = (await list(table)).shades;
    expect(shade.sheet).toMatchObject([
      {
        strips: 6,
        groups: [
          { from: 2, to: 6 },
          { from: 7, to: 7 },
        ],
      },
    ]);
    expect(shade.missingStrips).toBe(1);
    const page = await house.page(table.path).expect(200);
    expect(page.text).toContain('1 strip has no cloth yet.');
  });
});
