import { HtmlValidate } from 'html-validate';
import { JSDOM } from 'jsdom';
import { describe, expect, it } from 'vitest';
import { shapeTape } from '../../../server/kit/tape.ts';
import { render } from '../../../server/web/views.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { METRIC } from '../../../src/quantity/length-show.ts';

const tape = shapeTape({
  name: 'B12',
  onHandTicks: 12 * TICKS_PER.m,
  heldTicks: 3 * TICKS_PER.m,
  usedTicks: 8 * TICKS_PER.m,
  flawsAtTicks: [4 * TICKS_PER.m],
  maxTicks: 20 * TICKS_PER.m,
  units: METRIC,
});
const fields = [
  { name: 'length', label: 'Length', unit: 'm', hint: 'As measured.', echo: 'Read as 1.5 m', value: '1.5' },
  { name: 'place', label: 'Place', suggest: ['Rack A', 'Rack B'], required: false, error: 'Too long' },
  { name: 'cloth', label: 'Cloth', kind: 'select', options: ['Organza', 'Tulle'], hint: 'One of ours.' },
  { name: 'note', label: 'Note', kind: 'textarea', maxlength: 500, rows: 3 },
  { name: 'one_lot', label: 'One lot', kind: 'checkbox', checked: true, hint: 'Of one shade.' },
  { name: 'due_on', label: 'Due', kind: 'date', min: '2026-01-01' },
  { name: 'count', label: 'Bolts', kind: 'number', value: 3, autofocus: true },
];
const table = {
  caption: 'Entries',
  columns: [{ label: 'What' }, { label: 'Length', num: true }],
  rows: [[{ text: 'held', href: '/garments/1' }, '3 m']],
  foot: ['Balance', '3 m'],
};
const drawn: [string, object][] = [
  ...fields.map((field): [string, object] => ['field', { field }]),
  ['key', { key: 'a1' }],
  [
    'slip',
    {
      slip: {
        kind: 'warn',
        text: 'Powder harms lungs.',
        more: ['Wear a mask.'],
        link: { href: '/dye-bench', text: 'How' },
      },
    },
  ],
  ['slip', { slip: { text: 'One flaw.' } }],
  ['chip', { chip: { colour: '#5b7f43', name: 'Moss', lot: 'L14', href: '/shelf' } }],
  ['chip', { chip: { colour: null, name: 'Greige', large: true } }],
  ['tape', { tape }],
  ['tape-key', { tapeKey: { step: 'One tick is 1 m' } }],
  ['table', { table }],
  [
    'pager',
    { pager: { from: 51, to: 100, total: 320, noun: 'pieces', previous: '/shelf', next: '/shelf?page=3' } },
  ],
  [
    'empty',
    {
      empty: {
        text: 'Nothing yet.',
        why: 'So far.',
        links: [{ href: '/shelf/receive', text: 'Receive cloth' }],
      },
    },
  ],
  ['errors', { errors: { problems: [{ field: 'length', message: 'Write 1.5' }], wayOn: null } }],
];

describe('the partials', () => {
  it('are valid HTML, one after another on one page', async () => {
    const validator = new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'no-trailing-whitespace': 'off', 'void-style': ['error', { style: 'omit' }] },
    });
    const main = drawn.map(([name, data]) => render(`partials/${name}`, data)).join('');
    const report = await validator.validateString(
      `<!DOCTYPE html><html lang="en"><head><title>All</title></head><body><main><h1>All</h1>${main}</main></body></html>`,
    );
    expect(
      report.results.flatMap(({ messages }) => messages.map(({ line, message }) => `${line}: ${message}`)),
    ).toEqual([]);
  });

  it('draw a tape with its words, its free part solid, its held part hatched and a notch for the flaw', () => {
    const svg = JSDOM.fragment(render('partials/tape', { tape }));
    expect(svg.querySelector('[role="img"] > title')?.textContent).toBe(tape.said);
    expect(svg.querySelector('.tape-solid')?.getAttribute('width')).toBe('180');
    expect(svg.querySelector('[fill="url(#hatch)"]')?.getAttribute('x')).toBe('180');
    expect(svg.querySelector('.tape-used')?.getAttribute('width')).toBe('160');
    expect(svg.querySelector('.tape-notch')?.getAttribute('d')).toBe('M75 23l5 -10l5 10');
  });

  it('label every cell of a table, for when its rows become slips', () => {
    const cells = [...JSDOM.fragment(render('partials/table', { table })).querySelectorAll('td')];
    expect(cells.map((cell) => cell.getAttribute('data-label'))).toEqual([
      'What',
      'Length',
      'What',
      'Length',
    ]);
  });

  it('lead from page to page only where there is one', () => {
    const pager = { from: 1, to: 8, total: 8, noun: 'pieces', previous: null, next: null };
    const nav = JSDOM.fragment(render('partials/pager', { pager }));
    expect(nav.querySelector('a')).toBeNull();
    expect(nav.querySelector('.count')?.textContent).toBe('1–8 of 8 pieces');
    const none = JSDOM.fragment(render('partials/pager', { pager: { ...pager, from: 0, to: 0, total: 0 } }));
    expect(none.querySelector('.count')?.textContent).toBe('No pieces');
  });
});
