import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, makeBolt, openTestHouse, type TestHouse } from '../support.ts';
import { addTierLike, putOnTable } from './tier/tier.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const overview = async () => (await house.data('/cutting-table').expect(200)).body;

describe('the cutting table', () => {
  it('with no garment open says so and where to begin', async () => {
    expect((await overview()).garments).toEqual([]);
    const page = await house.page('/cutting-table').expect(200);
    expect(page.text).toContain('No garment is open.');
    expect(page.text).toContain('href="/garments/new"');
  });

  it('counts strips of each tier: cut of wanted, held, free and short', async () => {
    const table = putOnTable(house);
    addTierLike(house, table, 'Tier 2');
    // 1.7 m is five cut lengths of 32 cm: one cut, one held, and three of the five strips left come from what is free.
    const bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '1.7 m')).code;
    await house.submit(`${table.path}/cuts`, { piece: bolt, strips: '1' }).expect(303);
    await house.submit(`${table.path}/holds`, { piece: bolt, length: '0.32' }).expect(303);
    const body = await overview();
    expect(body.garments[0].tiers).toMatchObject([
      { name: 'Tier 1', wantedStrips: 3, cutStrips: 1, heldStrips: 1, freeStrips: 1, shortStrips: 0 },
      { name: 'Tier 2', wantedStrips: 3, cutStrips: 0, heldStrips: 0, freeStrips: 2, shortStrips: 1 },
    ]);
    const page = await house.page('/cutting-table').expect(200);
    expect(page.text).toContain(`href="${table.path}"`);
    expect(page.text).toContain(`href="${table.path}/bench"`);
    expect(page.text).toContain(`/short?garment=${table.code}`);
  });

  it('counts what is free for the garment that is due first', async () => {
    const late = putOnTable(house);
    const early = putOnTable(house);
    house.write((tx) => {
      const same = { cloth_id: late.stock.clothId };
      tx.run(tx.db.updateTable('tier').set(same).where('id', '=', early.tierId));
      const shade = { shade_id: late.stock.shadeId };
      tx.run(tx.db.updateTable('colour_block').set(shade).where('tier_id', '=', early.tierId));
      const due = { due_on: '2026-03-01' };
      tx.run(tx.db.updateTable('garment').set(due).where('code', '=', early.code));
      return makeBolt(tx, late.stock.lotId, '1 m');
    });
    const body = await overview();
    expect(body.garments).toMatchObject([
      { code: early.code, due: '1 Mar 2026', late: true, tiers: [{ freeStrips: 3, shortStrips: 0 }] },
      { code: late.code, due: '', late: false, tiers: [{ freeStrips: 0, shortStrips: 3, benchHref: '' }] },
    ]);
    const list = (await house.data(late.path)).body.shades[0];
    expect(list).toMatchObject({ taken: '0.96 m', missingStrips: 3 });
    expect(list.free).toHaveLength(1);
    const bench = await house.page(`${late.path}/bench`).expect(200);
    expect(bench.text).toContain('counted for garments that are due before');
  });

  it('goes on to another page after ten garments', async () => {
    for (let made = 0; made < 12; made += 1) putOnTable(house);
    const [first, second] = await Promise.all(
      ['', '?page=2'].map(async (query) => (await house.data(`/cutting-table${query}`).expect(200)).body),
    );
    expect([first.garments.length, second.garments.length]).toEqual([10, 2]);
    expect(first.pager).toMatchObject({ total: 12, next: '/cutting-table?page=2' });
    expect((await house.page('/cutting-table')).text).toContain('1–10 of 12 open garments');
  });

  it('says which tiers cannot be counted and where that is mended', async () => {
    const table = putOnTable(house);
    const low = { drop_ticks: length('2 m') };
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(low).where('id', '=', table.tierId)));
    const edging = addTierLike(house, table, 'Tier 2');
    const edges = { hangs: 'edge', on_tier_id: table.tierId, drop_ticks: null } as const;
    house.write((tx) => tx.run(tx.db.updateTable('tier').set(edges).where('id', '=', edging)));
    const [garment] = (await overview()).garments;
    expect(garment.tiers.map((tier: { trouble: string }) => tier.trouble)).toEqual([
      expect.stringContaining('This drop is below the lowest girth'),
      'The tier that it follows from cannot be worked out.',
    ]);
    const page = await house.page('/cutting-table').expect(200);
    expect(page.text).toContain('Cannot be counted.');
    expect(page.text).toContain(`/garments/${table.code}#tier-${table.tierId}`);
  });

  it('leaves out finished garments and tiers that were taken out', async () => {
    const table = putOnTable(house);
    const out = addTierLike(house, table, 'Tier 2');
    const at = '2026-03-01T10:00:00.000Z';
    house.write((tx) => tx.run(tx.db.updateTable('tier').set({ taken_out_at: at }).where('id', '=', out)));
    expect((await overview()).garments[0].tiers).toHaveLength(1);
    house.write((tx) => tx.run(tx.db.updateTable('garment').set({ finished_at: at })));
    expect((await overview()).garments).toEqual([]);
  });

  it('shows a garment without tiers', async () => {
    house.write((tx) =>
      tx.run(
        tx.db.insertInto('garment').values({ code: 'G77', name: 'Bare', due_on: null, finished_at: null }),
      ),
    );
    const page = await house.page('/cutting-table').expect(200);
    expect(page.text).toContain('G77 has no tiers yet.');
  });
});
