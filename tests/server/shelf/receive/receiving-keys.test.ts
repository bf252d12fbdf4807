import { type Element, JSDOM } from 'jsdom';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { type Furnished, furnish } from '../furnished.ts';

let house: TestHouse;
let ids: Furnished;

beforeEach(async () => {
  house = await openTestHouse();
  ids = await furnish(house);
});
afterEach(() => house.shut());

const MEASURED = ['49.8', '50.2', '49.9', '50', '50.1', '49.75', '50', '49.6', '50.3', '49.9'];

/** Somebody at the keyboard: every character, every Tab and every letter in a select counts as a key. */
class Typist {
  keys = 0;
  readonly filled: Record<string, string> = {};
  readonly #stops: Element[];
  #at = -1;

  /** Starts before the first field of the form that is sent to `action`, with what the page filled in. */
  constructor(html: string, action: string) {
    const form = new JSDOM(html).window.document.querySelector(`form[action="${action}"]`);
    if (!form) throw new Error(`no form goes to ${action}`);
    for (const field of form.querySelectorAll('input, select')) this.filled[field.name] = field.value;
    this.#stops = [
      ...form.querySelectorAll('input:not([type=hidden]), select, textarea, button, a, summary'),
    ];
  }

  goTo(name: string): this {
    const to = this.#stops.findIndex((stop) => stop.getAttribute('name') === name);
    if (to < 0) throw new Error(`no stop is called ${name}`);
    this.keys += Math.abs(to - this.#at);
    this.#at = to;
    return this;
  }

  type(text: string): this {
    const field = this.#here();
    if (text.length > Number(field.getAttribute('maxlength'))) throw new Error('the field is too short');
    this.filled[field.name] = text;
    this.keys += text.length;
    return this;
  }

  /** A select goes to an option by the letters that it begins with. */
  choose(label: string, letters: string): this {
    const options = [...this.#here().querySelectorAll('option')];
    const option = options.find((one) => one.textContent?.toLowerCase().startsWith(letters));
    if (option?.textContent !== label) throw new Error(`${letters} finds ${option?.textContent}`);
    this.filled[this.#here().name] = option.value;
    this.keys += letters.length;
    return this;
  }

  /** Enter sends the form. */
  enter(): Record<string, string> {
    this.keys += 1;
    return this.filled;
  }

  #here(): Element {
    const stop = this.#stops[this.#at];
    if (!stop) throw new Error('no field is gone to yet');
    return stop;
  }
}

describe('ten bolts', () => {
  it('of an order are on the shelf in one page and 110 keys at most', async () => {
    const line = { cloth_id: ids.organza, shade_id: ids.moss, bolts: '10', length: '50', price: '180' };
    await house.send('/orders/new', { supplier_id: ids.supplier, price_per: 'm', lines: [line] }).expect(200);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const page = await house.page('/orders/P1/receipts').expect(200);
    const typist = new Typist(page.text, '/orders/P1/receipts');
    typist.goTo('pieces.0.length').type(MEASURED[0] ?? '');
    typist.goTo('pieces.0.mill_lot').type('4471');
    typist.goTo('pieces.0.place_id').choose('Rack 1', 'r');
    MEASURED.slice(1).forEach((measured, i) => {
      typist.goTo(`pieces.${i + 1}.length`).type(measured);
    });
    await house.submit('/orders/P1/receipts', typist.enter()).expect(303);
    expect(typist.keys).toBeLessThanOrEqual(110);
    await expectTen();
  });

  it('without an order are on the shelf in two pages and 110 keys at most', async () => {
    const page = await house.page('/shelf/receive').expect(200);
    const typist = new Typist(page.text, '/shelf/receive');
    typist.goTo('supplier_id').choose('Weaver', 'w');
    typist.goTo('pieces.0.cloth_id').choose('Nylon organza', 'n');
    typist.goTo('pieces.0.shade_id').choose('Moss', 'm');
    typist.goTo('pieces.0.mill_lot').type('4471');
    typist.goTo('pieces.0.length').type(MEASURED.join(';'));
    typist.goTo('pieces.0.place_id').choose('Rack 1', 'r');
    const check = await house.submit('/shelf/receive', { ...typist.enter(), step: 'check' }).expect(200);
    const second = new Typist(check.text, '/shelf/receipts');
    await house.submit('/shelf/receipts', second.enter()).expect(303);
    expect(typist.keys + second.keys).toBeLessThanOrEqual(110);
    await expectTen();
  });
});

async function expectTen(): Promise<void> {
  const { body } = await house.data('/shelf/receipts/1').expect(200);
  expect(body.pieces).toHaveLength(10);
  expect(body.inAll).toBe('499.55 m in 10 pieces');
  expect(new Set(body.pieces.map(({ lot }: { lot: { code: string } }) => lot.code)).size).toBe(1);
  expect(body.pieces.every(({ place }: { place: string }) => place === 'Rack 1')).toBe(true);
}

describe('several lengths in one row', () => {
  it('are pieces alike; a wrong one is told at the field, as typed', async () => {
    const row = { cloth_id: ids.organza, shade_id: ids.white, mill_lot: '-' };
    const refused = await house
      .send('/shelf/receive', { pieces: [{ ...row, length: '3; ten; 4' }] })
      .expect(422);
    expect(refused.body.error.problems).toMatchObject([{ field: 'pieces.0.length' }]);
    const many = Array.from({ length: 60 }, () => '1').join(';');
    const tooMany = await house
      .send('/shelf/receipts', {
        pieces: [
          { ...row, length: many },
          { ...row, length: many },
        ],
      })
      .expect(422);
    expect(tooMany.body.error.message).toContain('at most 100 pieces');
  });
});
