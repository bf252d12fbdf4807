import type { Lab } from '../../../src/colour/lab.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryText } from '../../kit/address.ts';
import { grouped } from '../../kit/grouped.ts';
import { countOf } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import { type BookedSwatch, MOST_BOOKED, readBookedSwatches, sayDay } from './entries.ts';

const ORDERS = ['shade', 'cloth', 'batch', 'hue'] as const;
type BookOrder = (typeof ORDERS)[number];
const ORDER_WORDS: Readonly<Record<BookOrder, string>> = {
  shade: 'By shade',
  cloth: 'By cloth',
  batch: 'By batch and job',
  hue: 'Wall by hue',
};

/** Below this chroma a swatch has no hue to speak of, and hangs with the greys (our rule). */
const GREY = 5;
/** The wall is divided where the names of colours change (our rule), by hue angle in degrees. */
const HUES: readonly (readonly [below: number, name: string])[] = [
  [40, 'Reds'],
  [70, 'Oranges'],
  [105, 'Yellows'],
  [190, 'Greens'],
  [285, 'Blues'],
  [330, 'Violets'],
  [360, 'Pinks and purples'],
];
const GREYS = 'Greys, white and black';
const NOT_READ = 'Not read yet';

/** The swatch book: every swatch by shade, cloth or batch, or as a wall by hue. In print each has room to be stapled to. */
export function swatchBookPage(reader: Reader, query: unknown) {
  const by = ORDERS.find((order) => order === queryText(query, 'by')) ?? 'shade';
  const swatches = readBookedSwatches(reader);
  const groups =
    by === 'hue' ? onWall(swatches) : [...grouped(swatches, (swatch) => nameOf(swatch, by))].sort(byName);
  const data = {
    orders: ORDERS.map((order) => ({
      text: ORDER_WORDS[order],
      href: order === by ? '' : address('/dye-bench/swatch-book', { by: order === 'shade' ? '' : order }),
    })),
    isWall: by === 'hue',
    count: countOf(swatches.length, 'swatch', 'swatches'),
    /** more of each kind than this are not in the book */
    most: swatches.length >= MOST_BOOKED ? MOST_BOOKED : 0,
    groups: groups.map(([name, of]) => ({ name, swatches: of.map(shapeSwatch) })),
  };
  return { view: 'dye-bench/swatch-book/book', data, title: 'Swatch book', room: 'dye-bench' } satisfies Page;
}

const byName = ([one]: readonly [string, unknown], [other]: readonly [string, unknown]) =>
  one.localeCompare(other, 'en', { numeric: true });

function nameOf(swatch: BookedSwatch, by: Exclude<BookOrder, 'hue'>): string {
  return { shade: swatch.shade, cloth: swatch.cloth || 'Cloth not known', batch: swatch.of }[by];
}

/** Swatches by the angle of their hue, within a hue from light to dark; greys and those without a colour last. */
function onWall(swatches: readonly BookedSwatch[]): [string, BookedSwatch[]][] {
  const groups = grouped(swatches, ({ lab }) => (lab ? hueName(lab) : NOT_READ));
  return [...HUES.map(([, name]) => name), GREYS, NOT_READ].flatMap((name): [string, BookedSwatch[]][] => {
    const of = groups.get(name);
    return of ? [[name, of.toSorted(name === GREYS ? byLightness : byHue)]] : [];
  });
}

const hueOf = ({ a, b }: Lab) => ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;

function hueName(lab: Lab): string {
  if (Math.hypot(lab.a, lab.b) < GREY) return GREYS;
  return HUES.find(([below]) => hueOf(lab) < below)?.[1] ?? GREYS;
}

const byHue = ({ lab: one }: BookedSwatch, { lab: other }: BookedSwatch) =>
  one && other ? hueOf(one) - hueOf(other) || other.l - one.l : 0;
const byLightness = ({ lab: one }: BookedSwatch, { lab: other }: BookedSwatch) =>
  (other?.l ?? 0) - (one?.l ?? 0);

function shapeSwatch(swatch: BookedSwatch) {
  const { code, href, shade, cloth, recipe, verdict, colour, screen, offScreen, note } = swatch;
  return {
    code,
    href,
    chip: { colour: screen, name: shade, large: true },
    cloth,
    recipe,
    verdict,
    colour,
    offScreen,
    note,
    day: sayDay(swatch),
  };
}
