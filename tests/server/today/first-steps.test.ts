import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cutLength, holdLength } from '../../../server/ledger/verbs.ts';
import type { FirstStep } from '../../../server/today/first-steps.ts';
import { length, makeBolt, makeStock, makeTier, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

async function steps(): Promise<FirstStep[]> {
  return (await house.data('/').expect(200)).body.steps;
}

const done = async () => (await steps()).filter((step) => step.done).map(({ text }) => text);

describe('an empty book', () => {
  it('is welcomed with the road, every step a link to a page that is there', async () => {
    const page = await house.page('/').expect(200);
    expect(page.text).toContain('<h1 id="title" tabindex="-1">Welcome</h1>');
    const road = await steps();
    expect(road).toHaveLength(6);
    for (const { text, href } of road) {
      expect(page.text).toContain(`href="${href}"`);
      expect(page.text).toContain(text);
      await house.page(href).expect(200);
    }
    expect(await done()).toEqual([]);
  });

  it('names the step that comes next, and no other', async () => {
    const page = await house.page('/').expect(200);
    expect(page.text.match(/aria-current="step"/g)).toHaveLength(1);
  });
});

describe('what a new book is asked first', () => {
  const ASKED = { name: 'Parade loft', person: 'Ilse', length_system: 'imperial', currency: 'chf' };

  it('is whose it is, who works in it, in which units and currency, in one form', async () => {
    const page = await house.page('/').expect(200);
    expect(page.text).toContain('Whose book is it?');
    expect(page.text).toContain('href="/shelf/receive">Add pieces');
    expect(page.text).toContain('href="/setup/lists/new">Paste a list');
    const sent = await house.submit('/', ASKED).expect(303);
    const { text } = await house.page(sent.headers.location ?? '').expect(200);
    expect(text).toContain('This is the book of Parade loft, and Ilse works in it.');
    expect(text).not.toContain('Whose book is it?');
    expect((await house.data('/').expect(200)).body.first).toBeNull();
    expect((await house.page('/setup').expect(200)).text).toMatch(/value="CHF"/);
    const { people } = (await house.data('/setup/people').expect(200)).body;
    expect(people.map(({ name }: { name: string }) => name)).toEqual(['Ilse']);
    expect(await done()).toEqual(['Name the workroom and who works here']);
  });

  it('tells what is wrong at its field, and keeps what was typed', async () => {
    const { status, text } = await house.submit('/', { ...ASKED, person: '', currency: 'money' });
    expect(status).toBe(422);
    expect(text).toContain('Your name must be filled in.');
    expect(text).toContain('Enter a currency code, such as EUR.');
    expect(text).toContain('value="Parade loft"');
    expect((await house.data('/').expect(200)).body.first).not.toBeNull();
  });

  it('still welcomes while only a supplier is there', async () => {
    await house.submit('/', ASKED).expect(303);
    house.write((tx) =>
      tx.run(tx.db.insertInto('supplier').values({ name: 'Wharf mill', lead_days: null, note: '' })),
    );
    expect((await house.page('/').expect(200)).text).toContain('Three ways to begin');
    expect(await done()).toHaveLength(1);
  });
});

describe('the road', () => {
  it('is ticked off as it is walked, and gone once strips were cut', async () => {
    await house.submit('/setup', {
      name: 'Parade loft',
      length_system: 'metric',
      currency: 'EUR',
      useful_remnant: '',
    });
    expect(await done()).toEqual(['Name the workroom and who works here']);
    const stock = house.write((tx) => makeStock(tx));
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '5 m'));
    expect(await done()).toContain('Receive what lies on the shelf');
    const tierId = house.write((tx) => makeTier(tx, stock));
    expect(await done()).toHaveLength(4);
    const taken = { lengthTicks: length('32 cm'), typed: '32 cm' };
    house.write((tx) => holdLength(tx, bolt.id, tierId, taken));
    expect(await done()).toHaveLength(5);
    expect((await house.page('/').expect(200)).text).toContain('Progress');
    house.write((tx) => cutLength(tx, bolt.id, { tierId, strips: 1, ...taken }));
    expect(await steps()).toEqual([]);
    expect((await house.page('/').expect(200)).text).not.toContain('Progress');
  });

  it('leads to the garment that wants tiers', async () => {
    house.write((tx) =>
      tx.run(
        tx.db.insertInto('garment').values({ code: 'G7', name: 'Cape', due_on: null, finished_at: null }),
      ),
    );
    expect((await steps()).find(({ text }) => text === 'Give it tiers')?.href).toBe('/garments/G7');
  });
});
