import { Agent } from 'node:http';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../../../server/refusal.ts';
import { newKey, openTestHouse, type TestHouse } from '../support.ts';

// The people of the workroom stand for any form: one text, one choice, one row in the book.
let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const people = () =>
  house.book.all(house.book.db.selectFrom('person').select('name').orderBy('id')).map(({ name }) => name);

describe('a form', () => {
  it('goes on to the page that tells what was done, once', async () => {
    const key = newKey();
    const sent = await house
      .submit('/setup/people', { request_key: key, name: 'Ana', length_system: '' })
      .expect(303);
    expect(sent.headers.location).toBe(`/setup/people?done=${key}`);
    const page = await house.page(sent.headers.location ?? '').expect(200);
    expect(page.text).toContain('Ana works here now.');
    // Nothing of the ledger was touched, so there is nothing to undo.
    expect(page.text).not.toContain('>Undo<');
    expect((await house.page('/setup/people')).text).not.toContain('works here now');
  });

  it('sent twice at once is carried out once', async () => {
    const form = { request_key: newKey(), name: 'Ana', length_system: '' };
    const both = await Promise.all([
      house.submit('/setup/people', form),
      house.submit('/setup/people', form),
    ]);
    expect(both.map(({ status }) => status)).toEqual([303, 303]);
    expect(both[0]?.headers.location).toBe(both[1]?.headers.location);
    expect(people()).toEqual(['Maker', 'Ana']);
  });

  it('with a key that was used for something else is refused, and the text stays', async () => {
    const key = newKey();
    await house.submit('/setup/people', { request_key: key, name: 'Ana', length_system: '' }).expect(303);
    const other = await house.submit('/setup/people', { request_key: key, name: 'Ben', length_system: '' });
    expect(other.status).toBe(409);
    expect(other.text).toContain('sent before with other content');
    expect(other.text).toContain('value="Ben"');
    // The same key at another address is another request, too.
    await house.submit('/setup/people/1', { request_key: key, name: 'Ana', length_system: '' }).expect(409);
    expect(people()).toEqual(['Maker', 'Ana']);
  });

  it.each(['', 'short', 'has a space', 'x'.repeat(81)])('with the key “%s” is refused', async (key) => {
    const refused = await house.submit('/setup/people', { request_key: key, name: 'Ana', length_system: '' });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('request key');
    expect(people()).toEqual(['Maker']);
  });

  it('that was refused can be sent again under its key', async () => {
    const key = newKey();
    const wrong = { request_key: key, name: '', length_system: 'furlongs' };
    const refused = await house.submit('/setup/people', wrong).expect(422);
    expect(refused.text).toContain('Please fix 2 things');
    expect(refused.text).toContain('href="#f-name"');
    expect(refused.text).toContain('aria-invalid="true"');
    await house.submit('/setup/people', { request_key: key, name: 'Ana', length_system: '' }).expect(303);
  });

  it('with a field that is not its own is refused by name', async () => {
    const refused = await house.submit('/setup/people', { name: 'Ana', length_system: '', left_at: 'now' });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('There is no field left_at here: leave it out.');
  });
});

describe('an error page that answers a browser’s form', () => {
  const asBrowser = (path: string, fields: Record<string, string>) =>
    house.submit(path, fields).set('Accept', 'text/html,*/*;q=0.8');
  const follow = (sent: { headers: Record<string, string> }) => house.page(sent.headers.location ?? '');

  it('is led to by GET, so that Back never asks to resend the form', async () => {
    const sent = await asBrowser('/setup/people/99', { name: 'Ana', length_system: '' }).expect(303);
    expect(sent.headers.location).toMatch(/^\/forms\//);
    expect((await follow(sent).expect(404)).text).toContain('Not found');
    // The server closes this connection, so that nothing else is to be asked over it.
    const large = await asBrowser('/setup/people', { name: 'x'.repeat(2_000_000), length_system: '' }).agent(
      new Agent(),
    );
    expect(large.status).toBe(303);
    expect((await follow(large).expect(413)).text).toContain('more than a form may hold');
  });

  it('of a book that takes nothing more says so, and gives scripts its status at once', async () => {
    house.book.write = () => {
      throw new Refusal('not-saved', 'The disk is full.', undefined, {
        text: 'What to do',
        href: '/trouble',
      });
    };
    const sent = await asBrowser('/setup/people', { name: 'Ana', length_system: '' }).expect(303);
    const page = await follow(sent).expect(503);
    expect(page.text).toContain('The disk is full.');
    expect(page.text).toContain('href="/trouble"');
    const told = await house.send('/setup/people', { name: 'Ana', length_system: '' }).expect(503);
    expect(told.body.error).toMatchObject({ kind: 'not-saved', message: 'The disk is full.' });
  });

  it('tells a foreign site nothing and is not kept for it', async () => {
    const foreign = asBrowser('/setup/people', { name: 'Ana', length_system: '' });
    const turned = await foreign.set('Origin', 'http://elsewhere.example').expect(403);
    expect(turned.headers.location).toBeUndefined();
  });
});

describe('a script', () => {
  it('sends JSON of the same fields and gets the answer', async () => {
    const key = newKey();
    const { body } = await house.send('/setup/people', { request_key: key, name: 'Ana', length_system: '' });
    expect(body).toEqual({ location: '/setup/people', said: 'Ana works here now.', request_key: key });
  });

  it('gets every problem with its field, and the page as it stands', async () => {
    const { status, body } = await house.send('/setup/people', { name: '', length_system: 'x' });
    expect(status).toBe(422);
    expect(body.error.problems.map((problem: { field: string }) => problem.field)).toEqual([
      'name',
      'length_system',
    ]);
    expect(body.page.people).toHaveLength(1);
  });

  it('gets what is unknown or unreadable in the same shape', async () => {
    const unknown = await house.data('/setup/nothing').expect(404);
    expect(unknown.body.error).toMatchObject({ kind: 'unknown', message: 'There is no such page.' });
    const broken = await house.send('/setup/people', {}).type('json').send('{');
    expect(broken.status).toBe(400);
    expect(broken.body.error.kind).toBe('malformed');
  });
});

describe('a part of a page', () => {
  it('is told where to go instead of being redirected', async () => {
    const form = { name: 'Ana', length_system: '' };
    const sent = await house.submit('/setup/people', form).set('HX-Request-Type', 'partial').expect(200);
    expect(sent.headers['hx-location']).toMatch(/^\/setup\/people\?done=/);
    expect(sent.headers.vary).toContain('HX-Request-Type');
  });

  it('never takes a whole error page in', async () => {
    const missing = await house.page('/nowhere').set('HX-Request-Type', 'partial').expect(404);
    expect(missing.headers['hx-retarget']).toBe('body');
  });
});

describe('the limits', () => {
  it('stop a body of 2 MB before it is read', async () => {
    const large = await house.submit('/setup/people', { name: 'x'.repeat(2_000_000), length_system: '' });
    expect(large.status).toBe(413);
    expect(large.text).toContain('more than a form may hold');
  });

  it('take forms and JSON only', async () => {
    const xml = await house.submit('/setup/people', {}).agent(new Agent()).type('xml').send('<name/>');
    expect(xml.status).toBe(415);
    const text = await house.submit('/setup/people', {}).agent(new Agent()).type('text').send('name=Ana');
    expect(text.status).toBe(415);
  });
});
