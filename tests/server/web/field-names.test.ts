import { describe, expect, it } from 'vitest';
import { optionalWhole, wholeField } from '../../../server/kit/fields.ts';
import { drawFields } from '../../../server/kit/form-drawing.ts';
import { fieldNames } from '../../../server/web/field-names.ts';
import { render } from '../../../server/web/views.ts';
import { openTestHouse } from '../support.ts';

const field = (fields: object) => render('partials/field', { field: fields });
const linksOf = (html: string) =>
  [...html.matchAll(/<li><a href="#(f-[^"]*)">([^<]*)<\/a><\/li>/g)].map(([, id, text]) => [id, text]);

describe('the names of fields', () => {
  it('are what stands at the control, without tags, marks of optional fields and entities', () => {
    const html = [
      field({ name: 'usable_width', label: 'Usable width, "in use"', unit: 'cm' }),
      field({ name: 'note', label: 'Note', kind: 'textarea', required: false }),
      '<fieldset><legend>Piece <b>2</b></legend>',
      field({ name: 'pieces.1.length', label: 'Length' }),
      '</fieldset>',
      '<input id="f-row-0-lot" name="row.0.lot" type="text" aria-label="Lot, piece 1">',
    ].join('\n');
    expect([...fieldNames(html)]).toEqual([
      ['f-usable_width', 'Usable width, "in use"'],
      ['f-note', 'Note'],
      ['f-pieces-1-length', 'Piece 2, Length'],
      ['f-row-0-lot', 'Lot, piece 1'],
    ]);
  });

  it('stand before what is wrong in the summary of a refused form', async () => {
    const house = await openTestHouse();
    try {
      const form = { name: '', construction: '', usable_width: 'wide', full_width: '' };
      const { text } = await house.submit('/shelf/cloths/new', form).expect(422);
      const names = fieldNames(text);
      const links = linksOf(text).flatMap(([id = '', said = '']) => {
        const name = names.get(id);
        return name === undefined ? [] : [{ name, said }];
      });
      expect(links.length).toBeGreaterThan(1);
      const start = (text: string) => text.toLowerCase().replace(/^the /, '');
      for (const { name, said } of links)
        expect(start(said).startsWith(start(name)), `${name}: ${said}`).toBe(true);
    } finally {
      await house.shut();
    }
  });
});

describe('a field for a number', () => {
  it('takes as many characters as a number that is to be refused whole', () => {
    const fields = { few: wholeField({ min: 1, max: 9 }), some: optionalWhole({ min: 0, max: 12 }) };
    const drawn = Object.values(drawFields(fields, {}));
    expect(drawn).toHaveLength(2);
    // Two characters made "1." of 1.5, and the answer was about that.
    for (const { maxlength } of drawn) expect(maxlength).toBeGreaterThanOrEqual(10);
  });
});
