import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { CONE, makeGarment, makeTierOf, pageOf, problemsOf, stockOf, workedOf } from '../making.ts';
import { CAGE } from './cage.ts';

let house: TestHouse;
let stock: Stock;
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterAll(() => house.shut());

const keep = (code: string, kind: string, fields: object) =>
  house.send(`/garments/${code}/parts/new/${kind}`, fields);
const rowsOf = async (code: string) => (await pageOf(house, code)).parts.rows;
const wantsOf = async (code: string) =>
  (await pageOf(house, code)).parts.wants.map(({ what, text, of }) => [what, text, of]);

describe('a part of a garment', () => {
  it('is kept, worked out again, listed with what it wants, and printed with what was asked', async () => {
    const code = await makeGarment(house);
    expect(await rowsOf(code)).toEqual([]);
    expect((await keep(code, 'cage', CAGE)).status).toBe(200);
    const [row] = await rowsOf(code);
    expect(row).toMatchObject({ name: 'Cage', kind: 'Hoops', pieces: 1 });
    expect(row?.brief).toContain('Steel 358 in');
    // 358 in of steel, 342 + 4 in of casing, 8 tapes of 42 in: 9.09, 8.79 and 8.53 m, rounded up.
    expect(await wantsOf(code)).toEqual([
      ['Steel', expect.stringContaining('9.1 m'), 'Cage'],
      ['Casing', expect.stringContaining('8.79 m'), 'Cage'],
      ['Tape', expect.stringContaining('8.54 m'), 'Cage'],
    ]);
    const book = (await house.page(`/garments/${code}/book`).expect(200)).text;
    expect(book).toContain('Girths of the hoops');
    expect(book).toContain('51, 74, 97, 120 in');
    expect(book).toContain('Cage: Steel 358 in');
  });

  it('begins with what the garment says: its waist, opening and hoops, or the lengths of a tier', async () => {
    const code = await makeGarment(house, {
      girths: [
        { drop: '0', girth: '70' },
        { drop: '90', width: '90' },
      ],
      opening: '24',
      fastener: '6',
      over: '100',
    });
    const band = (await house.data(`/garments/${code}/parts/new/closing`).expect(200)).body;
    const fields = band.groups.flatMap(
      (group: { fields: { name: string; value: string }[] }) => group.fields,
    );
    const value = (name: string) => fields.find((field: { name: string }) => field.name === name).value;
    expect([value('waist'), value('opening'), value('spacing'), value('pull_over')]).toEqual([
      '70',
      '24',
      '6',
      '100',
    ]);
    // A band of 70 cm and an opening of 24 cm open to 118 cm.
    expect(band.answer.warnings).toEqual([]);
    const cage = (await house.data(`/garments/${code}/parts/new/cage`).expect(200)).body;
    // A round hoop of 90 cm is 282.74 cm round.
    expect(cage.groups[0].fields[0].value).toMatch(/^282[.]7/);

    const tierId = await makeTierOf(house, code, stock);
    const plan = (await house.data(`/garments/${code}/parts/new/gathering?tier=${tierId}`).expect(200)).body;
    const tier = workedOf((await pageOf(house, code)).tiers[0] as never);
    expect(`${plan.groups[0].fields[1].value} cm`).toBe(tier.finishedLength);
    expect(plan.answer).not.toBeNull();
  });

  it('says in a warning slip what does not pass, where it is shown and on paper', async () => {
    const code = await makeGarment(house);
    const tight = { name: 'Band', pieces: '1', unit: 'cm', waist: '70', finished: '4', pull_over: '100' };
    await keep(code, 'closing', tight);
    const [row] = await rowsOf(code);
    expect(row?.warnings[0]).toMatch(/^It does not pass: 70 cm of band/);
    const page = (await house.page(`/garments/${code}/book`).expect(200)).text;
    expect(page).toMatch(/class="[^"]*slip[^"]*warn[\s\S]*It does not pass/);
    const listed = (await house.page(`/garments/${code}`).expect(200)).text;
    // Above what folds away on a phone.
    expect(listed).toMatch(/Band: It does not pass[\s\S]*<details class="fold-on-phone/);
    // Elastic stretches over, and its casing is as long as what it must pass.
    await keep(code, 'closing', { ...tight, name: 'Elastic', reduction: '10 %' });
    expect((await rowsOf(code))[1]?.warnings).toEqual([]);
  });

  it('counts pieces alike, adds up what is alike, and leaves what closes the opening to the garment', async () => {
    const code = await makeGarment(house, { opening: '25', fastener: '5' });
    const trim = { pieces: '3', unit: 'cm', edge: '200', fullness: '1', edges: '1' };
    await keep(code, 'trim', { ...trim, name: 'Lace' });
    await keep(code, 'closing', {
      name: 'Band',
      pieces: '1',
      unit: 'cm',
      waist: '70',
      finished: '4',
      opening: '25',
      spacing: '5',
    });
    const gathering = { pieces: '1', unit: 'cm', flat: '300', finished: '100', rows: '2', most: '300' };
    await keep(code, 'gathering', { ...gathering, name: 'One' });
    await keep(code, 'gathering', { ...gathering, name: 'Two' });
    // Rows × (flat × 2.5 + 2 × 10 cm × 4 sections): 2 × (750 + 80) cm, twice.
    expect(await wantsOf(code)).toEqual([
      ['Hooks', '6 pieces', 'Opening'],
      ['Lace', '6 m', 'Lace × 3'],
      ['Band, cut 70 cm × 8 cm', '1 piece', 'Band'],
      ['Gathering thread', '33.2 m', 'One and Two'],
    ]);
  });

  it('is changed, taken out, put back, copied, and not by two people at once', async () => {
    const code = await makeGarment(house);
    await keep(code, 'cage', CAGE);
    const href = (await rowsOf(code))[0]?.href ?? '';
    const wider = { ...CAGE, girths: '51, 74, 97, 130', version: '1' };
    expect((await house.send(href, wider)).status).toBe(200);
    expect((await rowsOf(code))[0]?.brief).toContain('Steel 368 in');
    expect((await house.send(href, wider)).status).toBe(409);
    expect((await house.send(`${href}/taken-out`, {})).status).toBe(200);
    expect((await pageOf(house, code)).parts).toMatchObject({ rows: [], takenOut: [{ name: 'Cage' }] });
    expect((await house.send(`${href}/taken-out`, {})).status).toBe(409);
    expect((await house.send(`${href}/put-back`, {})).status).toBe(200);
    expect((await house.send(`${href}/put-back`, {})).status).toBe(409);
    const copied = await house.send(`/garments/${code}/copies`, { name: 'Twin' });
    expect((await rowsOf(copied.body.location.split('/').at(-1)))[0]?.brief).toContain('Steel 368 in');
  });

  it('is refused at its fields, and what cannot be worked out is not kept', async () => {
    const code = await makeGarment(house);
    const both = await keep(code, 'cage', { ...CAGE, hem: '92' });
    expect(both.status).toBe(422);
    expect(problemsOf(both)).toEqual({ hem: 'Give the girths or the hem, not both.' });
    expect(problemsOf(await keep(code, 'cage', { ...CAGE, name: '', tapes: 'many' }))).toHaveProperty('name');
    expect(await rowsOf(code)).toEqual([]);
    await keep(code, 'cage', CAGE);
    expect(problemsOf(await keep(code, 'cage', CAGE))).toEqual({ name: `${code} has a part Cage already.` });
    expect((await keep(code, 'collar', CAGE)).status).toBe(404);
    expect((await house.data(`/garments/${code}/parts/999`)).status).toBe(404);
    const tried = await keep(code, 'trim', { ...CAGE, act: 'work-out' });
    expect(problemsOf(tried)).toHaveProperty('edge');
  });

  it('stays as it is with a finished garment', async () => {
    const code = await makeGarment(house, CONE);
    await keep(code, 'cage', CAGE);
    await house.send(`/garments/${code}/finished`, {});
    expect((await keep(code, 'cage', { ...CAGE, name: 'Other' })).status).toBe(409);
    const { parts } = await pageOf(house, code);
    expect([parts.add, parts.rows[0]?.takeOut]).toEqual([null, null]);
    const page = (await house.page(parts.rows[0]?.href ?? '').expect(200)).text;
    expect(page).not.toContain('name="girths"');
  });
});

describe('a part on paper', () => {
  it('repeats what was asked', async () => {
    const page = await house.page(
      '/garments/parts/bias?cut=10&length=30+m&width=145&join=1&pieced=yes&unit=cm',
    );
    const asked = /<section class="print-only"><h2>Given<\/h2>(.*?)<\/section>/s.exec(page.text)?.[1] ?? '';
    for (const text of ['Cut width', '10 cm', '30 m', '145 cm', 'yes']) expect(asked).toContain(text);
  });
});
