import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { wallPage } from '../../../../server/shelf/wall/page.ts';
import { makeBolt, makeLot, makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

type Wall = ReturnType<typeof wallPage>['data'];

async function wall(query = ''): Promise<Wall> {
  return (await house.data(`/shelf/wall${query}`).expect(200)).body;
}

/** A bolt of 5 m in a shade of its own, in the CIELAB colour that is said; none where it is ''. */
function hang(name: string, lab: string): Stock {
  return house.write((tx) => {
    const stock = makeStock(tx);
    const [l, a, b] = lab.split(' ').map(Number);
    const colour = lab === '' ? {} : { lab_l: l, lab_a: a, lab_b: b, lab_how: 'typed' as const };
    tx.run(
      tx.db
        .updateTable('shade')
        .set({ name, ...colour })
        .where('id', '=', stock.shadeId),
    );
    makeBolt(tx, stock.lotId, '5 m');
    return stock;
  });
}

/** Another lot of it with a bolt of 2 m. */
const another = ({ clothId, shadeId }: Stock) =>
  house.write((tx) => {
    const lotId = makeLot(tx, clothId, shadeId);
    makeBolt(tx, lotId, '2 m');
    return lotId;
  });

const codeOf = (lotId: number) => {
  const lot = house.book.first(house.book.db.selectFrom('lot').select('code').where('id', '=', lotId));
  return lot?.code ?? '';
};

async function read(lotId: number, lab: string): Promise<void> {
  const [l = '', a = '', b = ''] = lab.split(' ');
  const reading = { l, a, b, how: 'instrument', viewing: 'D65/10' };
  await house.send(`/shelf/lots/${codeOf(lotId)}/colour`, reading).expect(200);
}

const names = ({ groups }: Wall) =>
  groups.map(({ name, swatches }) => [name, ...swatches.map((swatch) => swatch.name)]);
const swatchesOf = ({ groups }: Wall) => groups.flatMap(({ swatches }) => swatches);

describe('the wall of swatches', () => {
  it('leads to receiving where nothing is on the shelf', async () => {
    house.write((tx) => makeStock(tx));
    const page = await house.page('/shelf/wall').expect(200);
    expect(page.text).toContain('Nothing is on the shelf.');
    expect(page.text).toContain('href="/shelf/receive"');
  });

  it('hangs shades by hue, greys by lightness, and says what has no colour', async () => {
    hang('Unread', '');
    hang('Charcoal', '25 0 1');
    hang('Sky', '75 -10 -20');
    hang('Chalk', '95 0 2');
    hang('Brick', '45 45 35');
    hang('Fern', '50 -30 35');
    expect(names(await wall())).toEqual([
      ['By hue', 'Brick', 'Fern', 'Sky'],
      ['Whites, greys and blacks, light to dark', 'Chalk', 'Charcoal'],
      ['No colour recorded', 'Unread'],
    ]);
  });

  it('tells what is on hand and to spare of each shade in each cloth, and narrows to a cloth', async () => {
    const brick = hang('Brick', '45 45 35');
    const sky = hang('Sky', '75 -10 -20');
    house.write((tx) => makeBolt(tx, makeLot(tx, sky.clothId, brick.shadeId), '3 m'));
    const all = swatchesOf(await wall());
    expect(all.map(({ name, lengths }) => [name, lengths.onHand, lengths.spare])).toEqual([
      ['Brick', '5 m', '5 m'],
      ['Brick', '3 m', '3 m'],
      ['Sky', '5 m', '5 m'],
    ]);
    const one = await wall(`?cloth=${sky.clothId}`);
    expect(swatchesOf(one).map(({ lengths }) => lengths.onHand)).toEqual(['3 m', '5 m']);
    expect(one.list).toBe(`/shelf?cloth=${sky.clothId}`);
    // A cloth that is not offered asks for nothing, one of which nothing is left says so.
    expect(swatchesOf(await wall('?cloth=999'))).toHaveLength(3);
    const bare = house.write((tx) => makeStock(tx));
    const page = await house.page(`/shelf/wall?cloth=${bare.clothId}`).expect(200);
    expect(page.text).toContain('Nothing of this cloth is on the shelf.');
  });

  it('shows lots beside each other in their own colours, light to dark, and how neighbours differ', async () => {
    const grey = hang('Stone', '50 0 0');
    const [dark, unread] = [another(grey), another(grey)];
    await read(grey.lotId, '50.4 0 0');
    await read(dark, '50 0 0');
    const [stone] = swatchesOf(await wall());
    expect(stone?.lots.map(({ code, onHand }) => [code, onHand])).toEqual([
      [codeOf(grey.lotId), '5 m'],
      [codeOf(dark), '2 m'],
      [codeOf(unread), '2 m'],
    ]);
    // #777 is L* 50.0; the other is a step of the screen lighter.
    expect(stone?.lots.map(({ colour }) => colour)).toEqual(['#787878', '#777777', null]);
    // ΔE00 of L* 50.4 and 50: 0.40, as the page of matching lots tells it.
    expect(stone?.pairs.map(({ said }) => said)).toEqual(['may be sewn together', 'not known']);
    expect(stone?.pairs[0]?.sure).toContain('ΔE00 0.40');
    const page = await house.page('/shelf/wall').expect(200);
    expect(page.text).toContain('fill="#787878"');
    expect(page.text).toContain(`href="/shelf/together?cloth=${grey.clothId}&amp;shade=${grey.shadeId}"`);
  });

  it('takes the colour of its lots where a shade has none, and says so', async () => {
    const { lotId } = hang('Unnamed', '');
    await read(lotId, '50 0 0');
    const [swatch] = swatchesOf(await wall());
    expect(swatch).toMatchObject({ colour: '#777777', by: 'lots', group: 'greys' });
    expect((await house.page('/shelf/wall')).text).toContain('The colour is that of its lots.');
  });

  it('counts joined lots as one, and hangs six lots at most', async () => {
    const grey = hang('Stone', '50 0 0');
    const other = another(grey);
    await house
      .send(`/shelf/lots/${codeOf(other)}/joins`, { other: codeOf(grey.lotId), judged: 'eye' })
      .expect(200);
    const [stone] = swatchesOf(await wall());
    expect(stone?.lots.map(({ code, onHand }) => [code, onHand])).toEqual([
      [`${codeOf(grey.lotId)} + ${codeOf(other)}`, '7 m'],
    ]);
    for (let more = 0; more < 7; more += 1) another(grey);
    const [many] = swatchesOf(await wall());
    expect([many?.lots.length, many?.left]).toEqual([6, 2]);
    expect((await house.page('/shelf/wall')).text).toContain('Compare all 8 lots');
  });

  it('goes on after 16 swatches, and asks the book no more for many than for few', async () => {
    const questions = async () => {
      const [all, first] = [vi.spyOn(house.book, 'all'), vi.spyOn(house.book, 'first')];
      const before = all.mock.calls.length + first.mock.calls.length;
      await house.page('/shelf/wall').expect(200);
      return all.mock.calls.length + first.mock.calls.length - before;
    };
    hang('Shade 0', '50 40 0');
    await questions();
    const few = await questions();
    for (let shade = 1; shade < 18; shade += 1) hang(`Shade ${shade}`, `50 40 ${shade}`);
    await questions();
    expect(await questions()).toBe(few);
    expect(swatchesOf(await wall())).toHaveLength(16);
    expect((await wall()).pager.next).toBe('/shelf/wall?page=2');
    expect(swatchesOf(await wall('?page=2')).map(({ name }) => name)).toEqual(['Shade 16', 'Shade 17']);
  });
});
