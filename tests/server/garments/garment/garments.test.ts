import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newKey, openTestHouse, type TestHouse } from '../../support.ts';
import {
  asForm,
  CONE,
  makeGarment,
  makeTierOf,
  pageOf,
  problemsOf,
  standingIn,
  stockOf,
  useImperial,
} from '../making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

describe('the list of garments', () => {
  it('says how to begin when there is none', async () => {
    const page = await house.page('/garments');
    expect(page.status).toBe(200);
    expect(page.text).toContain('No garment is in the book yet.');
    expect(page.text).toContain('href="/garments/new"');
    expect((await house.data('/garments')).body).toMatchObject({ open: [], finished: [] });
  });

  it('puts what is due first on top, what has no day last, and marks what is late', async () => {
    const undated = await makeGarment(house, { name: 'No day', due_on: '' });
    const late = await makeGarment(house, { name: 'Late', due_on: '2026-03-01' });
    const due = await makeGarment(house, { name: 'Due', due_on: '2026-03-02' });
    const { open } = (await house.data('/garments')).body;
    expect(open.map((row: { code: string }) => row.code)).toEqual([late, due, undated]);
    expect(open.map((row: { late: boolean }) => row.late)).toEqual([true, false, false]);
    expect((await house.page('/garments')).text).toContain('late');
  });
});

describe('making a garment', () => {
  it('gives it a code, keeps its girths as typed and goes to its page', async () => {
    const made = await house.submit('/garments/new', asForm(CONE));
    expect(made.status).toBe(303);
    const code = /^\/garments\/(G\d+)\?done=/.exec(made.headers.location ?? '')?.[1] ?? '';
    const page = await house.page(made.headers.location ?? '');
    expect(page.text).toContain(`Petticoat was put in the book as ${code}, due 1 Apr 2026.`);
    expect((await pageOf(house, code)).girths).toEqual([
      { drop: '0 cm', girth: '95 cm' },
      { drop: '100 cm', girth: '295 cm' },
    ]);
    const form = await house.data(`/garments/${code}/edit`);
    expect(standingIn(form.body.fields).girths.slice(0, 3)).toMatchObject([
      { drop: '0', girth: '95' },
      { drop: '100', girth: '295' },
      { drop: '', girth: '' },
    ]);
  });

  it('does so once however often the form is sent', async () => {
    const request_key = newKey();
    const sent = [1, 2].map(() => house.submit('/garments/new', { ...asForm(CONE), request_key }));
    const [first, second] = await Promise.all(sent);
    expect(first?.headers.location).toBe(second?.headers.location);
  });

  it('tells everything at once, at the fields, and keeps what was typed', async () => {
    const wrong = {
      name: ' ',
      due_on: '2026-02-30',
      girths: [
        { drop: '0', girth: '0' },
        { drop: '', girth: '' },
        { drop: 'deep', girth: '1,500' },
      ],
    };
    const answer = await house.send('/garments/new', { ...CONE, ...wrong });
    expect(answer.status).toBe(422);
    expect(Object.keys(problemsOf(answer)).sort()).toEqual([
      'due_on',
      'girths.0.girth',
      'girths.2.drop',
      'girths.2.girth',
      'name',
    ]);
    const page = await house.submit('/garments/new', asForm({ ...CONE, ...wrong }));
    expect(page.status).toBe(422);
    expect(page.text).toContain('value="deep"');
    expect(page.text).toContain('value="1,500"');
    expect(page.text).toContain('href="#f-girths-2-drop"');
  });

  it('asks for two girths, each lower than the one before; a blank row between does not shift the field', async () => {
    const one = await house.send('/garments/new', { ...CONE, girths: [{ drop: '0', girth: '95' }] });
    expect(problemsOf(one)).toEqual({ girths: 'A form needs girths at two drops at least.' });
    const rows = [
      { drop: '50', girth: '95' },
      { drop: '', girth: ' ' },
      { drop: '40', girth: '100' },
    ];
    const back = await house.send('/garments/new', { ...CONE, girths: rows });
    expect(problemsOf(back)).toEqual({
      'girths.2.drop': 'Each drop must be lower than the one before it.',
    });
  });

  it('draws more rows without a script and writes nothing', async () => {
    const before = (await house.data('/garments')).body.open.length;
    const page = await house.submit('/garments/new', { ...asForm(CONE), act: 'more-girths' });
    expect(page.status).toBe(200);
    expect(page.text).toContain('value="295"');
    expect(page.text).toContain('name="girths.5.girth"');
    expect((await house.data('/garments')).body.open.length).toBe(before);
  });
});

describe('changing a garment', () => {
  it('puts new girths in the place of the old', async () => {
    const code = await makeGarment(house);
    const girths = [...CONE.girths, { drop: '110', girth: '300' }];
    const changed = await house.send(`/garments/${code}/edit`, { ...CONE, name: 'Crinoline', girths });
    expect(changed.body.said).toBe(`Crinoline, ${code}, was changed.`);
    const page = await pageOf(house, code);
    expect(page.name).toBe('Crinoline');
    expect(page.girths).toHaveLength(3);
    expect(page.changed).toContain('Maker');
  });

  it('refuses a form that was opened before somebody else’s change, and keeps what was typed', async () => {
    const code = await makeGarment(house);
    const { version } = standingIn((await house.data(`/garments/${code}/edit`)).body.fields);
    await house.send(`/garments/${code}/edit`, { ...CONE, note: 'first', version });
    const late = await house.submit(`/garments/${code}/edit`, asForm({ ...CONE, note: 'second', version }));
    expect(late.status).toBe(409);
    expect(late.text).toContain('was changed by Maker');
    expect(late.text).toContain('second</textarea>');
    expect((await pageOf(house, code)).note).toBe('first');
  });

  it('says so where the garment is not there', async () => {
    expect((await house.page('/garments/G999')).status).toBe(404);
    expect((await house.page('/garments/G999/edit')).status).toBe(404);
    expect((await house.send('/garments/G999/finished', {})).status).toBe(404);
    expect((await house.page('/garments/G999/tiers/new')).status).toBe(404);
  });
});

describe('finishing a garment', () => {
  it('moves it to the finished ones, where nothing of it is changed until it is reopened', async () => {
    const code = await makeGarment(house);
    const stock = stockOf(house);
    await makeTierOf(house, code, stock);
    const finished = await house.send(`/garments/${code}/finished`, {});
    expect(finished.body.said).toBe(`Petticoat, ${code}, is finished.`);
    const list = (await house.data('/garments')).body;
    expect(list.finished.map((row: { code: string }) => row.code)).toContain(code);
    expect(list.open.map((row: { code: string }) => row.code)).not.toContain(code);
    const page = await pageOf(house, code);
    expect(page.links).toBeNull();
    expect(page.needs[0]).toMatchObject({ strips: 2, met: null });
    const refused = await house.send(`/garments/${code}/edit`, CONE);
    expect(refused.status).toBe(409);
    expect(refused.body.error.problems[0].message).toContain('reopen it first');
    expect((await house.send(`/garments/${code}/finished`, {})).status).toBe(409);
    await house.send(`/garments/${code}/reopened`, {});
    expect((await pageOf(house, code)).links).not.toBeNull();
  });
});

describe('typed lengths', () => {
  it('never turn inches into centimetres for a reader of the other system', async () => {
    const code = await makeGarment(house);
    useImperial(house);
    const { girths } = standingIn((await house.data(`/garments/${code}/edit`)).body.fields);
    expect(girths.slice(0, 2)).toMatchObject([
      { drop: '0', girth: '95 cm' },
      { drop: '100 cm', girth: '295 cm' },
    ]);
    const again = await house.send(`/garments/${code}/edit`, { ...CONE, girths });
    expect(again.status).toBe(200);
    expect((await pageOf(house, code)).girths[1]?.girth).toBe('≈ 116⅛ in');
  });
});
