import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newKey, openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import {
  asForm,
  makeGarment,
  makeTierOf,
  pageOf,
  standingIn,
  stockOf,
  tierFields,
  tierOfPage,
  useImperial,
  workedOf,
} from '../making.ts';

let house: TestHouse;
let stock: Stock;
let code: string;
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
});
afterAll(() => house.shut());

describe('a new tier’s form', () => {
  it('starts with what is common practice, in the reader’s unit', async () => {
    const { body } = await house.data(`/garments/${code}/tiers/new`);
    const typed = standingIn(body.fields);
    expect(body.fields.depth.unit).toBe('cm');
    expect(typed).toMatchObject({ name: '', fullness: '2.5', closing: 'ring' });
    // Blank is the usual allowance of its kind, which stands in the choice of kinds.
    expect(typed).toMatchObject({ seam_kind: 'plain', seam: '', hem: '', hang_seam: '', end: '1' });
    expect(body.fields.seam_kind.options[0]).toEqual({ value: 'plain', label: 'plain: 1 cm' });
    expect(typed.blocks).toHaveLength(2);
    expect((await house.page(`/garments/${code}/tiers/new`)).text).toContain('common practice');
  });

  it('is worked out without a script, and nothing is saved', async () => {
    const fields = { ...asForm(tierFields(stock)), act: 'work-out' };
    const page = await house.submit(`/garments/${code}/tiers/new`, fields);
    expect(page.status).toBe(200);
    expect(page.text).toContain('Nothing is saved yet.');
    expect(page.text).toContain('285 cm ÷ 145 cm ≈ 1.965, so 2 strips');
    expect(page.text).toContain('value="30"');
    expect((await pageOf(house, code)).tiers).toEqual([]);
  });

  it('is worked out for a script of the page in a part of the answer, whatever is missing', async () => {
    const fields = { ...asForm(tierFields(stock, { depth: '', cloth_id: '' })), act: 'work-out' };
    const part = await house
      .submit(`/garments/${code}/tiers/new`, fields)
      .set('HX-Request', 'true')
      .set('HX-Request-Type', 'partial');
    // An unfinished form is no failure to a script that follows it.
    expect(part.status).toBe(200);
    expect(part.headers['hx-push-url']).toBe('false');
    const worked = /<section id="worked"[\s\S]*?<\/section>/.exec(part.text)?.[0] ?? '';
    expect(worked).toContain('href="#f-depth"');
    expect(worked).toContain('href="#f-cloth_id"');
  });

  it('that only asks says that it was not worked out, never that it was not saved', async () => {
    const fields = { ...asForm(tierFields(stock, { depth: '' })), act: 'work-out' };
    const page = await house.submit(`/garments/${code}/tiers/new`, fields);
    expect(page.status).toBe(422);
    expect(page.text).toContain('Not worked out');
    expect(page.text).not.toContain('Not saved');
  });

  it('answers scripts with the same outcome as JSON', async () => {
    const answer = await house.send(`/garments/${code}/tiers/new`, {
      ...tierFields(stock),
      act: 'work-out',
    });
    expect(answer.status).toBe(200);
    expect(answer.body.preview.tier).toMatchObject({ strips: 2, finishedLength: '95 cm' });
  });

  it('gets more rows for colour blocks without losing any', async () => {
    const fields = { ...asForm(tierFields(stock)), 'blocks.2.strips': '7', act: 'more-blocks' };
    const page = await house.submit(`/garments/${code}/tiers/new`, fields);
    expect(page.text).toContain('name="blocks.5.strips"');
    expect(page.text).toContain('value="7"');
  });

  it('keeps what was typed where it is refused', async () => {
    const wrong = asForm(tierFields(stock, { depth: 'knee', fullness: '250 %' }));
    const page = await house.submit(`/garments/${code}/tiers/new`, wrong);
    expect(page.status).toBe(422);
    expect(page.text).toContain('value="knee"');
    expect(page.text).toContain('value="250 %"');
    expect(page.text).toContain('href="#f-depth"');
  });

  it('is saved once however often it is sent', async () => {
    const fields = { ...asForm(tierFields(stock)), request_key: newKey() };
    const [first, second] = [
      await house.submit(`/garments/${code}/tiers/new`, fields),
      await house.submit(`/garments/${code}/tiers/new`, fields),
    ];
    expect(first.status).toBe(303);
    expect(second.headers.location).toBe(first.headers.location);
    expect((await pageOf(house, code)).tiers).toHaveLength(1);
    const done = await house.page(first.headers.location ?? '');
    expect(done.text).toContain(`Tier 1 was added to ${code}: 2 strips of 30 cm × 147 cm.`);
  });
});

describe('the form of a tier in the book', () => {
  it('shows it as it was typed and already worked out', async () => {
    const own = await makeGarment(house);
    const id = await makeTierOf(house, own, stock, { depth: '0.3 m', fullness: '2 1/2', hem: '½' });
    const { body } = await house.data(`/garments/${own}/tiers/${id}`);
    const typed = standingIn(body.fields);
    expect(typed).toMatchObject({ depth: '0.3 m', fullness: '2 1/2', hem: '½', drop: '0', end: '' });
    expect(typed.blocks[0]).toEqual({ shade_id: String(stock.shadeId), strips: '1', cloth_id: '', lots: '' });
    expect(body.preview.tier.strips).toBe(2);
    expect(body.inUse).toBe('');
  });

  it('gives the same strips when it is sent back by a reader of the other system', async () => {
    const own = await makeGarment(house);
    const id = await makeTierOf(house, own, stock, { hem: '1', strip_length: '70' });
    const before = workedOf(await tierOfPage(house, own));
    useImperial(house);
    const { body } = await house.data(`/garments/${own}/tiers/${id}`);
    const typed = standingIn(body.fields);
    expect(typed).toMatchObject({ depth: '30 cm', hem: '1 cm', strip_length: '70 cm' });
    const sent = await house.send(`/garments/${own}/tiers/${id}`, {
      ...typed,
      blocks: typed.blocks.slice(0, 1),
    });
    expect(sent.status).toBe(200);
    house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ length_system: 'metric' })));
    expect(workedOf(await tierOfPage(house, own))).toEqual(before);
  });

  it('is found only under its own garment', async () => {
    const [one, two] = [await makeGarment(house), await makeGarment(house)];
    const id = await makeTierOf(house, one, stock);
    expect((await house.page(`/garments/${two}/tiers/${id}`)).status).toBe(404);
    expect((await house.page(`/garments/${one}/tiers/abc`)).status).toBe(404);
    expect((await house.send(`/garments/${two}/tiers/${id}/taken-out`, {})).status).toBe(404);
  });
});
