import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Eta } from 'eta';
import { HtmlValidate } from 'html-validate';
import { type Element, JSDOM, type Part } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { ASSET_LINKS } from '../../../server/web/assets.ts';
import { ROOMS, type Shell } from '../../../server/web/shell-data.ts';
import { render, renderPage } from '../../../server/web/views.ts';

const VIEWS = fileURLToPath(new URL('../../../views/', import.meta.url));

const shell: Shell = {
  title: 'Shelf',
  room: 'shelf',
  path: '/shelf?cloth=2',
  workroomName: 'Harbour Parade',
  invented: false,
  who: { id: 1, name: 'Imre' },
  keyPrefix: 'w1-1-abc123_',
  people: [
    { id: 1, name: 'Imre' },
    { id: 2, name: 'Dagny <b>' },
  ],
  done: null,
  savedBefore: null,
  sentForm: null,
  rooms: ROOMS,
  signed: null,
  notice: '',
  asOf: '2 Mar 2026, 12:00',
  trouble: null,
  problems: [],
  saves: true,
  wayOn: null,
  waiting: 0,
  drawsAgain: false,
  assets: ASSET_LINKS,
};

const page = (more: Partial<Shell> = {}) => {
  const given = { ...shell, ...more };
  return new JSDOM(renderPage('errors/refused', { error: { message: 'Too large.' } }, given)).window.document;
};

const part = (name: string, data: object) => JSDOM.fragment(render(`partials/${name}`, data));

function mustHave(root: Part, selector: string): Element {
  const found = root.querySelector(selector);
  if (!found) throw new Error(`there is no ${selector}`);
  return found;
}

const text = (element: Element) => (element.textContent ?? '').replace(/\s+/g, ' ').trim();

describe('a page of which figures are missing yet', () => {
  it('says of how many cloths and shades, and is drawn again by itself', () => {
    const again = page({ waiting: 3, drawsAgain: true });
    expect(text(mustHave(again, 'main .slip-note'))).toMatch(/^Not all yet .* 3 cloths and shades is still/);
    expect(again.querySelector('meta[http-equiv="refresh"]')).not.toBeNull();
    expect(again.querySelector('main .slip-note a')).toBeNull();
  });

  it('is drawn again only when it is asked for where somebody may be typing', () => {
    const form = page({ waiting: 1, drawsAgain: false });
    expect(form.querySelector('meta[http-equiv="refresh"]')).toBeNull();
    expect(mustHave(form, 'main .slip-note a').getAttribute('href')).toBe('/shelf?cloth=2');
    expect(page().querySelector('main .slip-note')).toBeNull();
  });
});

describe('drawing a view', () => {
  it('escapes what people typed, quotes included', () => {
    expect(render('partials/key', { key: `"><script>&'` })).toContain(
      'value="&quot;&gt;&lt;script&gt;&amp;&#39;"',
    );
  });

  it.each([
    ['nothing', undefined],
    ['null', null],
    ['a number that is none', Number.NaN],
    ['an object', {}],
    ['true', true],
  ])('throws on %s and names the template', (_, key) => {
    expect(() => render('partials/key', { key })).toThrow(/partials\/key\.eta/);
  });

  it('knows no view outside its folder', () => {
    expect(() => render('../package', {})).toThrow();
    expect(() => render('no-such-view', {})).toThrow(/no-such-view/);
  });

  it('finds every template well formed', () => {
    const eta = new Eta();
    const names = readdirSync(VIEWS, { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.eta'),
    );
    expect(names.length).toBeGreaterThanOrEqual(16);
    for (const name of names)
      expect(() => eta.compile(readFileSync(VIEWS + name, 'utf8')), name).not.toThrow();
  });
});

describe('the layout', () => {
  it('is valid HTML with everything on it', async () => {
    const validator = new HtmlValidate({
      extends: ['html-validate:standard'],
      rules: {
        'doctype-style': 'off',
        'no-trailing-whitespace': 'off',
        'void-style': ['error', { style: 'omit' }],
      },
    });
    const done = { said: '1.5 m cut from B12.', key: 'k1', canUndo: true, undoKey: 'k2' };
    const problems = [{ field: 'length', message: 'Write 1.5 or 1500' }];
    const html = renderPage(
      'errors/internal',
      { error: { reference: 'a1' } },
      { ...shell, invented: true, done, problems },
    );
    const report = await validator.validateString(html);
    expect(
      report.results.flatMap(({ messages }) => messages.map(({ line, message }) => `${line}: ${message}`)),
    ).toEqual([]);
  });

  it('leads to every room and marks the current one', () => {
    const links = [...page().querySelectorAll('.rooms a')];
    expect(links.map((link) => [link.getAttribute('href'), text(link)])).toEqual(
      ROOMS.map(({ href, name }) => [href, name]),
    );
    const current = links.filter((link) => link.hasAttribute('aria-current'));
    expect(current.map((link) => [text(link), link.getAttribute('aria-current')])).toEqual([
      ['Shelf', 'true'],
    ]);
    expect(mustHave(page({ path: '/shelf' }), '.rooms [aria-current="page"]').textContent).toBe('Shelf');
    expect(page({ room: null }).querySelector('.rooms [aria-current]')).toBeNull();
  });

  it('says in an invented workroom that it is one, and only there', () => {
    expect(text(mustHave(page({ invented: true }), '.banner'))).toMatch(/^Invented workroom/);
    expect(page().querySelector('.banner')).toBeNull();
  });

  it('asks who is working and comes back to this page', () => {
    const form = mustHave(page(), 'form[action="/setup/working-as"]');
    expect(form.querySelector('[name="back"]')?.getAttribute('value')).toBe('/shelf?cloth=2');
    expect(
      [...form.querySelectorAll('option')].map((option) => [
        option.value,
        option.textContent,
        option.selected,
      ]),
    ).toEqual([
      ['1', 'Imre', true],
      ['2', 'Dagny <b>', false],
    ]);
    expect(page({ people: [] }).querySelector('form[action="/setup/working-as"]')).toBeNull();
  });

  it('tells what was done and offers to undo it where that is possible', () => {
    const done = { said: '1.5 m cut from B12.', key: 'k1', canUndo: true, undoKey: 'k2' };
    const slip = mustHave(page({ done }), '.slip-done');
    expect(text(slip)).toBe('Done 1.5 m cut from B12. Undo');
    const sent = [...slip.querySelectorAll('input')].map((input) => [input.name, input.value]);
    expect(sent).toEqual([
      ['request_key', 'k2'],
      ['undoes', 'k1'],
    ]);
    expect(page({ done: { ...done, canUndo: false } }).querySelector('form[action="/undo"]')).toBeNull();
  });

  it('puts a refused form in the title and the summary first in focus', () => {
    const document = page({ problems: [{ field: 'pieces.0.length', message: 'Write 1.5 or 1500' }] });
    expect(document.title).toBe('Not saved: Shelf · Harbour Parade');
    expect(document.querySelector('[autofocus]')?.id).toBe('problems');
    expect(mustHave(document, '#problems a').getAttribute('href')).toBe('#f-pieces-0-length');
  });

  it('says a conflict of the whole form in one sentence, with a way on', () => {
    const problems = [{ field: '', message: 'Dagny cut 1.2 m at 14:03; 0.3 m is left.' }];
    const slip = mustHave(
      page({ problems, wayOn: { href: '/shelf/pieces/B12', text: 'See B12' } }),
      '#problems',
    );
    expect(text(slip)).toBe('Not saved Dagny cut 1.2 m at 14:03; 0.3 m is left. See B12');
  });
});

describe('a field', () => {
  const length = { name: 'length', label: 'Length', value: '1,500', unit: 'm', hint: 'As measured.' };

  it('keeps what was typed and ties hint and error to the control', () => {
    const problems = [{ field: 'length', message: 'Write 1.5 or 1500' }];
    const root = part('field', { field: length, shell: { ...shell, problems } });
    const input = mustHave(root, 'input');
    expect(input.getAttribute('value')).toBe('1,500');
    expect(input.id).toBe('f-length');
    expect(input.getAttribute('aria-invalid')).toBe('true');
    const tied = (input.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .map((id) => text(mustHave(root, `#${id}`)));
    expect(tied).toEqual(['As measured.', 'Write 1.5 or 1500']);
    expect(text(mustHave(root, 'label[for="f-length"]'))).toBe('Length');
  });

  it('has its own id in each of two forms, and the linked one where the error is', () => {
    const id = (more: object) =>
      mustHave(part('field', { field: { ...length, ...more }, shell }), 'input').id;
    expect(id({ form: 'split' })).toBe('f-split-length');
    expect(id({ form: 'split', error: 'Too long' })).toBe('f-length');
  });

  it('says which fields may stay empty, but not in filters', () => {
    const label = (more: object) =>
      text(mustHave(part('field', { field: { ...length, ...more }, shell }), 'label'));
    expect(label({ required: false })).toBe('Length (optional)');
    expect(label({ required: false, filter: true })).toBe('Length');
    expect(
      part('field', { field: { ...length, filter: true }, shell }).querySelector('[aria-required]'),
    ).toBeNull();
  });

  it('can be a choice, a longer text or a tick', () => {
    const options = [
      { value: 1, label: 'Organza' },
      { value: 2, label: 'Tulle' },
    ];
    const select = part('field', {
      field: { name: 'cloth', label: 'Cloth', kind: 'select', options, value: '2' },
      shell,
    });
    expect([...select.querySelectorAll('option')].filter((option) => option.selected).map(text)).toEqual([
      'Tulle',
    ]);
    const long = part('field', {
      field: { name: 'note', label: 'Note', kind: 'textarea', value: '\n a <b>\n' },
      shell,
    });
    expect(mustHave(long, 'textarea').textContent).toBe('\n a <b>\n');
    const tick = part('field', {
      field: { name: 'one_lot', label: 'One lot', kind: 'checkbox', checked: true },
      shell,
    });
    expect(mustHave(tick, 'input[type="checkbox"][value="yes"]').hasAttribute('checked')).toBe(true);
  });
});

describe('a chip', () => {
  it('shows the colour beside the name and lot, never alone', () => {
    const chip = part('chip', { chip: { colour: '#5b7f43', name: 'Moss', lot: 'L14' } });
    expect(mustHave(chip, 'path').getAttribute('fill')).toBe('#5b7f43');
    expect(text(mustHave(chip, '.chip-text'))).toBe('Moss lot L14');
  });

  it('is hatched and says so where no colour is recorded', () => {
    const chip = part('chip', { chip: { colour: null, name: 'Greige' } });
    expect(mustHave(chip, 'path').getAttribute('fill')).toBe('url(#hatch)');
    expect(text(mustHave(chip, '.chip-text'))).toBe('Greige no colour recorded');
  });
});
