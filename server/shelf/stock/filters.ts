import { FIBRES } from '../../../src/dye/fibre.ts';
import { readLength } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { queryText } from '../../kit/address.ts';
import { type Choice, clothChoices, placeChoices, shadeChoices, withBlank } from '../../kit/choices.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';

const NO_PLACE = 'none';
const SORTS = ['shade', 'cloth', 'longest', 'newest'] as const;
export type Sort = (typeof SORTS)[number];

/** Reads the query of the shelf's address. A choice that is not offered asks for nothing. */
export function readFilters(reader: Reader, query: unknown, units: Units) {
  const choices = {
    cloths: withBlank(clothChoices(reader), 'any cloth'),
    fibres: withBlank(
      FIBRES.map(({ code, name }) => ({ value: code, label: name })),
      'any fibre',
    ),
    shades: withBlank(shadeChoices(reader), 'any shade'),
    places: withBlank([...placeChoices(reader), { value: NO_PLACE, label: 'no place' }], 'any place'),
    sorts: SORT_CHOICES,
  };
  const asked = readAsked(query, choices);
  const free = readLeast(asked.free, lengthUnit(units));
  const width = readLeast(asked.width, sizeUnit(units));
  return {
    asked,
    /** the same, read: null asks for nothing */
    filters: {
      clothId: asked.cloth === '' ? null : Number(asked.cloth),
      fibre: FIBRES.find(({ code }) => code === asked.fibre)?.code ?? null,
      shadeId: asked.shade === '' ? null : Number(asked.shade),
      lot: asked.lot === '' ? null : asked.lot,
      placeId: asked.place === '' || asked.place === NO_PLACE ? null : Number(asked.place),
      noPlace: asked.place === NO_PLACE,
      leastFreeTicks: free.ticks,
      leastWidthTicks: width.ticks,
      gone: asked.gone === 'yes',
    },
    choices,
    /** what could not be read, by field; such a filter is not applied */
    wrong: { free: free.wrong, width: width.wrong },
    /** what a bare number means in these fields */
    unit: { free: lengthUnit(units), width: sizeUnit(units) },
    /** whether anything but the order was asked for */
    narrowed: isNarrowed(asked),
  };
}

export type Filters = ShelfFilters['filters'];
export type ShelfFilters = ReturnType<typeof readFilters>;

type Choices = Readonly<Record<'cloths' | 'fibres' | 'shades' | 'places', readonly Choice[]>>;

/** What the shelf was asked for, as it was typed; all of it stands in the address. */
function readAsked(query: unknown, choices: Choices) {
  const among = (name: string, offered: readonly Choice[]) =>
    offered.find(({ value }) => value === queryText(query, name))?.value ?? '';
  return {
    cloth: among('cloth', choices.cloths),
    fibre: among('fibre', choices.fibres),
    shade: among('shade', choices.shades),
    lot: queryText(query, 'lot').slice(0, 60),
    place: among('place', choices.places),
    free: queryText(query, 'free').slice(0, 60),
    width: queryText(query, 'width').slice(0, 60),
    sort: SORTS.find((sort) => sort === queryText(query, 'sort')) ?? 'shade',
    gone: queryText(query, 'gone') === 'yes' ? ('yes' as const) : ('' as const),
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

function isNarrowed({ sort: _, ...asked }: ReturnType<typeof readAsked>): boolean {
  return Object.values(asked).some((text) => text !== '');
}
