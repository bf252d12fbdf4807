import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { garmentDaysPage } from '../../../server/by-when/garment-page.ts';
import { LAWFUL } from '../../migrations/rows.ts';
import { makeGarment, makeTierOf, pageOf, problemsOf, tierFields } from '../garments/making.ts';
import { length, makeBolt, makeStock, openTestHouse, type Stock, type TestHouse } from '../support.ts';

// Monday 2 March 2026. The expected days are counted on a calendar, by hand.
const WEEK = { mon: 'yes', tue: 'yes', wed: 'yes', thu: 'yes', fri: 'yes' };
const DAYS = { drying: '1', swatch: '2', receiving: '1', spare: '3', finishing: '1' };

let house: TestHouse;
let stock: Stock;
beforeAll(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => {
    const made = makeStock(tx);
    makeBolt(tx, made.lotId, '10 m');
    return made;
  });
});
afterAll(() => house.shut());

type DaysPage = ReturnType<typeof garmentDaysPage>['data'];
const daysOf = async (code: string): Promise<DaysPage> =>
  (await house.data(`/garments/${code}/by-when`).expect(200)).body;
const lastDays = async (code: string) =>
  Object.fromEntries((await daysOf(code)).rows.map(({ step, last }) => [step, last]));
const said = (answer: { body: { said?: string } }) => answer.body.said;

describe('before anything is said', () => {
  it('a garment without a due day says so, and one with a day counts a day for each step', async () => {
    const loose = await makeGarment(house, { due_on: '' });
    expect((await daysOf(loose)).rows).toEqual([]);
    const html = await house.page(`/garments/${loose}/by-when`).expect(200);
    expect(html.text).toContain('No due day is set.');
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock);
    const page = await daysOf(code);
    expect(page.rows.map(({ step, last }) => [step, last])).toEqual([
      ['Cut', '27 Mar 2026'],
      ['Sew', '30 Mar 2026'],
      ['Last fitting', '31 Mar 2026'],
      ['Due', '1 Apr 2026'],
    ]);
    expect(page.notes.map(({ text }) => text).join(' ')).toMatch(
      /cutting is counted as one day.*sewing is counted/,
    );
    await house.send(`/garments/${code}/finished`, {}).expect(200);
    expect((await daysOf(code)).finished).toBe(true);
    expect((await house.send(`/garments/${code}/by-when/taps`, { work: 'sew', tap: 'done' })).status).toBe(
      409,
    );
  });
});

describe('days and hours', () => {
  it('refuse what cannot be, each at its field, and keep what was typed', async () => {
    const sent = await house.send('/by-when/hours', { ...DAYS, table: '3 yards', strips: '0', drying: '61' });
    expect(sent.status).toBe(422);
    expect(problemsOf(sent)).toMatchObject({
      table: 'Enter hours, such as 6, 6.5, 6:30 or 45 min.',
      strips: expect.any(String),
      drying: expect.any(String),
    });
    const never = await house.send('/by-when/hours', { ...DAYS });
    expect(problemsOf(never)).toEqual({ mon: 'Choose at least one day on which you are open.' });
    const redrawn = await house.submit('/by-when/closed-days', {
      from: '2026-03-27',
      to: '2026-03-26',
      why: 'Autumn fair',
      person_id: '',
    });
    expect(redrawn.status).toBe(422);
    expect(redrawn.text).toContain('To: enter a day that is not before the first.');
    expect(redrawn.text).toContain('value="Autumn fair"');
  });

  it('are kept and shown again', async () => {
    const sent = await house.send('/by-when/hours', { ...WEEK, ...DAYS, table: '1', strips: '2', baths: '' });
    expect(said(sent)).toBe('Days and hours of the workroom are changed.');
    await house.send('/by-when/people', { person_1: '4:30' }).expect(200);
    await house.send('/by-when/people', { person_1: '5' }).expect(200);
    const { body } = await house.data('/by-when/hours');
    expect(body.fields.table.value).toBe('1');
    expect(body.people[0].value).toBe('5');
    expect(body.week.map(({ checked }: { checked: boolean }) => checked)).toEqual([
      true,
      true,
      true,
      true,
      true,
      false,
      false,
    ]);
  });
});

describe('the last days of a garment', () => {
  let code: string;
  beforeAll(async () => {
    code = await makeGarment(house, { name: 'Overskirt' });
    await makeTierOf(house, code, stock);
    await house.send(`/garments/${code}/by-when`, { sewing: '10', fitting: '' }).expect(200);
  });

  it('go back from the due day by hours over open days', async () => {
    expect(await lastDays(code)).toEqual({
      Cut: '26 Mar 2026',
      Sew: '27 Mar 2026 to 30 Mar 2026',
      'Last fitting': '31 Mar 2026',
      Due: '1 Apr 2026',
    });
    expect((await pageOf(house, code)).next).toMatchObject({
      text: 'Begin cutting by 26 Mar 2026',
      when: 'in 24 days',
      late: '',
    });
  });

  it('move with a closed day, for all or for one person, and back again', async () => {
    await house.send('/by-when/closed-days', { from: '2026-03-27', to: '', why: 'Fair', person_id: '1' });
    expect(await lastDays(code)).toMatchObject({ Cut: '25 Mar 2026', Sew: '26 Mar 2026 to 30 Mar 2026' });
    const { body } = await house.data('/by-when/hours');
    await house.send(body.closed[0].remove, {}).expect(200);
    expect((await lastDays(code)).Cut).toBe('26 Mar 2026');
    expect((await house.send(body.closed[0].remove, {})).status).toBe(404);
  });

  it('make room for other garments that are due', async () => {
    const other = await makeGarment(house, { name: 'Cape', due_on: '2026-03-31' });
    await makeTierOf(house, other, stock, { depth: '31' });
    await house.send(`/garments/${other}/by-when`, { sewing: '5', fitting: '' }).expect(200);
    // Alone it would be sewn on the 27th; that day the overskirt needs, which takes two.
    expect((await lastDays(other)).Sew).toBe('26 Mar 2026');
    expect((await lastDays(code)).Sew).toBe('27 Mar 2026 to 30 Mar 2026');
    await house.send(`/garments/${other}/finished`, {}).expect(200);
  });

  it('end with the fitting that was agreed, which is not after the due day', async () => {
    const late = await house.send(`/garments/${code}/by-when`, { sewing: '10', fitting: '2026-04-02' });
    expect(problemsOf(late).fitting).toBe('Enter a day up to 1 Apr 2026, when it is due.');
    await house.send(`/garments/${code}/by-when`, { sewing: '10', fitting: '2026-03-20' }).expect(200);
    expect(await lastDays(code)).toMatchObject({
      Sew: '18 Mar 2026 to 19 Mar 2026',
      'Last fitting': '20 Mar 2026',
    });
    await house.send(`/garments/${code}/by-when`, { sewing: '10', fitting: '' }).expect(200);
  });

  it('tell how late it is at least', async () => {
    await house.send(`/garments/${code}/by-when`, { sewing: '200', fitting: '' }).expect(200);
    // Cut on 2 March, forty days of sewing from the 3rd to 27 April, fitted on the 28th, ready on the 29th.
    expect((await daysOf(code)).next?.late).toBe('at least 28 days late, soonest ready 29 Apr 2026');
    expect((await daysOf(code)).late).toMatch(/^It cannot be ready by 1 Apr 2026\./);
    await house.send(`/garments/${code}/by-when`, { sewing: '10', fitting: '' }).expect(200);
  });

  it('leave out what is tapped as done', async () => {
    const tap = (work: string, what: string) =>
      house.send(`/garments/${code}/by-when/taps`, { work, tap: what }).expect(200);
    await tap('cut', 'begun');
    expect((await daysOf(code)).next?.text).toBe('Cut the last strip by 26 Mar 2026');
    await tap('sew', 'done');
    expect(Object.keys(await lastDays(code))).toEqual(['Cut', 'Last fitting', 'Due']);
    await tap('sew', 'begun');
    expect(Object.keys(await lastDays(code))).toContain('Sew');
    await tap('sew', 'left');
    expect((await house.send(`/garments/${code}/by-when/taps`, { work: 'nap', tap: 'done' })).status).toBe(
      422,
    );
  });
});

describe('cloth that has to come', () => {
  it('is ordered by the supplier’s days and days to spare before it is cut', async () => {
    const bare = house.write((tx) => {
      const made = makeStock(tx);
      const supplier = tx.run(tx.db.insertInto('supplier').values({ name: 'Weaver', lead_days: 9 })).lastId;
      tx.run(tx.db.updateTable('cloth').set({ supplier_id: supplier }).where('id', '=', made.clothId));
      return made;
    });
    const code = await makeGarment(house, { name: 'Collar' });
    await makeTierOf(house, code, bare);
    await house.send(`/garments/${code}/by-when`, { sewing: '5', fitting: '' }).expect(200);
    const page = await daysOf(code);
    // Cut and sewn before the fitting on 31 March with the overskirt; inspected the open day before it is cut, and 12 days for delivery.
    const { Cut = '', 'Order cloth': order = '' } = await lastDays(code);
    const cutOn = Date.parse(`${Cut} UTC`);
    const open = new Date(cutOn).getUTCDay() === 1 ? 3 : 1;
    expect((cutOn - Date.parse(`${order} UTC`)) / 86_400_000).toBeGreaterThanOrEqual(12 + open);
    expect(page.next?.text).toBe(`Order cloth by ${order}`);
    expect(page.notes[0]?.text).toBe('Weaver delivers in 9 days; 3 days to spare, as it has no record yet.');
  });
});

describe('cloth on order', () => {
  it('is waited for as far as the garment needs it, with the days to spare and a day to receive it', async () => {
    const bare = house.write((tx) => {
      const made = makeStock(tx);
      const supplier = tx.run(tx.db.insertInto('supplier').values({ name: 'Dyer', lead_days: 9 })).lastId;
      for (const [code, expected, text] of [
        ['O1', '2026-03-09', '1 m'],
        ['O2', '2026-03-30', '40 m'],
      ] as const) {
        const sent = { drafted_at: tx.at, sent_at: tx.at, closed_at: null, cancelled_at: null };
        const order = tx.run(
          tx.db.insertInto('order').values({ code, supplier_id: supplier, expected_on: expected, ...sent }),
        );
        tx.run(
          tx.db.insertInto('order_line').values({
            order_id: order.lastId,
            cloth_id: made.clothId,
            shade_id: made.shadeId,
            length_ticks: length(text),
            price_minor: null,
            price_ticks: null,
            typed: '{}',
          }),
        );
      }
      return made;
    });
    const code = await makeGarment(house, { name: 'Bib', due_on: '2026-05-15' });
    const tierId = await makeTierOf(house, code, bare);
    await house.send(`/garments/${code}/by-when`, { sewing: '5', fitting: '' }).expect(200);
    const soon = await daysOf(code);
    // Monday the 9th, three days to spare, then the open day after: Friday the 13th.
    expect(soon.rows[0]).toMatchObject({ step: 'Cut', soonest: '13 Mar 2026' });
    expect(soon.notes.map(({ link }) => link)).toEqual(['O1']);
    expect(soon.next?.text).toMatch(/^Receive O1, then begin cutting by /);
    // Ten times as deep: the second order has to come, too.
    const { version } = (await house.data(`/garments/${code}/tiers/${tierId}`)).body;
    const deeper = await house.send(`/garments/${code}/tiers/${tierId}`, {
      ...tierFields(bare, { depth: '90' }),
      version: String(version ?? ''),
    });
    expect(deeper.status).toBe(200);
    const later = await daysOf(code);
    expect(later.rows[0]).toMatchObject({ step: 'Cut', soonest: '3 Apr 2026' });
    expect(later.notes.map(({ link }) => link)).toEqual(['O1', 'O2']);
    await house.send(`/garments/${code}/finished`, {}).expect(200);
  });
});

describe('a shade that has to be dyed', () => {
  it('is swatched, dyed and dried before it is cut, a bath for each shade until a batch is planned', async () => {
    const wanted = house.write((tx) => {
      const ground = makeStock(tx, { ground: true });
      makeBolt(tx, ground.lotId, '10 m');
      const { shadeId } = makeStock(tx);
      tx.run(tx.db.insertInto('vessel').values({ name: 'Pot', volume_ml: 20_000, pots: 1 }));
      return { clothId: ground.clothId, shadeId };
    });
    const code = await makeGarment(house, { name: 'Sash', due_on: '2026-04-15' });
    await makeTierOf(house, code, wanted);
    await house.send(`/garments/${code}/by-when`, { sewing: '5', fitting: '' }).expect(200);
    const page = await daysOf(code);
    expect(page.rows.map(({ step, last }) => [step, last])).toEqual([
      ['Swatch', '7 Apr 2026 to 8 Apr 2026'],
      ['Dye', '9 Apr 2026'],
      ['Cut', '10 Apr 2026'],
      ['Sew', '13 Apr 2026'],
      ['Last fitting', '14 Apr 2026'],
      ['Due', '15 Apr 2026'],
    ]);
    expect(page.next?.text).toBe('Dye a swatch by 7 Apr 2026');
    expect(page.notes.map(({ text }) => text).join(' ')).toContain(
      'one bath is counted for each cloth and shade',
    );
    await house.send('/by-when/hours', { ...WEEK, ...DAYS, drying: '4', table: '1', strips: '2', baths: '' });
    expect((await lastDays(code)).Dye).toBe('6 Apr 2026');
    await house.send(`/garments/${code}/by-when/taps`, { work: 'swatch', tap: 'done' }).expect(200);
    expect((await daysOf(code)).next?.text).toBe('Begin dyeing by 6 Apr 2026');
  });

  it('has its swatch where one is approved at the dye bench, which nobody types again', async () => {
    const { lotId, ...wanted } = house.write((tx) => {
      const ground = makeStock(tx, { ground: true });
      makeBolt(tx, ground.lotId, '10 m');
      return { clothId: ground.clothId, lotId: ground.lotId, shadeId: makeStock(tx).shadeId };
    });
    const code = await makeGarment(house, { name: 'Cape', due_on: '2026-04-15' });
    await makeTierOf(house, code, wanted);
    const steps = async () => (await daysOf(code)).rows.map(({ step }) => step);
    const swatch = async () => (await daysOf(code)).works.find(({ work }) => work === 'swatch');
    expect(await steps()).toContain('Swatch');
    expect((await swatch())?.state).toBe('');
    const judge = house.write((tx) => {
      const recipe = {
        ...LAWFUL.recipe,
        name: 'Cape blue',
        version: 1,
        follows_id: null,
        shade_id: wanted.shadeId,
      };
      const recipeId = tx.run(tx.db.insertInto('recipe').values(recipe as never)).lastId;
      const job = { ...LAWFUL.swatch_job, code: 'T77', lot_id: lotId };
      const jobId = tx.run(tx.db.insertInto('swatch_job').values(job as never)).lastId;
      const one = { ...LAWFUL.swatch, job_id: jobId, recipe_id: recipeId };
      return tx.run(tx.db.insertInto('swatch').values(one as never)).lastId;
    });
    const say = (verdict: string | null) =>
      house.write((tx) => {
        const result = { ...LAWFUL.swatch_result, swatch_id: judge, reading_id: null, verdict };
        tx.run(tx.db.insertInto('swatch_result').values(result as never));
      });
    say('adjusted');
    expect(await steps()).toContain('Swatch');
    say('approved');
    expect(await steps()).not.toContain('Swatch');
    expect(await swatch()).toMatchObject({
      state: expect.stringMatching(/^approved: Shade \d+$/),
      offers: [],
    });
    // Looked at again without a judgement, it stays approved; judged anew, it does not.
    say(null);
    expect(await steps()).not.toContain('Swatch');
    say('given up');
    expect(await steps()).toContain('Swatch');
  });
});

/** A metre a minute, once. */
const RATE = { rate: '1', stitch: '', measured: '', stitches: '', thickness: '', stitch_width: '' };

describe('what is sewn on and has to be ordered', () => {
  const offered = async (fields: object) => {
    const { body } = await house
      .send('/supplies/new', { kind: 'notion', measure: 'count', ...fields })
      .expect(200);
    return Number(/\d+$/.exec(body.location)?.[0]);
  };

  it('has a day to order by of its own, before sewing, until it is on the shelf', async () => {
    await house.send('/orders/suppliers', { name: 'Notions North', lead_days: '5' }).expect(200);
    const supplier = house.book.first(
      house.book.db.selectFrom('supplier').select('id').where('name', '=', 'Notions North'),
    );
    const hooks = await offered({ name: 'Hooks', supplier_id: String(supplier?.id) });
    const code = await makeGarment(house, {
      name: 'Opened',
      due_on: '2026-04-15',
      opening: '25',
      fastener: '5',
    });
    await makeTierOf(house, code, stock);
    await house.send(`/garments/${code}/by-when`, { sewing: '5', fitting: '' }).expect(200);
    const page = await daysOf(code);
    const last = Object.fromEntries(page.rows.map(({ step, last: by }) => [step, by]));
    // 5 days and 3 to spare bring it on Saturday 11 April, and it is sewn on from Monday on.
    expect(last).toMatchObject({
      'Order supplies': '3 Apr 2026',
      'Supplies delivered': '13 Apr 2026',
      Sew: '13 Apr 2026',
    });
    expect(page.rows.find(({ step }) => step === 'Order supplies')?.work).toBe('Hooks');
    expect(page.next?.text).toBe('Order supplies by 3 Apr 2026');
    const notes = page.notes.map(({ text }) => text);
    expect(notes).toContain(
      'Hooks: order it by 3 Apr 2026 from Notions North, which delivers in 5 days, with 3 to spare.',
    );
    // A supplier that is ten days late moves it.
    const moved = await house.data(`/by-when?supplier=${supplier?.id}&days=10`).expect(200);
    expect(moved.body.change.rows[0]).toMatchObject({ code, is: 'Order supplies by 25 Mar 2026' });
    await house.send('/supplies/receive', { rows: [{ supply_id: String(hooks), amount: '6' }] }).expect(200);
    expect((await daysOf(code)).rows.map(({ step }) => step)).not.toContain('Order supplies');
  });

  it('of which nobody has said when it comes is told and not counted', async () => {
    const code = await makeGarment(house, { name: 'Edged', due_on: '2026-04-15' });
    await makeTierOf(house, code, stock);
    await offered({ name: 'Silk fringe', kind: 'trim', measure: 'length' });
    const trim = { name: 'Silk fringe', pieces: '1', unit: 'cm', edge: '300', fullness: '1', edges: '1' };
    await house.send(`/garments/${code}/parts/new/trim`, trim).expect(200);
    const page = await daysOf(code);
    expect(page.rows.map(({ step }) => step)).not.toContain('Order supplies');
    expect(page.notes.map(({ text }) => text)).toContain(
      'Silk fringe: nobody has said in how many days it comes, so its delivery is not counted.',
    );
  });

  it('takes its minutes with the tiers where it is a part', async () => {
    const code = await makeGarment(house, { name: 'Lined', due_on: '2026-04-15' });
    await makeTierOf(house, code, stock);
    for (const job of ['plain', 'narrow', 'gathering', 'attaching'])
      await house
        .send(`/setup/rates/${job}`, { ...RATE, passes: job === 'gathering' ? '2' : '1' })
        .expect(200);
    const minutes = async () => (await daysOf(code)).rows.find(({ step }) => step === 'Sew')?.work;
    const before = await minutes();
    const trim = { name: 'Cord', pieces: '2', unit: 'm', edge: '60', fullness: '1', edges: '1' };
    await house.send(`/garments/${code}/parts/new/trim`, trim).expect(200);
    // 2 × 60 m at 1 m a minute.
    expect([before, await minutes()]).toEqual([expect.stringMatching(/^\d+ min$/), addHours(before, 2)]);
  });
});

function addHours(said: string | undefined, hours: number): string {
  return `${hours} h ${said}, parts included`;
}
