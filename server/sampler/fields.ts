import type { DrawnField } from '../kit/form-drawing.ts';

const SHADES = ['Lantern gold', 'Foam', 'Kelp'].map((label) => ({ value: label, label }));

/** A field of every kind, each with something that the others have not: hint, unit, echo, suggestions, an error. */
export function samplerFields() {
  return {
    kinds: [
      { name: 'sampler_name', label: 'Name', value: 'Harbour skirt', hint: 'As it stands on the tag.' },
      { name: 'sampler_length', label: 'Length', value: '2 3/4 yd', unit: 'yd', echo: '2.51 m' },
      { name: 'sampler_count', label: 'Strips', kind: 'number', value: '12', size: 'short' },
      { name: 'sampler_shade', label: 'Shade', kind: 'select', value: 'Foam', options: SHADES },
      { name: 'sampler_due', label: 'Due', kind: 'date', value: '2026-03-21', required: false },
      {
        name: 'sampler_place',
        label: 'Place',
        value: 'Rack A',
        suggest: ['Rack A', 'Rack B'],
        required: false,
      },
      { name: 'sampler_secret', label: 'Passphrase', kind: 'password', value: '' },
      {
        name: 'sampler_gone',
        label: 'Used-up pieces too',
        kind: 'checkbox',
        value: 'yes',
        checked: true,
        hint: 'They are not added up.',
      },
      {
        name: 'sampler_note',
        label: 'Note',
        kind: 'textarea',
        value: 'Right by lantern light.',
        size: 'long',
        rows: 2,
        required: false,
      },
    ] satisfies DrawnField[],
    filters: [
      { name: 'cloth', label: 'Cloth', kind: 'select', value: 'Foam', options: SHADES, filter: true },
      { name: 'lot', label: 'Lot', kind: 'search', value: 'L12', filter: true },
    ] satisfies DrawnField[],
    rows: [0, 1].map((index) => ({
      index,
      drop: {
        name: `sampler_rows.${index}.drop`,
        label: 'Drop',
        value: index === 0 ? '0' : '110',
        unit: 'cm',
      },
      girth: { name: `sampler_rows.${index}.girth`, label: 'Girth', value: '', unit: 'cm' },
    })),
    shares: [0, 1].map((index) => ({
      index,
      fibre: { name: `sampler_shares.${index}.fibre`, label: 'Fibre', value: index === 0 ? 'Silk' : '' },
      share: { name: `sampler_shares.${index}.share`, label: 'Share', value: '', unit: '%' },
    })),
    pairs: [
      { name: 'sampler_ph', label: 'pH', value: '4.5', size: 'short' },
      { name: 'sampler_ratio', label: 'Liquor ratio', value: '1:30', size: 'short' },
    ] satisfies DrawnField[],
    cell: { name: 'sampler_cell', label: 'Length', value: '12 m', row: 1 },
    bench: [
      { name: 'sampler_taken', label: 'Actual length used', value: '1.3', unit: 'm' },
      { name: 'sampler_read', label: 'I have read the cautions', kind: 'checkbox', value: 'yes' },
    ] satisfies DrawnField[],
  };
}
