import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { togetherPage } from '../../../../server/shelf/together/page.ts';
import { makeGarment, makeTierOf } from '../../garments/making.ts';
import { makeBolt, makeLot, makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

/** A cloth and shade in some lots, each with a bolt so long. */
function lotsWith(...lengths: string[]) {
  return house.write((tx) => {
    const stock = makeStock(tx);
    const ids = lengths.map((_, at) => (at === 0 ? stock.lotId : makeLot(tx, stock.clothId, stock.shadeId)));
    ids.map((id, at) => makeBolt(tx, id, lengths[at] ?? ''));
    const codes = ids.map(
      (id) => tx.first(tx.db.selectFrom('lot').select('code').where('id', '=', id))?.code ?? '',
    );
    return { stock, ids, codes };
  });
}

const addressOf = ({ clothId, shadeId }: Stock, garment = '') =>
  `/shelf/together?cloth=${clothId}&shade=${shadeId}${garment === '' ? '' : `&garment=${garment}`}`;

type Shown = ReturnType<typeof togetherPage>['data'];

async function shown(stock: Stock, garment = ''): Promise<Shown> {
  const answer = await house.data(addressOf(stock, garment));
  expect(answer.status).toBe(200);
  return answer.body;
}

function read(code: string, lab: string, more: { viewing?: string; how?: string } = {}) {
  const [l = '', a = '', b = ''] = lab.split(' ');
  return house.send(`/shelf/lots/${code}/colour`, { l, a, b, how: 'instrument', viewing: 'D65/10', ...more });
}

function look(one: string, other: string, verdict: string, more: object = {}) {
  return house.send(`/shelf/together/${one}/${other}`, { verdict, light: 'daylight', state: 'dry', ...more });
}

const groupsOf = (data: Shown) => data.groups.map(({ lots }) => lots.map(({ code }) => code));

describe('which lots may be sewn together', () => {
  it('lists the shades that lie there in more than one lot', async () => {
    const { stock } = lotsWith('3 m', '2 m');
    const single = lotsWith('3 m');
    const { choices } = (await house.data('/shelf/together')).body;
    const hrefs = choices.map(({ href }: { href: string }) => href);
    expect(hrefs).toContain(addressOf(stock));
    expect(hrefs).not.toContain(addressOf(single.stock));
    expect((await house.page(addressOf(single.stock))).text).toContain(
      'Only one lot of this cloth and shade',
    );
    expect((await house.page('/shelf/together?cloth=99999&shade=1')).status).toBe(404);
  });

  it('says that nothing is known before anybody compared them', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m', '1 m');
    const data = await shown(stock);
    expect(data.sure).toBe('Nobody has compared them: 3 pairs of lots.');
    expect(groupsOf(data)).toEqual(codes.map((code) => [code]));
    expect(data.pairs).toHaveLength(3);
    expect(data.pairs[0]).toMatchObject({
      verdict: 'unknown',
      sure: 'Nobody has compared them.',
      differs: '',
    });
    expect(data.chart).toBeNull();
    expect(data.taper).toBe('');
  });

  it('puts lots in groups by readings, with words and a rating, and the taper between groups', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m', '1 m');
    const [a = '', b = '', c = ''] = codes;
    // Neutral steps: ΔE00 of L* 50 and 50.4 is 0.40, of 50 and 47 about 3 (SL is 1 at L* 50).
    await read(a, '50 0 0');
    await read(b, '50.4 0 0');
    await read(c, '47 0 0');
    const data = await shown(stock);
    expect(groupsOf(data)).toEqual([[a, b], [c]]);
    expect(data.groups[0]).toMatchObject({ free: '5 m' });
    expect(data.sure).toBe('3 pairs of lots: 3 by readings. Measured differences are likely within ± 0.7.');
    expect(data.taper).toContain(`${a} + ${b}, then ${c}`);
    const far = data.pairs.find(({ name }) => name === `${a} and ${c}`);
    // ISO 105-A05 of a neutral step of 3 is a grade 3 (2.95 to 4.10).
    expect(far).toMatchObject({ verdict: 'apart', differs: `${c} is darker; grey scale 3.` });
    expect(data.chart?.points).toHaveLength(3);
    expect(data.colours.map(({ lab }) => lab?.[0])).toEqual(['50.0', '50.4', '47.0']);
  });

  it('never compares readings for another observer, and says so', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m');
    await read(codes[0] ?? '', '50 0 0');
    await read(codes[1] ?? '', '50 0 0', { viewing: 'D65/2' });
    const data = await shown(stock);
    expect(data.pairs[0]).toMatchObject({
      verdict: 'unknown',
      sure: 'Not comparable: one is read for D65, 10°, the other for D65, 2°.',
    });
    expect(groupsOf(data)).toHaveLength(2);
  });

  it('takes what an eye saw before any figure, the last time it looked', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m');
    const [one = '', other = ''] = codes;
    await read(one, '50 0 0');
    await read(other, '55 0 0');
    expect((await shown(stock)).pairs[0]).toMatchObject({ verdict: 'apart' });
    expect((await look(other, one, 'may meet', { note: 'Under the lamps, too.' })).body).toMatchObject({
      location: addressOf(stock),
      said: `${other} and ${one} may be sewn together, judged by eye.`,
    });
    const seen = await shown(stock);
    expect(seen.pairs[0]?.sure).toMatch(
      /^Judged by eye in daylight \(.+\)\. Measured: ΔE00 \d\.\d\d, likely within ± 0\.7/,
    );
    expect(groupsOf(seen)).toEqual([[one, other]]);
    await look(one, other, 'apart');
    expect(groupsOf(await shown(stock))).toHaveLength(2);
  });

  it('counts no judgement of wet cloth', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m');
    await look(codes[0] ?? '', codes[1] ?? '', 'may meet', { state: 'wet' });
    expect((await shown(stock)).pairs[0]).toMatchObject({
      verdict: 'unknown',
      sure: 'Judged wet only: judge them dry.',
    });
  });

  it('takes lots that count as one for one', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m', '1 m');
    const [a = '', b = '', c = ''] = codes;
    await house.send(`/shelf/lots/${b}/joins`, { other: a, judged: 'eye', delta: '', join_note: '' });
    await look(b, c, 'may meet');
    const data = await shown(stock);
    expect(data.pairs.map(({ name, verdict }) => [name, verdict])).toEqual([
      [`${a} + ${b} and ${c}`, 'may meet'],
    ]);
  });

  it('tells ending of a lot that was read at both ends', async () => {
    const { stock, ids } = lotsWith('3 m', '2 m');
    house.write((tx) => {
      for (const [place, l] of [
        ['begin', 50],
        ['end', 53],
      ] as const)
        tx.run(
          tx.db.insertInto('colour_reading').values({
            lot_id: ids[0] ?? 0,
            swatch_id: null,
            lab_l: l,
            lab_a: 0,
            lab_b: 0,
            illuminant: 'D65',
            observer: '10',
            how: 'instrument',
            uncertainty_centi: 50,
            state: 'dry',
            layers: null,
            backing: null,
            place,
            note: '',
            read_on: '2026-03-02',
            at: tx.at,
            person_id: 1,
            request_key: tx.requestKey,
          }),
        );
    });
    const data = await shown(stock);
    expect(data.shading).toHaveLength(1);
    expect(data.shading[0]).toContain('is not of one colour along its length (ending): ΔE00');
  });

  it('says which lots serve a garment with least cloth', async () => {
    const { stock, codes } = lotsWith('0.7 m', '0.7 m', '5 m');
    const [a = '', b = '', c = ''] = codes;
    const garment = await makeGarment(house);
    // 95 cm × 3 = 285 cm in strips of 145 cm: two, each 30 cm deep.
    await makeTierOf(house, garment, stock);
    await look(a, b, 'may meet');
    await look(a, c, 'apart');
    const { need } = await shown(stock, garment);
    expect(need).toMatchObject({
      garment: { code: garment },
      rule: expect.stringContaining('One lot is asked for'),
    });
    expect(need?.sets.map(({ gives }) => gives)).toEqual(need?.sets.map(() => 'all'));
    expect(need?.sets[0]).toMatchObject({ isBest: true });
    expect(need?.sets.map(({ lots }) => lots)).toContain(c);
    // A garment that wants none of it is not asked.
    const other = lotsWith('1 m', '1 m');
    expect((await shown(other.stock, garment)).need).toBeNull();
  });
});

describe('where lots are chosen', () => {
  it('is told in one line how sure it is that they match', async () => {
    const { stock, codes } = lotsWith('70 cm', '70 cm', '70 cm');
    const [a = '', b = '', c = ''] = codes;
    const garment = await makeGarment(house);
    await makeTierOf(house, garment, stock, { depth: '60' });
    await look(a, b, 'may meet');
    const said = `${a} + ${b} may be sewn together; ${c} goes by itself. 3 pairs of lots: 1 judged by eye and 2 not compared.`;
    const short = (await house.data(`/short?garment=${garment}`)).body.short[0];
    expect(short.shares[0]).toMatchObject({ together: said, togetherHref: addressOf(stock, garment) });
    const plan = (await house.data(`/cutting-table/${garment}/plan`)).body.needs[0];
    expect(plan).toMatchObject({ together: said });
    const { clothId, shadeId } = stock;
    const strips = `/take?cloth=${clothId}&shade=${shadeId}&strips=3&depth=60cm&strip_length=140cm&lots=any`;
    expect((await house.data(strips)).body.answer).toMatchObject({ together: said });
    expect((await house.data(`/shelf/lots/${c}`)).body.others.sure).toBe(
      'Nobody has compared them: 2 pairs of lots.',
    );
  });

  it('is told of what came against what lies there', async () => {
    const { stock, codes } = lotsWith('3 m');
    const row = {
      cloth_id: String(stock.clothId),
      shade_id: String(stock.shadeId),
      length: '2',
      mill_lot: 'K-7',
    };
    const came = await house.send('/shelf/receipts', { pieces: [row] });
    expect(came.body).toMatchObject({ said: expect.any(String) });
    const { together } = (await house.data(came.body.location)).body;
    expect(together).toHaveLength(1);
    expect(together[0].said).toContain(`${codes[0]} and `);
    expect(together[0].said).toContain('are not known to match. Nobody has compared them.');
  });
});

describe('judging two lots by eye', () => {
  it('keeps what was typed where something is wrong', async () => {
    const { codes } = lotsWith('3 m', '2 m');
    const answer = await house
      .submit(`/shelf/together/${codes[0]}/${codes[1]}`, {
        verdict: '',
        light: '',
        state: 'dry',
        note: 'kept',
      })
      .redirects(1);
    expect(answer.status).toBe(422);
    expect(answer.text).toContain('value="kept"');
    expect(answer.text).toContain('Please fix 2 things');
  });

  it('knows only two different lots, and can be undone', async () => {
    const { stock, codes } = lotsWith('3 m', '2 m');
    const [one = '', other = ''] = codes;
    expect((await house.page(`/shelf/together/${one}/${one}`)).status).toBe(404);
    expect((await house.page(`/shelf/together/${one}/nobody`)).status).toBe(404);
    await look(one, other, 'may meet');
    const { request_key: undoes } = house.book.first(
      house.book.db.selectFrom('pair_judgement').select('request_key').orderBy('id', 'desc').limit(1),
    ) ?? { request_key: '' };
    expect((await house.send('/undo', { undoes })).status).toBe(200);
    expect((await shown(stock)).pairs[0]).toMatchObject({ verdict: 'unknown' });
  });
});
