import type { Reader } from '../database/book.ts';
import { queryText } from '../kit/address.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { samplerFields } from './fields.ts';
import { samplerPictures } from './pictures.ts';

const SCHEMES = [
  { value: '', name: 'As this device' },
  { value: 'light', name: 'Light' },
  { value: 'dark', name: 'Dark' },
] as const;

/** Every part of the pages once, by the partials and classes that the pages themselves use. */
export function samplerPage(reader: Reader, query: unknown, { units }: Pick<Asker, 'units'>, today: string) {
  const asked = queryText(query, 'scheme');
  const data = {
    scheme: SCHEMES.find(({ value }) => value === asked)?.value ?? '',
    schemes: SCHEMES.map(({ value, name }) => ({
      value,
      name,
      href: value === '' ? '/sampler' : `/sampler?scheme=${value}`,
    })),
    done: {
      said: 'Took 1.3 m of B12 for Tier 2.',
      key: 'sampler-done',
      canUndo: true,
      undoKey: 'sampler-undo',
    },
    errors: {
      problems: [
        { field: 'sampler_width', message: 'Usable width: enter a number, such as 147 or 58 in.' },
        { field: 'sampler_rows', message: 'Girths: give the waist and one girth below it.' },
      ],
      wayOn: { href: '/shelf', text: 'See what is on the shelf' },
      saves: true,
      names: new Map<string, string>(),
    },
    fields: samplerFields(),
    /** what the partials of a refused form read */
    refused: {
      problems: [{ field: 'sampler_rows', message: 'Girths: give the waist and one girth below it.' }],
    },
    pictures: samplerPictures(reader, units, today),
    pager: {
      from: 21,
      to: 40,
      total: 58,
      noun: 'pieces',
      previous: '/shelf',
      next: '/shelf?page=2',
    },
    table: {
      caption: 'What a bolt of 30 m gives',
      columns: [{ label: 'Strip' }, { label: 'Cut length' }, { label: 'Strips', num: true }],
      rows: [
        [{ text: 'Tier 1', href: '/garments' }, '24 cm', 6],
        ['Tier 2', '32 cm', 12],
      ],
      foot: ['Total', '', '18'],
    },
    sources: [
      { of: 'Difference', source: 'CIEDE2000 (ISO/CIE 11664-6)' },
      { of: 'Bands', source: 'our rule' },
    ],
  };
  return { view: 'sampler/sampler', data, title: 'Sampler', room: null } satisfies Page;
}
