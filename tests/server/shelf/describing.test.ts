import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { length, newKey, openTestHouse, type TestHouse } from '../support.ts';
import { type Furnished, furnish, rows, typedIn } from './furnished.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const organza = {
  name: 'Silk organza',
  construction: 'organza',
  'fibres.0.fibre': 'silk',
  width: '137 cm',
  usable_width: '53 in',
  mass_per_area: '8 momme',
  finish: 'degummed',
  article: 'SO-137',
  note: 'Frays.',
};

describe('cloths', () => {
  it('say so where there are none', async () => {
    const page = await house.page('/shelf/cloths').expect(200);
    expect(page.text).toContain('No cloth is described yet.');
    expect(page.text).toContain('href="/shelf/cloths/new"');
  });

  it('are described once and listed', async () => {
    const form = { request_key: newKey(), ...organza };
    const done = await house.submit('/shelf/cloths/new', form).expect(303);
    await house.submit('/shelf/cloths/new', form).expect(303);
    expect(done.headers.location).toMatch(/^\/shelf\/cloths\/1\?done=/);
    const { body } = await house.data('/shelf/cloths/1').expect(200);
    // A momme is a pound in 45 in × 100 yd, 125 square yards: 4.33994 g/m², so that 8 momme are 34.72 g/m².
    expect(body).toMatchObject({
      content: '100 % silk',
      width: '137 cm',
      usableWidth: '≈ 134.6 cm',
      massPerArea: '≈ 34.7 g/m²',
    });
    expect(body.cutIn).toBe('one ply, lying flat');
    expect(body.cloth).toMatchObject({ widthTicks: length('137 cm'), usableWidthTicks: length('53 in') });
    expect(body.cloth.massPerAreaMgM2).toBe(34_719);
    const list = await house.data('/shelf/cloths');
    expect(list.body.cloths).toHaveLength(1);
    expect((await house.page('/shelf/cloths')).text).toContain('Silk organza');
  });

  it.each([
    [
      '101 %',
      { 'fibres.0.share': '60', 'fibres.1.fibre': 'cotton', 'fibres.1.share': '41' },
      'fibres',
      'add up to 101 %',
    ],
    ['99.99 %', { 'fibres.0.share': '99.99' }, 'fibres', 'add up to 99.99 %'],
    [
      'a fibre twice',
      { 'fibres.0.share': '50', 'fibres.2.fibre': 'silk', 'fibres.2.share': '50' },
      'fibres-2-fibre',
      'named twice',
    ],
    [
      'two fibres without shares',
      { 'fibres.3.fibre': 'cotton', 'fibres.3.share': '40' },
      'fibres-0-share',
      'Give its share',
    ],
    [
      'a share without a fibre',
      { 'fibres.0.share': '50', 'fibres.1.share': '50' },
      'fibres-1-fibre',
      'Choose a fibre.',
    ],
    ['no fibre', { 'fibres.0.fibre': '' }, 'fibres', 'Give at least one of the fibres.'],
    [
      'a usable width over the width',
      { usable_width: '137.1 cm' },
      'usable_width',
      'enter no more than the width',
    ],
    ['a width in no unit there is', { width: '12 ells' }, 'width', '12 ells'],
    ['ounces alone', { mass_per_area: '4 oz' }, 'mass_per_area', '4 oz'],
    ['more folds than plies', { ply_limit: '3', fold_limit: '2' }, 'fold_limit', 'lies in 4 plies'],
    ['a mass beyond any cloth', { mass_per_area: '5001' }, 'mass_per_area', 'too large for a cloth'],
    ['a supplier that is not there', { supplier_id: '9' }, 'supplier_id', 'Choose a supplier'],
    ['no name', { name: ' ' }, 'name', 'must be filled in'],
  ])('are refused with %s', async (_what, wrong, id, message) => {
    const refused = await house.submit('/shelf/cloths/new', { ...organza, ...wrong }).expect(422);
    expect(refused.text).toContain(`href="#f-${id}"`);
    expect(refused.text).toContain(`id="f-${id}`);
    expect(refused.text).toContain(message);
    expect(refused.text).toContain('value="degummed"');
    expect((await house.data('/shelf/cloths')).body.cloths).toEqual([]);
  });

  it('tell all that is wrong at once', async () => {
    const { body } = await house
      .send('/shelf/cloths/new', {
        name: '',
        construction: 'net',
        fibres: [{ fibre: 'silk', share: '98' }],
        width: '100',
        usable_width: '101',
      })
      .expect(422);
    const fields = body.error.problems.map(({ field }: { field: string }) => field);
    expect(fields.sort()).toEqual(['fibres', 'name', 'usable_width']);
  });

  it('have names of their own', async () => {
    await house.submit('/shelf/cloths/new', organza).expect(303);
    const refused = await house.submit('/shelf/cloths/new', organza).expect(422);
    expect(refused.text).toContain('There is a cloth Silk organza already.');
  });

  it('begin a change with what was typed, in any reader’s units', async () => {
    await house.submit('/shelf/cloths/new', { ...organza, width: '137' }).expect(303);
    const metric = await house.data('/shelf/cloths/1/edit').expect(200);
    expect(typedIn(metric.body.fields)).toMatchObject({
      width: '137',
      usable_width: '53 in',
      mass_per_area: '8 momme',
    });
    house.write((tx) =>
      tx.run(tx.db.updateTable('person').set({ length_system: 'imperial' }).where('id', '=', 1)),
    );
    const imperial = await house.data('/shelf/cloths/1/edit').expect(200);
    const typed = typedIn(imperial.body.fields);
    expect(typed).toMatchObject({ width: '137 cm', usable_width: '53' });
    const table = { ply_limit: '4', fold_limit: '2', no_fold_line: 'yes' };
    await house.submit('/shelf/cloths/1/edit', { ...typed, ...table, 'fibres.0.fibre': 'silk' }).expect(303);
    const folded = await house.data('/shelf/cloths/1');
    expect(folded.body.cutIn).toBe('up to 4 plies at once, folded twice at most; no fold line in a strip');
    expect(typedIn((await house.data('/shelf/cloths/1/edit')).body.fields)).toMatchObject(table);
    await house.submit('/shelf/cloths/1/edit', { ...typed, 'fibres.0.fibre': 'silk' }).expect(303);
    const { body } = await house.data('/shelf/cloths/1').expect(200);
    expect(body.cloth).toMatchObject({
      widthTicks: length('137 cm'),
      usableWidthTicks: length('53 in'),
      massPerAreaMgM2: 34_719,
    });
  });

  it('never rewrite pieces when they are changed', async () => {
    const ids = await furnish(house);
    const bolt = { cloth_id: ids.organza, shade_id: ids.white, mill_lot: 'A', length: '10' };
    await house.submit('/shelf/receipts', rows(bolt)).expect(303);
    const typed = typedIn((await house.data(`/shelf/cloths/${ids.organza}/edit`)).body.fields);
    const fibres = {
      'fibres.0.fibre': 'cotton',
      'fibres.0.share': '55',
      'fibres.1.fibre': 'silk',
      'fibres.1.share': '45',
    };
    await house
      .submit(`/shelf/cloths/${ids.organza}/edit`, { ...typed, ...fibres, usable_width: '140' })
      .expect(303);
    const { body } = await house.data(`/shelf/cloths/${ids.organza}`);
    expect(body).toMatchObject({ content: '55 % cotton, 45 % silk', usableWidth: '140 cm' });
    expect((await house.data('/shelf/pieces/B1')).body.piece.usableWidth).toBe('147 cm');
    expect(body.shades).toEqual([
      expect.objectContaining({
        href: '/shelf?cloth=1&shade=1',
        totals: expect.objectContaining({ pieces: 1, longestFree: '10 m' }),
      }),
    ]);
  });

  it('are unknown by another number', async () => {
    await house.page('/shelf/cloths/9').expect(404);
    await house.page('/shelf/cloths/9/edit').expect(404);
    await house.submit('/shelf/cloths/9/edit', organza).expect(404);
  });
});

describe('shades', () => {
  it('take a screen colour', async () => {
    await house.submit('/shelf/shades/new', { name: 'Paper', ground: 'yes', hex: 'FFFFFF' }).expect(303);
    const { body } = await house.data('/shelf/shades/1').expect(200);
    // The white of sRGB (IEC 61966-2-1) is D65: L* 100, a* 0, b* 0.
    expect(body.colour).toBe('L* 100.0, a* 0.0, b* 0.0 (D65, 2°), picked on a screen');
    expect(body.chip).toMatchObject({ colour: '#ffffff', name: 'undyed ground' });
    expect(typedIn((await house.data('/shelf/shades/1/edit')).body.fields)).toMatchObject({
      hex: '#ffffff',
      l: '',
      ground: 'yes',
    });
  });

  it('keep the light and observer that their values are for, and D65 and 2° where nobody said', async () => {
    const measured = {
      name: 'Tide',
      ground: '',
      hex: '',
      l: '40',
      a: '-12',
      b: '-20',
      how: 'instrument',
      note: '',
    };
    const told = async (name: string, viewing: string) => {
      const made = await house.submit('/shelf/shades/new', { ...measured, name, viewing }).expect(303);
      return (await house.data(made.headers.location ?? '').expect(200)).body.colour;
    };
    expect(await told('Tide 10', 'D65/10')).toContain('(D65, 10°), measured with an instrument');
    expect(await told('Tide A', 'A/2')).toContain('(A, 2°)');
    expect(await told('Tide', '')).toContain('(D65, 2°)');
    const screen = { ...measured, name: 'Screen', l: '', a: '', b: '', hex: '#204060', how: '' };
    const refused = await house.submit('/shelf/shades/new', { ...screen, viewing: 'D65/10' }).expect(422);
    expect(refused.text).toContain('A screen colour is for D65, 2°: choose that, or leave it open.');
  });

  it('take CIELAB values, and say where no screen shows them', async () => {
    const lab = { name: 'Hot pink', l: '58,2', a: '92', b: '−12.4', how: 'instrument' };
    await house.submit('/shelf/shades/new', lab).expect(303);
    const { body } = await house.data('/shelf/shades/1').expect(200);
    expect(body.shade.colour).toEqual({
      lab: { l: 58.2, a: 92, b: -12.4 },
      viewing: { illuminant: 'D65', observer: '2' },
      how: 'instrument',
    });
    expect(body.offScreen).toBe(true);
    expect((await house.page('/shelf/shades/1')).text).toContain('measured with an instrument');
    expect(typedIn((await house.data('/shelf/shades/1/edit')).body.fields)).toMatchObject({
      hex: '',
      l: '58.2',
      a: '92',
      b: '-12.4',
    });
  });

  it('may have no colour, and say so', async () => {
    await house.submit('/shelf/shades/new', { name: 'Ash' }).expect(303);
    expect((await house.data('/shelf/shades')).body.shades[0].chip).toMatchObject({
      colour: null,
      name: 'Ash',
    });
    expect((await house.page('/shelf/shades')).text).toContain('no colour recorded');
  });

  it.each([
    ['both', { hex: '#c81e3a', l: '50', a: '0', b: '0' }, 'hex', 'not both'],
    ['half a value', { l: '50', b: '3' }, 'a', 'Enter all three'],
    ['a colour that is none', { hex: 'red' }, 'hex', 'six digits'],
    ['a lightness beyond white', { l: '101', a: '0', b: '0' }, 'l', '0 to 100'],
    ['words for numbers', { l: 'light', a: '0', b: '0' }, 'l', 'Write L* as a number'],
    ['a measured screen colour', { hex: '#c81e3a', how: 'instrument' }, 'how', 'typed as CIELAB'],
  ])('refuse %s', async (_what, wrong, id, message) => {
    const refused = await house.submit('/shelf/shades/new', { name: 'Poppy', ...wrong }).expect(422);
    expect(refused.text).toContain(`id="f-${id}-error"`);
    expect(refused.text).toContain(message);
    expect(refused.text).toContain('value="Poppy"');
  });

  it('can be changed, the name to one that is free', async () => {
    await house.submit('/shelf/shades/new', { name: 'Moss', hex: '#5e7038' }).expect(303);
    await house.submit('/shelf/shades/new', { name: 'Fern' }).expect(303);
    const typed = typedIn((await house.data('/shelf/shades/1/edit')).body.fields);
    const before = (await house.data('/shelf/shades/1')).body.shade.colour;
    await house.submit('/shelf/shades/1/edit', { ...typed, name: 'Fern' }).expect(422);
    await house.submit('/shelf/shades/1/edit', { ...typed, name: 'Deep moss' }).expect(303);
    const { body } = await house.data('/shelf/shades/1');
    expect(body.shade).toMatchObject({ name: 'Deep moss', colour: before });
    await house.page('/shelf/shades/9').expect(404);
  });

  it('tell what is on the shelf in them', async () => {
    const ids: Furnished = await furnish(house);
    const bolt = { cloth_id: ids.net, shade_id: ids.moss, mill_lot: 'A', length: '10' };
    await house.submit('/shelf/receipts', rows(bolt, { length: '4' })).expect(303);
    const { body } = await house.data(`/shelf/shades/${ids.moss}`);
    expect(body.cloths).toEqual([
      expect.objectContaining({
        name: 'Soft net',
        totals: expect.objectContaining({ freeInAll: '14 m in 2 pieces', longestFree: '10 m' }),
      }),
    ]);
    expect((await house.page(`/shelf/shades/${ids.white}`)).text).toContain(
      'Nothing in this shade is on the shelf.',
    );
  });
});

describe('places', () => {
  it('are added, renamed and counted', async () => {
    expect((await house.page('/shelf/places')).text).toContain('No place has a name yet.');
    const ids = await furnish(house);
    await house.submit('/shelf/places', { name: 'Box 7' }).expect(303);
    const bolt = { cloth_id: ids.net, shade_id: ids.moss, mill_lot: 'A', length: '10' };
    const pieces = rows(bolt, { length: '3' }, { ...bolt, mill_lot: 'B', place_id: ids.rack });
    await house.submit('/shelf/receipts', pieces).expect(303);
    await house.submit('/shelf/places/1/names', { name: 'Rack one' }).expect(303);
    const { body } = await house.data('/shelf/places');
    expect(body.places.map(({ name, pieces }: { name: string; pieces: number }) => [name, pieces])).toEqual([
      ['Box 7', 0],
      ['Rack one', 1],
    ]);
    expect(body.homeless).toBe(2);
  });

  it('keep a refused name beside the place it was for', async () => {
    await house.submit('/shelf/places', { name: 'Rack 1' }).expect(303);
    await house.submit('/shelf/places', { name: 'Rack 2' }).expect(303);
    const refused = await house.submit('/shelf/places/2/names', { name: 'Rack 1' }).expect(422);
    expect(refused.text).toContain('There is a place Rack 1 already.');
    expect(refused.text.match(/<details open>/g)).toHaveLength(1);
    expect(refused.text.match(/id="f-name-error"/g)).toHaveLength(1);
    const added = await house.submit('/shelf/places', { name: 'Rack 2' }).expect(422);
    expect(added.text).not.toContain('<details open>');
    expect(added.text.match(/id="f-name-error"/g)).toHaveLength(1);
    await house.submit('/shelf/places/9/names', { name: 'Nowhere' }).expect(404);
  });
});
