import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NearShade } from '../../../../server/shelf/shade/nearest.ts';
import { makeBolt, makeLot, makeStock, newKey, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let codes: string[];
beforeAll(async () => {
  house = await openTestHouse();
  codes = house.write((tx) => {
    const { clothId, shadeId, lotId } = makeStock(tx);
    const ids = [lotId, makeLot(tx, clothId, shadeId)];
    for (const id of ids) makeBolt(tx, id, '3 m');
    return ids.map((id) => tx.first(tx.db.selectFrom('lot').select('code').where('id', '=', id))?.code ?? '');
  });
});
afterAll(() => house.shut());

const PLAIN = {
  how: 'instrument',
  viewing: 'D65/10',
  state: 'dry',
  sure: '',
  layers: '',
  backing: '',
  read_on: '',
};

const paste = (list: string, more: object = {}) =>
  house.send('/shelf/readings/new', { ...PLAIN, lot: '', list, ...more });

const kept = () =>
  house.book.all(
    house.book.db
      .selectFrom('colour_reading')
      .innerJoin('lot', 'lot.id', 'colour_reading.lot_id')
      .select([
        'lot.code',
        'lab_l',
        'place',
        'how',
        'uncertainty_centi',
        'layers',
        'backing',
        'read_on',
        'observer',
      ])
      .where('undone_key', 'is', null)
      .orderBy('colour_reading.id'),
  );

describe('readings of lots', () => {
  it('are kept from a list, each for its lot, and undone together', async () => {
    const [one = '', other = ''] = codes;
    const list = `lot;L*;a*;b*;place\n${one};50,1;0;0;begin\n${one};52,6;0;0;end\n${other};50,2;0;0;`;
    const saved = await paste(list, { sure: '0.3', layers: '4', backing: 'white', read_on: '2026-02-27' });
    expect(saved.body.said).toBe('3 readings of 2 lots saved.');
    expect(saved.body.location).toMatch(/^\/shelf\/together\?cloth=/);
    const alike = {
      how: 'instrument',
      uncertainty_centi: 30,
      layers: 4,
      backing: 'white',
      read_on: '2026-02-27',
      observer: '10',
    };
    expect(kept()).toEqual([
      { code: one, lab_l: 50.1, place: 'begin', ...alike },
      { code: one, lab_l: 52.6, place: 'end', ...alike },
      { code: other, lab_l: 50.2, place: null, ...alike },
    ]);
    const { colour } = (await house.data(`/shelf/lots/${one}`)).body;
    expect(colour.shading[0]).toContain('is not of one colour along its length (ending): ΔE00 2.');
    expect(colour.readings).toHaveLength(2);
    expect(colour.readings[0]).toMatchObject({
      viewing: 'D65, 10°',
      how: 'measured with an instrument, likely within ΔE00 0.3',
      where: 'at the end, 4 layers, over white',
    });
    const { request_key: undoes } = house.book.first(
      house.book.db.selectFrom('colour_reading').select('request_key').orderBy('id', 'desc').limit(1),
    ) ?? { request_key: '' };
    expect((await house.send('/undo', { undoes })).status).toBe(200);
    expect(kept()).toEqual([]);
  });

  it('are of the chosen lot where the list names none, from a file too', async () => {
    const [one = ''] = codes;
    const saved = await paste('50 1 2', { lot: one });
    expect(saved.body).toMatchObject({
      location: `/shelf/lots/${one}`,
      said: `1 reading of lot ${one} saved.`,
    });
    const form = new FormData();
    for (const [name, text] of Object.entries({ ...PLAIN, lot: one, list: '', request_key: newKey() }))
      form.set(name, text);
    form.set('file', new Blob(['\uFEFFL*,a*,b*\r\n50.4,1,2\r\n'], { type: 'text/csv' }), 'readings.csv');
    const sent = await fetch(`${house.origin}/shelf/readings/new`, {
      method: 'POST',
      headers: { Origin: house.origin, Accept: 'application/json' },
      body: form,
    });
    expect(await sent.json()).toMatchObject({ said: `1 reading of lot ${one} saved.` });
    expect(kept().map(({ lab_l }) => lab_l)).toEqual([50, 50.4]);
    // Of the same place the last counts.
    expect((await house.data(`/shelf/lots/${one}`)).body.colour.said).toContain('L* 50.4');
  });

  it('are refused whole, with every line that is wrong, and what was pasted stays', async () => {
    const [one = ''] = codes;
    const before = kept().length;
    const wrong = await paste(`${one},50,0,0\nnobody,50,0,0\n${one},5,120,0\n${one},x,0,0`, { viewing: '' });
    expect(wrong.status).toBe(422);
    const { problems } = wrong.body.error;
    expect(problems.map(({ field }: { field: string }) => field)).toEqual(['list', 'viewing']);
    const { message } = problems[0];
    expect(message).toContain('Line 2: no lot is called “nobody”.');
    expect(message).toContain('Line 3: No cloth has this colour');
    expect(message).toContain('Line 4: L*: “x” is no figure.');
    expect(wrong.body.page.list.value).toContain('nobody,50,0,0');
    expect((await paste('50 0 0')).body.error.problems[0].message).toContain('Line 1: choose the lot above');
    expect((await paste('50 0 0', { lot: 'nobody' })).status).toBe(422);
    expect(kept()).toHaveLength(before);
  });

  it('are offered where the lot is', async () => {
    const page = await house.page(`/shelf/readings/new?lot=${codes[0]}`);
    expect(page.text).toContain(`<option value="${codes[0]}" selected>`);
    expect((await house.page(`/shelf/lots/${codes[0]}`)).text).toContain(
      `/shelf/readings/new?lot=${codes[0]}`,
    );
  });
});

describe('the nearest shades', () => {
  it('are told by ΔE00 with what differs, and a screen colour is called a guide', async () => {
    const add = (name: string, l: string, how: string) =>
      house.send('/shelf/shades/new', { name, l, a: '0', b: '0', how });
    const made = await add('Mid grey', '50', 'instrument');
    await add('Near grey', '50.5', 'typed');
    await add('Far grey', '60', 'photo');
    const { nearest } = (await house.data(made.body.location)).body;
    expect(
      nearest.map(({ chip, apart, differs, isGuide }: NearShade) => [chip.name, apart, differs, isGuide]),
    ).toEqual([
      ['Near grey', '0.5', 'slightly lighter', false],
      // By hand: SL of CIEDE2000 at a mean L* of 55 is 1 + 0.015·25/√45 = 1.056; 10/1.056 = 9.5.
      ['Far grey', '9.5', 'much lighter', true],
    ]);
  });

  it('are not told of a colour for another observer', async () => {
    // Lots were read for D65 and 10°, shades are for 2°.
    expect((await house.data(`/shelf/lots/${codes[0]}`)).body.colour.nearest).toEqual([]);
  });
});
