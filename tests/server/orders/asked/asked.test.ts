import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeStock, NOON, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;
let now = NOON;

beforeEach(async () => {
  now = NOON;
  house = await openTestHouse(() => now);
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Copper Sheers', lead_days: '5' }).expect(200);
});
afterEach(() => house.shut());

const of = () => ({ supplier_id: '1', cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) });
const asked = async () => (await house.data('/orders/asked').expect(200)).body;
const daysOn = (days: number) => new Date(NOON.getTime() + days * 86_400_000);

describe('what a supplier keeps for the workroom', () => {
  const keep = (more: object = {}, status = 200) =>
    house
      .send('/orders/reservations', { ...of(), length: '20', until_on: '2026-03-09', note: 'Lot 9', ...more })
      .expect(status);
  const step = (fields: object, status = 200) =>
    house.send('/orders/reservations/1/steps', { until_on: '', ...fields }).expect(status);

  it('stands with its last day on its page, on Today and beside the days of garments, and says when it runs out', async () => {
    expect((await house.page('/orders/asked').expect(200)).text).toContain('Nothing is reserved for us.');
    await keep();
    const [one] = (await asked()).kept;
    expect(one).toMatchObject({ length: '20 m', until: '9 Mar 2026', left: '7 days left', isNear: false });
    now = daysOn(5);
    expect((await asked()).kept).toMatchObject([{ left: '2 days left', isNear: true }]);
    now = daysOn(7);
    expect((await asked()).kept).toMatchObject([{ left: 'today is the last day' }]);
    now = daysOn(9);
    for (const path of ['/', '/by-when']) {
      const { body } = await house.data(path).expect(200);
      expect(body.kept).toMatchObject([{ left: 'ran out 2 days ago', isNear: true }]);
      expect((await house.page(path).expect(200)).text).toContain('ran out 2 days ago');
    }
  });

  it('is kept longer, ordered, or let go, and taken up again', async () => {
    await keep();
    await step({ step: 'longer', until_on: '2026-03-20' });
    expect((await asked()).kept).toMatchObject([{ until: '20 Mar 2026' }]);
    await step({ step: 'let go' });
    expect(await asked()).toMatchObject({ kept: [], ended: [{ ended: 'let go' }] });
    expect((await house.data('/')).body.kept).toEqual([]);
    await step({ step: 'ordered' }, 409);
    await step({ step: 'again' });
    await step({ step: 'again' }, 409);
    await step({ step: 'ordered' });
    expect((await asked()).ended).toMatchObject([{ ended: 'ordered' }]);
    await house.send('/orders/reservations/9/steps', { step: 'again', until_on: '' }).expect(404);
  });

  it('refuses a day that has gone by, with what was typed', async () => {
    const form = { ...of(), length: '20 m of it', until_on: '2026-03-01', note: '' };
    const refused = await house.submit('/orders/reservations', form).expect(422);
    expect(refused.text).toContain('value="20 m of it"');
    const { body } = await keep({ until_on: '2026-03-01' }, 422);
    expect(body.error.problems).toMatchObject([{ field: 'until_on' }]);
    await keep();
    const late = await house.submit('/orders/reservations/1/steps', {
      step: 'longer',
      until_on: '2026-03-01',
    });
    expect(late.status).toBe(422);
    expect(late.text).toContain('enter today or a day to come');
  });
});

describe('a sample', () => {
  it('is asked for, comes and is judged', async () => {
    expect((await house.page('/orders/asked')).text).toContain('No sample was asked for.');
    await house.send('/orders/samples', { ...of(), asked_on: '2026-02-20', note: 'colour 41' }).expect(200);
    expect((await asked()).samples).toMatchObject([{ asked: '20 Feb 2026', came: '', verdict: '' }]);
    const answer = (fields: object, status = 200) =>
      house
        .send('/orders/samples/1/answers', { came_on: '', verdict: '', note: '', ...fields })
        .expect(status);
    const early = await answer({ came_on: '2026-02-19' }, 422);
    expect(early.body.error.problems).toMatchObject([{ field: 'came_on' }]);
    await answer({ came_on: '2026-03-03' }, 422);
    await answer({ verdict: 'right' }, 409);
    await answer({ came_on: '2026-03-01', verdict: 'not right', note: 'too blue' });
    expect((await asked()).samples).toMatchObject([
      { came: '1 Mar 2026', verdict: 'not right', note: 'too blue' },
    ]);
    await answer({});
    expect((await asked()).samples).toMatchObject([{ came: '', verdict: '' }]);
    await house.send('/orders/samples', { ...of(), asked_on: '2026-03-03' }).expect(422);
    await house.send('/orders/samples/9/answers', { verdict: '' }).expect(404);
  });
});

describe('the lists of what was asked', () => {
  const list = async (name: string) => (await house.data(`/setup/lists/out/${name}.json`).expect(200)).body;

  it('go out with what became of it', async () => {
    await house
      .send('/orders/reservations', { ...of(), length: '20.5', until_on: '2026-03-09', note: 'Lot 9' })
      .expect(200);
    await house.send('/orders/reservations/1/steps', { step: 'let go', until_on: '' }).expect(200);
    expect(await list('reservations')).toMatchObject([
      {
        Supplier: 'Copper Sheers',
        Length: '20.5 m',
        'Kept until': '2026-03-09',
        Ended: 'let go',
        Note: 'Lot 9',
      },
    ]);
    await house
      .send('/orders/samples', { ...of(), shade_id: '', asked_on: '2026-02-20', note: '=1+1' })
      .expect(200);
    await house
      .send('/orders/samples/1/answers', {
        came_on: '2026-03-01',
        verdict: 'not right',
        swatch_id: '',
        note: '=1+1',
      })
      .expect(200);
    expect(await list('samples')).toMatchObject([
      { Shade: 'any', 'Asked on': '2026-02-20', 'Came on': '2026-03-01', Verdict: 'not right', Swatch: '' },
    ]);
    // A cell that a spreadsheet would work out goes out as text.
    const { text } = await house.page('/setup/lists/out/samples.csv').expect(200);
    expect(text).toContain("'=1+1");
  });
});
