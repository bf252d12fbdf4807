import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cutLength, holdLength } from '../../../server/ledger/verbs.ts';
import type { todayPage } from '../../../server/today/page.ts';
import {
  length,
  makeBolt,
  makeStock,
  makeTier,
  newKey,
  openTestHouse,
  type Stock,
  type TestHouse,
} from '../support.ts';

// Every tier of these tests is a ring of 116 cm at fullness 3: 348 cm flat, of strips 147 cm long (145 cm without
// seams) 3, each cut 32 cm deep.

let house: TestHouse;
let stock: Stock;
let tierId: number;
beforeEach(async () => {
  house = await openTestHouse(() => new Date(2026, 2, 2, 12));
  stock = house.write((tx) => makeStock(tx));
  tierId = house.write((tx) => makeTier(tx, stock));
});
afterEach(() => house.shut());

const today = async (): Promise<ReturnType<typeof todayPage>['data']> =>
  (await house.data('/').expect(200)).body;

function dueOn(day: string | null, ofTier = tierId): void {
  house.write((tx) => {
    const tier = tx.db.selectFrom('tier').select('garment_id').where('id', '=', ofTier);
    tx.run(tx.db.updateTable('garment').set({ due_on: day }).where('id', '=', tier));
  });
}

const cm = (text: string) => ({ lengthTicks: length(`${text} cm`), typed: `${text} cm` });

describe('due', () => {
  it('tells how far the strips of a garment are', async () => {
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '70 cm'));
    house.write((tx) => cutLength(tx, bolt.id, { tierId, strips: 1, ...cm('32') }));
    house.write((tx) => holdLength(tx, bolt.id, tierId, cm('32')));
    const [garment] = (await today()).garments.due;
    expect(garment?.progress?.strips).toEqual({ wanted: 3, cut: 1, held: 1, short: 1 });
    expect(garment?.next).toMatchObject({ text: 'Cut Tier 1' });
    const page = await house.page('/').expect(200);
    expect(page.text).toContain('1 of 3 strips cut, 1 held, 1 short');
  });

  it('offers no cut where there is nothing to cut from', async () => {
    expect((await today()).garments.due[0]?.next).toBeNull();
  });

  it('comes by day, those gone by marked, those without a day last', async () => {
    const later = house.write((tx) => makeTier(tx, stock));
    const open = house.write((tx) => makeTier(tx, stock));
    dueOn('2026-03-20', later);
    dueOn('2026-03-01');
    dueOn(null, open);
    const { due } = (await today()).garments;
    expect(due.map((garment) => [garment.due, garment.when, garment.overdue])).toEqual([
      ['1 Mar 2026', 'yesterday', true],
      ['20 Mar 2026', 'in 18 days', false],
      ['', '', false],
    ]);
    expect((await house.page('/')).text).toContain('overdue: yesterday');
  });

  it('says why a garment cannot be counted', async () => {
    house.write((tx) =>
      tx.run(
        tx.db
          .updateTable('tier')
          .set({ drop_ticks: length('2 m') })
          .where('id', '=', tierId),
      ),
    );
    const [garment] = (await today()).garments.due;
    expect(garment).toMatchObject({ progress: null, note: '1 tier cannot be worked out.' });
  });

  it('leads on from a garment that has no tiers', async () => {
    house.write((tx) => tx.run(tx.db.updateTable('tier').set({ taken_out_at: tx.at })));
    expect((await today()).garments.due[0]).toMatchObject({ progress: null, note: 'No tiers yet.' });
  });
});

describe('short', () => {
  it('is told by garment in strips and length, with the ways to get it', async () => {
    house.write((tx) => makeBolt(tx, stock.lotId, '70 cm'));
    const [garment] = (await today()).garments.short;
    // 70 cm gives two drops of 32 cm; one strip is missing, and shops cut every 10 cm.
    expect(garment?.rows).toMatchObject([{ strips: '1 strip', length: '0.4 m', coming: [] }]);
    expect(garment?.rows[0]?.ways.map(({ text }) => text)).toEqual(['Order', 'Dye or buy']);
  });

  it('offers dyeing where undyed cloth is free, and other lots where they would do', async () => {
    house.write((tx) => {
      const { lastId: shade } = tx.run(
        tx.db.insertInto('shade').values({
          name: 'Undyed',
          ground: 1,
          lab_l: null,
          lab_a: null,
          lab_b: null,
          lab_how: null,
        }),
      );
      for (const [code, shadeId, text] of [
        ['L80', shade, '4 m'],
        ['L81', stock.shadeId, '40 cm'],
        ['L82', stock.shadeId, '70 cm'],
      ] as const) {
        const lot = { code, cloth_id: stock.clothId, shade_id: shadeId, origin: 'mill' as const };
        const { lastId } = tx.run(
          tx.db.insertInto('lot').values({ ...lot, supplier_id: null, batch_id: null }),
        );
        makeBolt(tx, lastId, text);
      }
    });
    const [row] = (await today()).garments.short[0]?.rows ?? [];
    expect(row?.ways).toEqual([
      {
        text: 'Dye',
        href: `/dye-bench/batches/new?cloth=${stock.clothId}&shade=${stock.shadeId}&wanted=0.32+m`,
      },
      { text: 'Order', href: '/orders/new?from=short' },
      { text: 'Dye or buy', href: `/orders/dye-or-buy?cloth=${stock.clothId}&shade=${stock.shadeId}` },
      { text: 'Other lots', href: `/shelf?cloth=${stock.clothId}&shade=${stock.shadeId}` },
    ]);
  });

  it('says so when nothing is', async () => {
    house.write((tx) => makeBolt(tx, stock.lotId, '2 m'));
    expect((await today()).garments.short).toEqual([]);
    expect((await house.page('/')).text).toContain('Nothing is short');
  });

  it('tells what is on order, and offers no second order where that is enough', async () => {
    await order('2026-03-10', '1 m').expect(303);
    await house.submit('/orders/P1/sendings', {}).expect(303);
    const [row] = (await today()).garments.short[0]?.rows ?? [];
    expect(row?.coming).toEqual([{ text: 'on order: 1 m', href: '/orders' }]);
    expect(row?.ways).toEqual([]);
  });
});

function order(expected: string, text: string) {
  house.write((tx) =>
    tx.run(
      tx.db
        .insertInto('supplier')
        .values({ name: 'Mill', lead_days: null })
        .onConflict((same) => same.doNothing()),
    ),
  );
  return house.submit('/orders/new', {
    supplier_id: '1',
    expected_on: expected,
    note: '',
    price_per: 'm',
    'lines.0.cloth_id': String(stock.clothId),
    'lines.0.shade_id': String(stock.shadeId),
    'lines.0.length': text,
    'lines.0.price': '',
  });
}

describe('arriving', () => {
  it('lists what was sent by the day it is expected, late ones marked, and drafts apart', async () => {
    await order('2026-03-10', '1 m').expect(303);
    await order('2026-02-27', '2 m').expect(303);
    await order('', '3 m').expect(303);
    for (const code of ['P1', 'P2']) await house.submit(`/orders/${code}/sendings`, {}).expect(303);
    const { sent, drafts } = (await today()).arriving;
    expect(sent.map(({ code, when, late }) => [code, when, late])).toEqual([
      ['P2', '3 days ago', true],
      ['P1', 'in 8 days', false],
    ]);
    expect(sent[0]?.lines).toMatchObject([{ awaited: '2 m' }]);
    expect(drafts.map(({ code }) => code)).toEqual(['P3']);
    expect((await house.page('/')).text).toContain('late: 3 days ago');
  });
});

describe('done lately', () => {
  it('is the last eight forms that made entries, the newest first', async () => {
    for (let at = 1; at <= 9; at += 1) {
      house.book.write({ key: newKey(), asked: at, personId: 1 }, (tx) => {
        makeBolt(tx, stock.lotId, '1 m');
        makeBolt(tx, stock.lotId, '2 m');
        return { location: '/shelf', said: `Two bolts, delivery ${at}.` };
      });
    }
    const { lately } = await today();
    expect(lately.map(({ said }) => said)).toEqual(
      [9, 8, 7, 6, 5, 4, 3, 2].map((at) => `Two bolts, delivery ${at}.`),
    );
    expect(lately.every((done) => done.who === 'Maker' && done.canUndo)).toBe(true);
  });

  it('undoes from the page, and then says who undid it', async () => {
    house.write((tx) => makeBolt(tx, stock.lotId, '1 m'));
    const [done] = (await today()).lately;
    await house.submit('/undo', { undoes: done?.requestKey ?? '' }).expect(303);
    const [undo, first] = (await today()).lately;
    expect(undo).toMatchObject({ said: 'Undone: Done.', canUndo: false, undone: '' });
    expect(first?.canUndo).toBe(false);
    expect(first?.undone).toMatch(/^undone by Maker, /);
  });

  it('offers no Undo that would be refused, because later work depends on it', async () => {
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '1 m'));
    house.write((tx) => cutLength(tx, bolt.id, { tierId, strips: 1, ...cm('32') }));
    const [cut, received] = (await today()).lately;
    expect([cut?.canUndo, received?.canUndo]).toEqual([true, false]);
    const page = await house.page('/');
    expect(page.text.match(/action="\/undo"/g)).toHaveLength(1);
  });

  it('is left out of an empty ledger with a word', async () => {
    expect((await house.page('/')).text).toContain('The ledger has no entry yet.');
  });
});

describe('finding a piece', () => {
  it('asks for its code and goes to it', async () => {
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '1 m'));
    const page = await house.page('/');
    expect(page.text).toContain('action="/find"');
    const found = await house.page(`/find?code=${bolt.code.toLowerCase()}`).expect(303);
    expect(found.headers.location).toBe(`/shelf/pieces/${bolt.code}`);
  });
});
