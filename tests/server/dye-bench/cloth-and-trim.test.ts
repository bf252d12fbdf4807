import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';
import {
  addVessel,
  finish,
  keepRecipe,
  makeGround,
  makeShade,
  plan,
  planFields,
  recipeFields,
  start,
  versionFields,
} from './recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const shade = (name: string) => house.write((tx) => makeShade(tx, name));
const clothOf = (name: string, content: Record<string, number>) =>
  house.write((tx) => {
    const stock = makeGround(tx, { name, content, gramsPerM2: 100 });
    return { ...stock, piece: makeBolt(tx, stock.lotId, '10 m') };
  });
const VAT = {
  name: 'Moss in the vat',
  fibre: 'cotton',
  dye_class: 'vat',
  method: 'hot (IN)',
  'auxiliaries.0.what': 'caustic-soda/as-sold',
  'auxiliaries.0.amount': '5 g/L',
  'auxiliaries.1.what': 'hydrosulphite/as-sold',
  'auxiliaries.1.amount': '5 g/L',
  temperature: '60',
};

describe('thread, trim and lining of a recipe', () => {
  it('count at any share: elastane refuses the caustic soda of a vat', async () => {
    const moss = shade('Moss');
    await keepRecipe(house, recipeFields(moss, VAT));
    const { body } = await house
      .send(
        '/dye-bench/recipes/new',
        recipeFields(moss, { ...VAT, name: 'Trimmed', also: 'polyester, elastane' }),
      )
      .expect(422);
    expect(body.error.problems).toContainEqual({
      field: 'auxiliaries.0.what',
      message: expect.stringMatching(/Elastane: hot caustic soda harms it/),
    });
  });

  it('stay with the recipe, its page, its versions and what changed', async () => {
    const moss = shade('Moss');
    const id = await keepRecipe(house, recipeFields(moss, { also: 'polyester; spandex' }));
    const { body } = await house.data(`/dye-bench/recipes/${id}`).expect(200);
    expect(body.also).toBe('polyester, elastane');
    expect(body.warnings.map(({ id: warned }: { id: string }) => warned)).toEqual(
      expect.arrayContaining(['limit-elastane', 'left-polyester']),
    );
    const next = await house
      .send(`/dye-bench/recipes/${id}/versions/new`, versionFields(moss, { also: '' }))
      .expect(200);
    const after = await house.data(next.body.location).expect(200);
    expect(after.body.also).toBe('');
    expect(after.body.made.changes).toContainEqual(
      expect.objectContaining({ what: 'Also in the bath', was: 'polyester, elastane', now: '' }),
    );
    const form = await house.page(`/dye-bench/recipes/${id}/copy`).expect(200);
    expect(form.text).toContain('value="polyester; spandex"');
  });

  it('that are no fibre are told at the field', async () => {
    const fields = recipeFields(shade('Moss'), { also: 'cotton, gossamer' });
    const { body } = await house.send('/dye-bench/recipes/new', fields).expect(422);
    expect(body.error.problems).toEqual([
      { field: 'also', message: 'gossamer is no fibre that is known here.' },
    ]);
  });
});

describe('thread, trim and lining of a batch', () => {
  it('are refused by what they do not stand, and stay with its card, its pot and its print', async () => {
    const moss = shade('Moss');
    const { piece } = clothOf('Cotton lawn', { cotton: 100 });
    const recipeId = await keepRecipe(house, recipeFields(moss, VAT));
    const vesselId = await addVessel(house, 'Pot', '40');
    const made = { recipeId, vesselId, lengths: { [piece.code]: '2' } };
    const fields = (also: string) => ({ ...planFields(made), also });
    const { body: refused } = await house.send('/dye-bench/batches/new', fields('elastane')).expect(422);
    expect(refused.error.message).toMatch(/Elastane: hot caustic soda harms it/);
    const { body: unknown } = await house.send('/dye-bench/batches/new', fields('gossamer')).expect(422);
    expect(unknown.error.problems).toEqual([
      { field: 'also', message: 'gossamer is no fibre that is known here.' },
    ]);
    const { body: planned } = await house.send('/dye-bench/batches/new', fields('polyester')).expect(200);
    const code = planned.location.split('/').at(-1);
    const before = await house.data(`/dye-bench/batches/${code}`).expect(200);
    expect(before.body.card.also).toBe('polyester');
    expect(before.body.card.warnings.map(({ id }: { id: string }) => id)).toContain('left-polyester');
    await start(house, code);
    expect((await house.data(`/dye-bench/batches/${code}`)).body.card.also).toBe('polyester');
    expect((await house.page(`/dye-bench/batches/${code}/card`)).text).toContain('Also in the bath');
    // The recipe itself names none, and a batch without any has none.
    const { body: plain } = await house.send('/dye-bench/batches/new', fields('')).expect(200);
    expect((await house.data(plain.location)).body.card.also).toBe('');
  });

  it('count for what is added by hand at the pot', async () => {
    const { piece } = clothOf('Cotton lawn', { cotton: 100 });
    const direct = {
      name: 'Moss direct',
      fibre: 'cotton',
      dye_class: 'direct',
      'auxiliaries.0.what': 'salt/as-sold',
      'auxiliaries.0.amount': '10 g/L',
      'auxiliaries.1.what': '',
      'auxiliaries.1.amount': '',
      temperature: '80',
      ph_from: '',
      ph_to: '',
    };
    const recipeId = await keepRecipe(house, recipeFields(shade('Moss'), direct));
    const bleachedWith = async (also: string) => {
      const vesselId = await addVessel(house, `Pot for ${also || 'cotton'}`, '40');
      const made = { recipeId, vesselId, lengths: { [piece.code]: '1' } };
      const { body } = await house.send('/dye-bench/batches/new', { ...planFields(made), also }).expect(200);
      const code = body.location.split('/').at(-1);
      await start(house, code);
      for (const step of ['begin', 'prepare', 'weigh', 'dissolve']) {
        await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step }).expect(200);
      }
      const added = { bath: '1', what: 'other/hypochlorite', name: 'bleach', amount: '5 g', lot: '' };
      return house.send(`/dye-bench/batches/${code}/by-hand`, added);
    };
    expect(JSON.stringify((await bleachedWith('')).body)).not.toMatch(/Elastane/);
    const refused = await bleachedWith('elastane');
    expect(refused.status).toBe(422);
    expect(JSON.stringify(refused.body.error)).toMatch(/Elastane/);
  });
});

describe('a vat', () => {
  it('is offered whole by its family, and refused without one', async () => {
    const offer = await house
      .data('/dye-bench/recipes/new?fibre=cotton&dye_class=vat&depth=medium')
      .expect(200);
    expect(offer.body.fields.method.options.map(({ label }: { label: string }) => label)).toEqual([
      'Another, by the label',
      'Hot (IN)',
      'Warm (IW)',
      'Cold (IK)',
    ]);
    const cold = await house
      .data('/dye-bench/recipes/new?fibre=cotton&dye_class=vat&depth=medium&method=cold+(IK)')
      .expect(200);
    expect(cold.body.fields.temperature.value).toBe('25');
    const moss = shade('Moss');
    const { body } = await house
      .send('/dye-bench/recipes/new', recipeFields(moss, { ...VAT, method: '' }))
      .expect(422);
    expect(body.error.problems).toEqual([
      { field: 'method', message: expect.stringMatching(/hot \(IN\), warm \(IW\) or cold \(IK\)/) },
    ]);
    const id = await keepRecipe(house, recipeFields(moss, VAT));
    const lawn = clothOf('Lawn', { cotton: 100 });
    const vesselId = await addVessel(house, 'Small pot', '50');
    const code = await plan(house, { recipeId: id, vesselId, lengths: { [lawn.piece.code]: '2' } });
    const card = await house.data(`/dye-bench/batches/${code}`).expect(200);
    expect(card.body.order.steps.map(({ title }: { title: string }) => title)).toEqual(
      expect.arrayContaining([
        'Weigh the dye',
        'Paste the dye',
        'Reduce the dye in a stock vat at 60 °C',
        'Oxidise at 60 °C',
        'Soap at 95 °C',
      ]),
    );
    const blend = clothOf('Winceyette', { cotton: 80, wool: 20 });
    const refused = await house
      .send(
        '/dye-bench/batches/new',
        planFields({ recipeId: id, vesselId, lengths: { [blend.piece.code]: '2' } }),
      )
      .expect(422);
    expect(refused.body.error.problems[0].message).toMatch(/Wool: caustic soda dissolves it/);
  });
});

describe('a blend', () => {
  it('that had acid dye on its nylon is told so before reactive dye goes on its cotton', async () => {
    const blend = clothOf('Canvas', { nylon: 60, cotton: 40 });
    const moss = shade('Moss');
    const acid = await keepRecipe(house, recipeFields(moss));
    const reactive = await keepRecipe(
      house,
      recipeFields(shade('Rust'), {
        name: 'Rust on cotton',
        fibre: 'cotton',
        dye_class: 'reactive',
        'auxiliaries.0.what': 'salt/as-sold',
        'auxiliaries.0.amount': '40 g/L',
        'auxiliaries.1.what': 'soda-ash/anhydrous',
        'auxiliaries.1.amount': '10 g/L',
        temperature: '60',
      }),
    );
    const vesselId = await addVessel(house, 'Small pot', '50');
    const warned = async (code: string) => {
      const { body } = await house.data(`/dye-bench/batches/${code}`).expect(200);
      return new Map(body.card.warnings.map(({ id, text }: { id: string; text: string }) => [id, text]));
    };
    const first = await plan(house, { recipeId: acid, vesselId, lengths: { [blend.piece.code]: '2' } });
    expect((await warned(first)).get('stage')).toMatch(/dyeing 2 of 2.*Before it: reactive dye/);
    expect((await warned(first)).has('out-of-order')).toBe(false);
    await start(house, first);
    await finish(house, first, ['2']);
    const dyed = house.book.first(
      house.book.db
        .selectFrom('piece')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .select('piece.code')
        .where('lot.batch_id', 'is not', null),
    );
    const fields = planFields({ recipeId: reactive, vesselId, lengths: { [dyed?.code ?? '']: '1' } });
    const { body } = await house.send('/dye-bench/batches/new', { ...fields, over: 'yes' }).expect(200);
    const code = body.location.split('/').at(-1);
    expect((await warned(code)).get('out-of-order')).toMatch(
      /was dyed in D1\. Out of order: on this blend reactive dye comes before levelling acid dye, because boiling soap/,
    );
  });
});

describe('polyester at the boil', () => {
  it('is offered no deeper than a tint without carrier, and whole with one', async () => {
    const offer = (more: string) =>
      house.data(`/dye-bench/recipes/new?fibre=polyester&dye_class=disperse&depth=dark${more}`).expect(200);
    const plain = (await offer('')).body.fields;
    expect(plain.dyes[0].owf.value).toBe('0.5');
    // textilelearner.blogspot.com, January 2012: carrier 3, dispersing agent 2, acetic acid 1 g/L.
    const carried = (await offer('&method=with+carrier')).body.fields;
    expect(carried.dyes[0].owf.value).toBe('2');
    expect(carried.auxiliaries[0].what.value).toBe('carrier/as-sold');
    expect(carried.auxiliaries[0].amount.value).toBe('3 g/L');
  });

  it('and every blend that is known stand on the page of fibres with their source', async () => {
    const { text } = await house.page('/dye-bench/fibres').expect(200);
    expect(text).toContain('Two fibres in one cloth');
    expect(text).toContain('boiling soap and alkali would strip acid dye');
  });
});

describe('the finish of a cloth', () => {
  const CLOTH = {
    name: 'Stage net',
    construction: 'net',
    'fibres.0.fibre': 'nylon',
    width: '140',
    usable_width: '138',
    mass_per_area: '25',
    finish: 'crisp',
    state: 'heat-set',
    nylon: '66',
    flame_retardant: 'yes',
    note: '',
  };

  it('is kept, shown, changed, and goes out in the lists', async () => {
    const made = await house.submit('/shelf/cloths/new', CLOTH).expect(303);
    const path = (made.headers.location ?? '').split('?')[0] ?? '';
    const { body } = await house.data(path).expect(200);
    expect(body.came).toBe('heat-set, flame-retardant, nylon 66');
    const form = await house.page(`${path}/edit`).expect(200);
    expect(form.text).toMatch(/<option value="heat-set" selected>/);
    expect(form.text).toMatch(/name="flame_retardant"[^>]*checked/);
    const list = await house.page('/setup/lists/out/cloths.csv').expect(200);
    expect(list.text).toContain('crisp,heat-set,flame-retardant,66');
    await house
      .submit(`${path}/edit`, { ...CLOTH, flame_retardant: '', starched: 'yes', state: '' })
      .expect(303);
    expect((await house.data(path).expect(200)).body.came).toBe('starched or sized, nylon 66');
    await house.submit('/shelf/cloths/new', { ...CLOTH, name: 'Other', state: 'woven' }).expect(422);
  });

  it('is told before the scour and on the card, with what is lost', async () => {
    const lawn = clothOf('Stage lawn', { cotton: 100 });
    house.write((tx) =>
      tx.run(
        tx.db
          .updateTable('cloth')
          .set({ flame_retardant: 1, state: 'greige', finish: 'starched' })
          .where('id', '=', lawn.clothId),
      ),
    );
    const recipeId = await keepRecipe(house, recipeFields(shade('Moss'), { ...VAT, name: 'Lawn' }));
    const vesselId = await addVessel(house, 'Small pot', '50');
    const code = await plan(house, { recipeId, vesselId, lengths: { [lawn.piece.code]: '2' } });
    const { body } = await house.data(`/dye-bench/batches/${code}`).expect(200);
    const [scour] = body.order.steps;
    expect(scour.says).toMatch(/Before you begin:.*flame proofing is lost.*by whoever answers for it/);
    expect(scour.says).toMatch(/comes back limp.*scour it twice/);
    expect(body.card.warnings.map(({ id }: { id: string }) => id)).toEqual(
      expect.arrayContaining(['finish-flame-retardant', 'finish-starched', 'state-greige']),
    );
    const { text } = await house.page(`/dye-bench/batches/${code}`).expect(200);
    expect(text).toContain('Stage lawn: The flame proofing is lost');
  });

  it('keeps flame-proofed cloth out of chlorine bleach until it is rinsed and that finish is taken off', async () => {
    const { clothId, piece } = clothOf('Proofed lawn', { cotton: 100 });
    const proofed = (flame_retardant: 0 | 1) =>
      house.write((tx) =>
        tx.run(tx.db.updateTable('cloth').set({ flame_retardant }).where('id', '=', clothId)),
      );
    proofed(1);
    const { body } = await house
      .send('/dye-bench/recipes/by-label/new', {
        name: 'Bleached',
        shade_id: String(shade('Bleached')),
        fibre: 'cotton',
        dye_class: 'other-by-label',
        method: 'Bleach B (invented)',
        dyes: [],
        auxiliaries: [{ what: 'other/hypochlorite', amount: '10 g/L', name: 'bleach' }],
        liquor_ratio: '1:20',
        temperature: '20',
        hold: '30',
        ph_from: '10',
        ph_to: '11',
        shrinkage: '0',
        note: '',
      })
      .expect(200);
    const recipeId = Number(body.location.split('/').at(-1));
    const vesselId = await addVessel(house, 'Bleaching tub', '50');
    const form = planFields({ recipeId, vesselId, lengths: { [piece.code]: '2' } });
    const refused = await house.send('/dye-bench/batches/new', form).expect(422);
    expect(refused.body.error.message).toContain('ammonium salts that cloth is flame-proofed with');
    proofed(0);
    await house.send('/dye-bench/batches/new', form).expect(200);
  });
});
