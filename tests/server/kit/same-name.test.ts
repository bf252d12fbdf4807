import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { nameKey } from '../../../server/kit/same-name.ts';
import { checkBook } from '../../../server/ledger/check.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const cloth = {
  construction: 'organza',
  'fibres.0.fibre': 'nylon',
  width: '150',
  usable_width: '147',
};
const dye = { dye_class: 'acid-levelling', method: 'powder' };

const KINDS: readonly [what: string, path: string, fields: Record<string, string>, href: RegExp][] = [
  ['cloth', '/shelf/cloths/new', cloth, /^\/shelf\/cloths\/1$/],
  ['shade', '/shelf/shades/new', {}, /^\/shelf\/shades\/1$/],
  ['supplier', '/orders/suppliers', {}, /^\/orders\/suppliers\/1$/],
  ['place', '/shelf/places', {}, /^\/shelf\?place=1$/],
  ['person', '/setup/people', { length_system: '' }, /^\/setup\/people$/],
  ['dye', '/dye-bench/dyes', dye, /^\/dye-bench\/dyes\/1$/],
  ['vessel', '/dye-bench/vessels', { volume: '20' }, /^\/dye-bench\/vessels\/1$/],
];

describe('a name', () => {
  it('is told apart by letters, not by their case or by spaces', () => {
    expect(nameKey('  Deep \u00a0 Plum ')).toBe(nameKey('deep plum'));
    expect(nameKey('STRAßE')).toBe(nameKey('strasse'));
    expect(nameKey('Rack 1 1')).not.toBe(nameKey('Rack 11'));
  });

  it.each(KINDS)(
    'of a %s is refused where only its case and spaces differ, with a link to the one there',
    async (what, path, fields, href) => {
      await house.submit(path, { ...fields, name: 'Plum red' }).expect(303);
      const again = await house.submit(path, { ...fields, name: 'plum  RED' }).expect(422);
      expect(again.text).toContain(`There is a ${what} Plum red already`);
      expect(again.text).toContain('value="plum  RED"');
      const link = /<a href="([^"]*)">See Plum red<\/a>/.exec(again.text)?.[1] ?? '';
      expect(link).toMatch(href);
      await house.page(link).expect(200);
    },
  );

  it('that two rows of an older book share stays theirs until one is called otherwise', async () => {
    house.write((tx) => {
      for (const name of ['plum', 'Plum']) {
        tx.run(
          tx.db
            .insertInto('shade')
            .values({ name, ground: 0, lab_l: null, lab_a: null, lab_b: null, lab_how: null }),
        );
      }
    });
    expect(checkBook(house.book).findings).toEqual([]);
    await house.page('/shelf/shades').expect(200);
    await house.submit('/shelf/shades/2/edit', { name: 'Plum', note: 'the newer' }).expect(303);
    await house.submit('/shelf/shades/2/edit', { name: 'PLUM' }).expect(422);
    await house.submit('/shelf/shades/2/edit', { name: 'Plum 2' }).expect(303);
  });

  it('of a row may be written in another case', async () => {
    await house.submit('/shelf/shades/new', { name: 'plum' }).expect(303);
    await house.submit('/shelf/shades/1/edit', { name: 'Plum' }).expect(303);
  });
});
