import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBalances } from '../../../../server/ledger/check.ts';
import { needsAfresh, readNeeds } from '../../../../server/short/queries.ts';
import { makeBolt, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { makeGarment, makeTierOf, pageOf, problemsOf, stockOf } from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
  await makeTierOf(house, code, stock);
});
afterEach(() => house.shut());

/** Two widths of lining, 40 cm deep, of the garment's own cloth and shade. */
const LINING = { name: 'Lining', pieces: '1', unit: 'cm', cut_depth: '40', widths: '2' };
const send = (path: string, fields: object = {}) => house.send(path, fields);
const keep = (kind: string, fields: object) =>
  send(`/garments/${code}/parts/new/${kind}`, fields).expect(200);
const data = async (path: string) => (await house.data(path).expect(200)).body;
const partOf = async (name = 'Lining') =>
  (await pageOf(house, code)).parts.rows.find((row) => row.name === name);
const tableOf = async (name = 'Lining') => (await partOf(name))?.cuts[0]?.href ?? '';
const shareOf = async () => (await data(`/short?garment=${code}`)).short[0]?.shares[0];

describe('the cloth of a part', () => {
  it('is one need with that of the tiers, and every page tells the same of it', async () => {
    await keep('layer', LINING);
    // Two strips of 30 cm and two of 40 cm, each the whole width: 140 cm.
    const { needs, status, parts } = await pageOf(house, code);
    expect(needs).toMatchObject([{ strips: 4, length: '1.4 m', met: { held: 0, free: 0, short: 4 } }]);
    expect(status).toBe('4 strips: 0 cut, 0 held, 0 free, 4 short.');
    expect(parts.rows[0]?.cuts[0]).toMatchObject({ text: '2 of 40 cm × 147 cm', done: '' });
    // What stands among the needs is not listed as a thing wanted besides them.
    expect(parts.wants).toEqual([]);
    const [line] = (await data('/short')).short;
    expect(line).toMatchObject({ wanted: 4, short: 4, toGet: '1.4 m' });
    expect(line.shares[0]).toMatchObject({
      due: '1 Apr 2026',
      tiers: [
        { name: 'Tier 1', size: '30 cm × 147 cm', strips: 2, short: 2 },
        { name: 'Lining', size: '40 cm × 147 cm', strips: 2, short: 2, href: (await partOf())?.href },
      ],
    });
    const { short: today } = (await data('/')).garments;
    expect(today[0].rows[0]).toMatchObject({ strips: '4 strips', length: '1.4 m' });
    expect((await data(`/garments/${code}/cost`)).sums.rows).toMatchObject([{ plannedLength: '1.4 m' }]);
    expect((await data(`/garments/${code}/sewing`)).cloths).toMatchObject([
      { strips: 4, length: { exact: '1.4 m' } },
    ]);
    expect((await data('/orders/shopping')).rest[0].lengths[0].what).toBe('1.4 m or more');
    expect((await data('/orders/basket')).unmet[0]).toMatch(/: 1\.4 m$/);
    const [garment] = (await data('/cutting-table')).garments;
    expect(garment.tiers).toMatchObject([
      { name: 'Tier 1', isPart: false, wantedStrips: 2, shortStrips: 2 },
      { name: 'Lining', isPart: true, wantedStrips: 2, shortStrips: 2, href: await tableOf() },
    ]);
    expect(readNeeds(house.book)).toEqual(needsAfresh(house.book));
  });

  it('takes what is to spare, and is asked about where somebody would take it', async () => {
    await keep('layer', LINING);
    house.write((tx) => makeBolt(tx, stock.lotId, '1.5 m'));
    const of = { cloth: String(stock.clothId), shade: String(stock.shadeId) };
    const ask = async (asked: string) =>
      (await data(`/take?${new URLSearchParams({ ...of, length: asked })}`)).answer;
    // 1.4 m of the 1.5 m is needed.
    expect((await ask('10 cm')).may).toBe('spare');
    const answer = await ask('60 cm');
    expect(answer.may).toBe('costs');
    expect(answer.lost).toContainEqual({
      text: `${code} Petticoat: Lining would be short of 2 more strips`,
      href: (await partOf())?.href,
    });
    const labels = answer.takings[0].tierHold.fields.tier.options.map(
      ({ label }: { label: string }) => label,
    );
    expect(labels).toEqual([
      `${code} Petticoat, Tier 1: 2 strips to cut`,
      `${code} Petticoat, Lining: 2 strips to cut`,
    ]);
  });

  it('is held and cut for it at the table, told in the ledger, paid by the garment, and undone', async () => {
    await keep('layer', LINING);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '5 m', 5000));
    const table = await tableOf();
    await send(`${table}/holds`, { piece: bolt.code, length: '80 cm' }).expect(200);
    expect((await partOf())?.cuts[0]?.done).toBe('0.8 m held');
    expect(await shareOf()).toBeUndefined();
    expect((await pageOf(house, code)).status).toBe('4 strips: 0 cut, 2 held, 2 free, 0 short.');
    const piece = await house.page(`/shelf/pieces/${bolt.code}`).expect(200);
    expect(piece.text).toContain(`Lining of ${code}`);

    await send(`${table}/cuts`, { piece: bolt.code, strips: '1' }).expect(200);
    expect((await partOf())?.cuts[0]?.done).toBe('1 cut, 0.4 m held');
    expect((await pageOf(house, code)).status).toBe('4 strips: 1 cut, 1 held, 2 free, 0 short.');
    // 40 cm of 5 m for €50.00; what is held carries as much.
    const costs = (await data(`/garments/${code}/cost`)).sums;
    expect([costs.spent, costs.committed]).toEqual(['€4.00', '€4.00']);
    expect(checkBalances(house.book)).toEqual([]);

    const out = await send(`${(await partOf())?.href}/taken-out`).expect(409);
    expect(out.body.error.message).toBe(`Cloth is held for Lining: ${bolt.code}. Release it first.`);
    const finished = await send(`/garments/${code}/finished`).expect(409);
    expect(JSON.stringify(finished.body)).toContain(`"href":"${table}"`);
    await send(`${table}/releases/all`).expect(200);
    const cutOut = await send(`${(await partOf())?.href}/taken-out`).expect(409);
    expect(cutOut.body.error.message).toContain('1 strip is cut for Lining already');

    // Another size is asked for: the page tells what was cut before.
    await send((await partOf())?.href ?? '', { ...LINING, cut_depth: '50' }).expect(200);
    expect((await data(table)).differences.join(' ')).toMatch(
      /Lining: Cut depth 40 cm → 50 cm\. 1 strip of .* cut when 40 cm × 147 cm was wanted/,
    );
    const { requestKey } = (await data(table)).cutsDone[0].entry;
    await send('/undo', { undoes: requestKey }).expect(200);
    expect((await pageOf(house, code)).status).toMatch(/^4 strips: 0 cut/);
    expect(checkBalances(house.book)).toEqual([]);
  });

  it('follows the part: taken out, put back, of another cloth, as many alike', async () => {
    await keep('layer', LINING);
    const { href } = (await partOf()) ?? { href: '' };
    const strips = async () => (await pageOf(house, code)).needs.map((need) => need.strips);
    await send(`${href}/taken-out`).expect(200);
    expect(await strips()).toEqual([2]);
    await send(`${href}/put-back`).expect(200);
    await send(href, { ...LINING, pieces: '3' }).expect(200);
    expect(await strips()).toEqual([8]);
    const other = stockOf(house);
    const cloth = { cloth_id: String(other.clothId), shade_id: String(other.shadeId) };
    await send(href, { ...LINING, ...cloth }).expect(200);
    expect(await strips()).toEqual([2, 2]);
    // Its shade has a letter of its own.
    expect((await pageOf(house, code)).needs.map(({ letter }) => letter)).toEqual(['A', 'B']);
    expect((await pageOf(house, code)).needs[1]?.cloth).toMatch(/^Organza/);
    expect((await data('/short')).short).toHaveLength(2);
    expect(readNeeds(house.book)).toEqual(needsAfresh(house.book));
  });

  it('is not known before the garment has a cloth, and follows its first tier then', async () => {
    code = await makeGarment(house, { name: 'New' });
    await keep('layer', LINING);
    expect((await pageOf(house, code)).needs).toEqual([]);
    expect((await partOf())?.cuts).toEqual([]);
    await makeTierOf(house, code, stock);
    expect((await pageOf(house, code)).needs).toMatchObject([{ strips: 4 }]);
  });

  it('is counted of a flounce, pleats, bias, a repeat, a band and casings, and not of what is bought', async () => {
    const size = async (name: string) => (await partOf(name))?.cuts[0]?.text ?? '';
    const kept = async (kind: string, fields: object) => {
      await keep(kind, { name: kind, pieces: '1', unit: 'cm', ...fields });
      return size(kind);
    };
    const flounce = { seam: '120', depth: '10', circles: '1', join: '0', width: '145' };
    // r = 120 ÷ 2π = 19.1 cm: a ring of 2 × 29.1 cm.
    expect(await kept('flounce', { ...flounce, sectors: '1' })).toBe('1 of ≈ 58.2 cm × ≈ 58.1 cm');
    await keep('flounce', { name: 'Halves', pieces: '1', unit: 'cm', ...flounce, sectors: '2' });
    // Two half rings, each 58.2 cm wide and 29.1 cm high, side by side.
    expect(await size('Halves')).toBe('1 of ≈ 29.1 cm × ≈ 116.3 cm');
    const pleats = { kind: 'knife', finished: '100', closing: 'ring', face: '2', strip: '147', seam: '1' };
    expect(await kept('pleats', pleats)).toBe('');
    await send((await partOf('pleats'))?.href ?? '', {
      ...pleats,
      name: 'pleats',
      pieces: '1',
      unit: 'cm',
      cut_depth: '25',
    }).expect(200);
    // Fifty pleats of 6 cm, 24 to a strip.
    expect(await size('pleats')).toBe('3 of 25 cm × 147 cm');
    // 15 strips of 10 cm × √2 and the end triangles: the published check of 357 cm at 145 cm.
    expect(await kept('bias', { cut: '10', length: '30 m', width: '145', join: '1' })).toBe(
      '1 of ≈ 357.2 cm × 145 cm',
    );
    expect(await kept('repeat', { height: '50', repeat: '20', count: '2' })).toBe('1 of 110 cm × 147 cm');
    const band = { waist: '70', finished: '4', seam: '1' };
    expect(await kept('closing', band)).toBe('1 of 10 cm × 72 cm');
    await keep('closing', { ...band, name: 'Petersham', pieces: '1', unit: 'cm', bought: 'yes' });
    expect(await size('Petersham')).toBe('');
    const cage = { girths: '130, 170', lap: '10', seam: '1', tapes: '0' };
    expect(await kept('cage', cage)).toBe('');
    await keep('cage', { ...cage, name: 'Cased', pieces: '1', unit: 'cm', casing: '5', width: '147' });
    // Casings of 132 and 172 cm; three strips joined give 437 cm, two 292.
    expect(await size('Cased')).toBe('3 of 5 cm × 147 cm');
    expect(checkBalances(house.book)).toEqual([]);
  });

  it('goes by a name that no tier has, nor a tier by one of a part', async () => {
    const named = await send(`/garments/${code}/parts/new/layer`, { ...LINING, name: 'Tier 1' });
    expect(problemsOf(named)).toEqual({ name: `${code} has a tier Tier 1 already.` });
    await keep('layer', LINING);
    await expect(makeTierOf(house, code, stock, { name: 'Lining' })).rejects.toThrow('has a part Lining');
  });

  it('is copied with the garment, under a row of its own', async () => {
    await keep('layer', LINING);
    const copied = await send(`/garments/${code}/copies`, { name: 'Twin' }).expect(200);
    const twin = copied.body.location.split('/').at(-1);
    const { needs, parts } = await pageOf(house, twin);
    expect(needs).toMatchObject([{ strips: 4 }]);
    expect(parts.rows[0]?.cuts[0]?.href).not.toBe(await tableOf());
  });
});
