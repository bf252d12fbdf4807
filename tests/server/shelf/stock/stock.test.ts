import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { PieceRow } from '../../../../server/shelf/piece/list.ts';
import type { Group } from '../../../../server/shelf/stock/groups.ts';
import { length, makeBolt, makeLot, makeStock, openTestHouse, type TestHouse } from '../../support.ts';
import { type Furnished, furnish, rows } from '../furnished.ts';

let house: TestHouse;
let ids: Furnished;

beforeEach(async () => {
  house = await openTestHouse();
  ids = await furnish(house);
});
afterEach(() => house.shut());

/** B1 50 m and B2 0.7 m of L1, B3 0.7 m of L2, all white organza; B4 12 m moss organza; B5 30 m white net. */
async function stock(): Promise<void> {
  const organza = { cloth_id: ids.organza, shade_id: ids.white, mill_lot: 'A1' };
  const pieces = rows(
    { ...organza, length: '50' },
    { length: '0.7' },
    { ...organza, mill_lot: 'A2', length: '0.7', usable_width: '60' },
    { ...organza, shade_id: ids.moss, mill_lot: 'M7', length: '12' },
    { cloth_id: ids.net, shade_id: ids.white, mill_lot: 'N1', length: '30', place_id: ids.rack },
  );
  await house.submit('/shelf/receipts', pieces).expect(303);
}

async function shelf(query = '') {
  const { body } = await house.data(`/shelf${query}`).expect(200);
  return body;
}

function codesIn(body: { groups: Group[]; list: PieceRow[] }): string[] {
  const grouped = body.groups.flatMap(({ lots }) => lots.flatMap(({ pieces }) => pieces));
  return [...grouped, ...body.list].map(({ code }) => code);
}

describe('an empty shelf', () => {
  it('leads to receiving', async () => {
    const page = await house.page('/shelf').expect(200);
    expect(page.text).toContain('Nothing is on the shelf.');
    expect(page.text).toContain('href="/shelf/receive"');
    expect((await shelf()).totals).toMatchObject({ pieces: 0, longestFree: '0 m' });
  });
});

describe('grouping', () => {
  beforeEach(stock);

  it('goes from shades to lots to pieces, and adds up only within a lot', async () => {
    const body = await shelf();
    const tree = body.groups.map((group: Group) => [
      group.name,
      group.lots.map(({ code, totals, pieces }) => [
        code,
        totals.freeInAll,
        pieces.map((piece) => piece.code),
      ]),
    ]);
    expect(tree).toEqual([
      ['Moss', [['L3', '12 m in 1 piece', ['B4']]]],
      [
        'White',
        [
          ['L1', '50.7 m in 2 pieces', ['B1', 'B2']],
          ['L2', '0.7 m in 1 piece', ['B3']],
          ['L4', '30 m in 1 piece', ['B5']],
        ],
      ],
    ]);
    expect(body.totals).toMatchObject({ pieces: 5, lots: 4, shades: 2, longestFree: '50 m' });
    const page = await house.page('/shelf').expect(200);
    expect(page.text).toContain('50.7 m in 2 pieces free, longest 50 m');
    expect(page.text).toContain('4 pieces in 3 lots, longest free 50 m');
    // 93.4 m is what all of it adds up to, and no piece nor lot has that.
    expect(page.text).not.toContain('93.4');
  });

  it('draws all tapes on one scale', async () => {
    const pieces = (await shelf()).groups.flatMap(({ lots }: Group) => lots.flatMap((lot) => lot.pieces));
    const widths = new Map(pieces.map(({ code, tape }: PieceRow) => [code, tape.outline?.width]));
    // A tape is 400 wide for the longest, 50 m: 12 m are 96, 30 m 240, 0.7 m 5.6.
    expect(Object.fromEntries(widths)).toEqual({ B1: 400, B2: 5.6, B3: 5.6, B4: 96, B5: 240 });
  });

  it('can go by cloth, or list by length or age', async () => {
    const byCloth = await shelf('?sort=cloth');
    expect(byCloth.groups.map(({ name, chip }: Group) => [name, chip])).toEqual([
      ['Nylon organza', null],
      ['Soft net', null],
    ]);
    expect(codesIn(await shelf('?sort=longest'))).toEqual(['B1', 'B5', 'B4', 'B2', 'B3']);
    expect(codesIn(await shelf('?sort=newest'))).toEqual(['B5', 'B4', 'B3', 'B2', 'B1']);
    expect(codesIn(await shelf('?sort=nonsense'))).toEqual(['B4', 'B1', 'B2', 'B3', 'B5']);
  });
});

describe('filters', () => {
  beforeEach(stock);

  it.each([
    ['cloth=2', ['B5']],
    ['shade=2', ['B4']],
    ['fibre=elastane', ['B5']],
    ['fibre=nylon', ['B4', 'B1', 'B2', 'B3', 'B5']],
    ['fibre=silk', []],
    ['place=1', ['B5']],
    ['place=none&shade=1', ['B1', 'B2', 'B3']],
    ['lot=l1', ['B1', 'B2']],
    ['lot=m7', ['B4']],
    ['free=12', ['B4', 'B1', 'B5']],
    ['free=12.01', ['B1', 'B5']],
    ['free=2+yd', ['B4', 'B1', 'B5']],
    ['width=150', ['B5']],
    ['width=60&free=0.7&shade=1', ['B1', 'B2', 'B3', 'B5']],
    ['cloth=1&cloth=2', ['B4', 'B1', 'B2', 'B3']],
    ['cloth=99', ['B4', 'B1', 'B2', 'B3', 'B5']],
  ])('%s', async (query, codes) => {
    expect(codesIn(await shelf(`?${query}`))).toEqual(codes);
  });

  it('stand in the form again and in the totals', async () => {
    const body = await shelf('?shade=1&free=1');
    expect(body.totals).toMatchObject({ pieces: 2, lots: 2, longestFree: '50 m' });
    const page = await house.page('/shelf?shade=1&free=1').expect(200);
    expect(page.text).toContain('<option value="1" selected>White (undyed ground)</option>');
    expect(page.text).toContain('value="1"');
    expect(page.text).toMatch(/<form class="filters" method="get" action="\/shelf"/);
  });

  it('say what cannot be read, and are not applied then', async () => {
    const page = await house.page('/shelf?free=1,500').expect(422);
    expect(page.text).toContain('value="1,500"');
    expect(page.text).toContain('1,500 can mean 1.5 or 1500');
    expect(page.text).toContain('B4');
  });

  it('offer a way on where nothing matches', async () => {
    const page = await house.page('/shelf?free=200').expect(200);
    expect(page.text).toContain('No piece matches.');
    expect(page.text).toContain('href="/shelf?free=200&amp;gone=yes"');
  });
});

describe('pieces that are gone', () => {
  beforeEach(stock);

  it('are hidden unless asked for', async () => {
    await house.submit('/shelf/pieces/B2/write-offs', { all: 'yes', why: 'moth' }).expect(303);
    expect(codesIn(await shelf())).toEqual(['B4', 'B1', 'B3', 'B5']);
    const withGone = await shelf('?gone=yes&lot=L1');
    expect(codesIn(withGone)).toEqual(['B2', 'B1']);
    expect(withGone.totals).toBeNull();
  });
});

describe('paging', () => {
  beforeEach(() => {
    house.write((tx) => {
      const { lotId, clothId, shadeId } = makeStock(tx);
      for (let piece = 0; piece < 30; piece += 1) makeBolt(tx, lotId, `${piece + 1} m`);
      makeBolt(tx, makeLot(tx, clothId, shadeId), '100 m');
    });
  });

  it('shows 20 pieces, with the totals and the scale of all', async () => {
    const first = await shelf('?free=2');
    expect(codesIn(first)).toHaveLength(20);
    expect(first.pager).toMatchObject({
      from: 1,
      to: 20,
      total: 30,
      previous: null,
      next: '/shelf?free=2&page=2',
    });
    const second = await shelf('?free=2&page=2');
    expect(codesIn(second)).toHaveLength(10);
    expect(second.pager).toMatchObject({ from: 21, to: 30, previous: '/shelf?free=2', next: null });
    const [lot] = first.groups[0].lots;
    // 2 m to 30 m: 29 pieces, (2 + 30) × 29 ÷ 2 = 464 m.
    expect(lot.totals).toMatchObject({ pieces: 29, freeInAll: '464 m in 29 pieces' });
    expect(lot.pieces[0].tape.outline.width).toBe(120);
  });

  it('ends at the last page', async () => {
    expect((await shelf('?page=99')).pager).toMatchObject({ from: 21, to: 31 });
    expect((await shelf('?page=0')).pager.from).toBe(1);
  });

  it('goes on by number among gone pieces', async () => {
    const first = await shelf('?gone=yes');
    expect(codesIn(first)).toHaveLength(20);
    const second = await house.data(first.older).expect(200);
    expect(codesIn(second.body)).toHaveLength(11);
    expect(second.body.older).toBeNull();
  });
});

describe('finding a piece by its code', () => {
  beforeEach(stock);

  it('goes to the piece, whatever the case', async () => {
    for (const code of ['B1', 'b1', ' b1 ']) {
      const found = await house.page(`/find?code=${encodeURIComponent(code)}`).expect(303);
      expect(found.headers.location).toBe('/shelf/pieces/B1');
    }
  });

  it('helps where no piece has it', async () => {
    const missing = await house.page('/find?code=%3Cb9%3E').expect(404);
    expect(missing.text).toContain('Nothing here has the code <b>&lt;b9&gt;</b>.');
    expect(missing.text).toContain('href="/shelf/pieces/B5"');
    await house.page('/find').expect(404);
  });
});

describe('the shelf by place', () => {
  it('is empty, then names every piece where it lies, those without a place last', async () => {
    expect((await house.page('/shelf/by-place').expect(200)).text).toContain('Nothing lies on the shelf.');
    await stock();
    const { body } = await house.data('/shelf/by-place').expect(200);
    expect(body.places.at(-1).name).toBe('No place');
    const codes = body.places.flatMap(({ pieces }: { pieces: { code: string }[] }) =>
      pieces.map(({ code }) => code),
    );
    expect(codes).toHaveLength(body.pieces);
    expect(new Set(codes).size).toBe(codes.length);
  });

  it('goes on to another page after 100 pieces, in the midst of a place', async () => {
    await stock();
    house.write((tx) => {
      const { lotId } = makeStock(tx);
      for (let made = 0; made < 220; made += 1) makeBolt(tx, lotId, '1 m');
    });
    const pages = await Promise.all(
      ['', '?page=2', '?page=3'].map(
        async (query) => (await house.data(`/shelf/by-place${query}`).expect(200)).body,
      ),
    );
    const codes = pages.map(({ places }) =>
      places.flatMap(({ pieces }: { pieces: PieceRow[] }) => pieces.map(({ code }) => code)),
    );
    expect(codes.map(({ length: shown }) => shown)).toEqual([100, 100, 25]);
    expect(new Set(codes.flat()).size).toBe(225);
    expect(pages.map(({ pieces, placesInUse }) => [pieces, placesInUse])).toEqual([
      [225, 2],
      [225, 2],
      [225, 2],
    ]);
    expect((await house.page('/shelf/by-place')).text).toContain('href="/shelf/by-place?page=2"');
  });
});

describe('a cloth', () => {
  it('tells of its shades twenty at a time, and of all of them together', async () => {
    const clothId = house.write((tx) => {
      const { clothId } = makeStock(tx);
      for (let made = 0; made < 23; made += 1)
        makeBolt(tx, makeLot(tx, clothId, makeStock(tx).shadeId), '1 m');
      return clothId;
    });
    const path = `/shelf/cloths/${clothId}`;
    const pages = await Promise.all(
      ['', '?page=2'].map(async (query) => (await house.data(`${path}${query}`).expect(200)).body),
    );
    const names = pages.map(({ shades }) => shades.map(({ chip }: { chip: { name: string } }) => chip.name));
    expect(names.map(({ length: shown }) => shown)).toEqual([20, 3]);
    expect(new Set(names.flat()).size).toBe(23);
    expect(pages.map(({ totals }) => [totals.pieces, totals.shades])).toEqual([
      [23, 23],
      [23, 23],
    ]);
    expect((await house.page(path)).text).toContain(`href="${path}?page=2"`);
  });
});

describe('a lot', () => {
  beforeEach(stock);

  it('tells where it came from and what is left of it', async () => {
    const { body } = await house.data('/shelf/lots/L1').expect(200);
    expect(body).toMatchObject({ origin: 'mill', millLot: 'A1', supplier: null, batch: null });
    expect(body.totals).toMatchObject({ pieces: 2, longestFreeTicks: length('50 m') });
    const page = await house.page('/shelf/lots/L1').expect(200);
    for (const text of ['Nylon organza', 'White', 'A1', '50.7 m in 2 pieces'])
      expect(page.text).toContain(text);
  });

  it('says when nothing is left', async () => {
    await house.submit('/shelf/pieces/B4/write-offs', { all: 'yes', why: 'moth' }).expect(303);
    expect((await house.page('/shelf/lots/L3').expect(200)).text).toContain('Nothing of this lot is left.');
  });

  it('is unknown by another code', async () => {
    await house.page('/shelf/lots/L99').expect(404);
  });
});
