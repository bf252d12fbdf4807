import { FIBRES, type FibreCode } from '../../../src/dye/fibre.ts';
import { readLength } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { queryText } from '../../kit/address.ts';
import { type Choice, clothChoices, placeChoices, shadeChoices, withBlank } from '../../kit/choices.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';

export const SORTS = ['shade', 'cloth', 'longest', 'newest'] as const;
export type Sort = (typeof SORTS)[number];

/** What the shelf was asked for, as it was typed; all of it stands in the address. */
export interface AskedOfShelf {
  readonly cloth: string;
  readonly fibre: string;
  readonly shade: string;
  readonly lot: string;
  readonly place: string;
  readonly free: string;
  readonly width: string;
  readonly sort: Sort;
  readonly gone: '' | 'yes';
}

/** The same, read: null asks for nothing. */
export interface Filters {
  readonly clothId: number | null;
  readonly fibre: FibreCode | null;
  readonly shadeId: number | null;
  readonly lot: string;
  readonly placeId: number | 'none' | null;
  readonly leastFreeTicks: number | null;
  readonly leastWidthTicks: number | null;
  readonly gone: boolean;
}

export interface ShelfFilters {
  readonly asked: AskedOfShelf;
  readonly filters: Filters;
  readonly choices: {
    readonly cloths: readonly Choice[];
    readonly fibres: readonly Choice[];
    readonly shades: readonly Choice[];
    readonly places: readonly Choice[];
    readonly sorts: readonly Choice[];
  };
  /** what could not be read, by field; such a filter is not applied */
  readonly wrong: { readonly free: string; readonly width: string };
  /** what a bare number means in these fields */
  readonly unit: { readonly free: string; readonly width: string };
  /** whether anything but the order was asked for */
  readonly narrowed: boolean;
}

/** Reads the query of the shelf's address. A choice that is not offered asks for nothing. */
export function readFilters(reader: Reader, query: unknown, units: Units): ShelfFilters {
  const choices = {
    cloths: withBlank(clothChoices(reader), 'any cloth'),
    fibres: withBlank(
      FIBRES.map(({ code, name }) => ({ value: code, label: name })),
      'any fibre',
    ),
    shades: withBlank(shadeChoices(reader), 'any shade'),
    places: withBlank([...placeChoices(reader), { value: 'none', label: 'no place' }], 'any place'),
    sorts: SORT_CHOICES,
  };
  const among = (name: string, offered: readonly Choice[]) =>
    offered.find(({ value }) => value === queryText(query, name))?.value ?? '';
  const asked: AskedOfShelf = {
    cloth: among('cloth', choices.cloths),
    fibre: among('fibre', choices.fibres),
    shade: among('shade', choices.shades),
    lot: queryText(query, 'lot').slice(0, 60),
    place: among('place', choices.places),
    free: queryText(query, 'free').slice(0, 60),
    width: queryText(query, 'width').slice(0, 60),
    sort: SORTS.find((sort) => sort === queryText(query, 'sort')) ?? 'shade',
    gone: queryText(query, 'gone') === 'yes' ? 'yes' : '',
  };
  const free = readLeast(asked.free, lengthUnit(units));
  const width = readLeast(asked.width, sizeUnit(units));
  return {
    asked,
    filters: {
      clothId: asked.cloth === '' ? null : Number(asked.cloth),
      fibre: FIBRES.find(({ code }) => code === asked.fibre)?.code ?? null,
      shadeId: asked.shade === '' ? null : Number(asked.shade),
      lot: asked.lot,
      placeId: asked.place === '' ? null : asked.place === 'none' ? 'none' : Number(asked.place),
      leastFreeTicks: free.ticks,
      leastWidthTicks: width.ticks,
      gone: asked.gone === 'yes',
    },
    choices,
    wrong: { free: free.wrong, width: width.wrong },
    unit: { free: lengthUnit(units), width: sizeUnit(units) },
    narrowed: isNarrowed(asked),
  };
}

const SORT_CHOICES: readonly Choice[] = [
  { value: 'shade', label: 'by shade' },
  { value: 'cloth', label: 'by cloth' },
  { value: 'longest', label: 'longest free' },
  { value: 'newest', label: 'newest' },
];

function readLeast(typed: string, unit: 'm' | 'yd' | 'cm' | 'in'): { ticks: number | null; wrong: string } {
  if (typed === '') return { ticks: null, wrong: '' };
  const reading = readLength(typed, unit);
  return reading.ok ? { ticks: reading.value, wrong: '' } : { ticks: null, wrong: reading.reason };
}

function isNarrowed({ sort: _, ...asked }: AskedOfShelf): boolean {
  return Object.values(asked).some((text) => text !== '');
}
