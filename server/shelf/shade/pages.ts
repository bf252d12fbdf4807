import { labToScreen, screenToLab } from '../../../src/colour/lab.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { PAGE_ROWS, sliceOf } from '../../kit/paging.ts';
import { clothPath, firstRecipePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { shapeLengths } from '../lengths.ts';
import { shapeTotals } from '../piece/list.ts';
import { lotsInOrder } from '../stock/kept-lots.ts';
import { sumUp, sumUpBy } from '../stock/lots.ts';
import type { ShelfTold } from '../told.ts';
import { SHADE_FIELDS } from './form.ts';
import { readNearestShades } from './nearest.ts';
import { chipOf, colourOf, isOffScreen, readShade, type Shade, sayColour, shadeAsTyped } from './store.ts';

/** All shades, undyed grounds first, with what the shelf has of each. */
export function shadesPage(reader: Reader, query: unknown, asker: Asker) {
  const total =
    reader.first(reader.db.selectFrom('shade').select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;
  const { offset, pager } = sliceOf(query, { total, noun: 'shades', path: '/shelf/shades' });
  const rows = reader.all(
    reader.db
      .selectFrom('shade')
      .selectAll()
      .orderBy('ground', 'desc')
      .orderBy('name')
      .limit(PAGE_ROWS)
      .offset(offset),
  );
  const data = {
    shades: rows.map((row) => {
      const sums = sumUp(lotsOfShade(reader, row.id));
      return {
        id: row.id,
        chip: shadeChip(row, { href: shadePath(row.id) }),
        ground: row.ground === 1,
        colour: sayColour(colourOf(row)),
        pieces: sums.pieces,
        longestFree: sums.pieces === 0 ? '' : showLength(sums.longest_free, asker.units, 'down'),
      };
    }),
    pager,
  };
  return { view: 'shelf/shade/shades', data, title: 'Shades', room: 'shelf' } satisfies Page;
}

/** Its lots on the shelf, by the names of their cloths. */
function lotsOfShade(reader: Reader, shadeId: number) {
  return lotsInOrder(reader, 'shade').byShade.get(shadeId) ?? [];
}

const clothsNamed = prepared((db, ids: Param<readonly number[]>) =>
  db.selectFrom('cloth').select(['id', 'name']).where('id', 'in', inList(ids)).orderBy('name'),
);

/** A shade and what the shelf has of it, by cloth. */
export function shadePage(
  reader: Reader,
  shadeId: number,
  asker: Asker,
  { readNeeded, lengthsWithin }: Pick<ShelfTold, 'readNeeded' | 'lengthsWithin'>,
) {
  const shade = readShade(reader, shadeId);
  const lots = lotsOfShade(reader, shadeId);
  const sums = sumUpBy(lots, 'clothId');
  const needed = readNeeded(reader);
  const lengths = lengthsWithin(reader, { shadeId }, needed);
  const data = {
    waiting: needed.waiting,
    shade,
    chip: { ...chipOf(shade), name: shade.ground ? 'undyed ground' : shade.name, large: true },
    colour: sayColour(shade.colour),
    /** true where no screen can show the colour and the chip is the nearest it can */
    offScreen: isOffScreen(shade.colour),
    nearest: shade.colour ? readNearestShades(reader, shade.colour.lab, undefined, shadeId) : [],
    cloths: reader.all(clothsNamed([...sums.keys()])).map((row) => ({
      name: row.name,
      clothHref: clothPath(row.id),
      totals: shapeTotals(sums.get(row.id) ?? sumUp([]), asker.units),
      lengths: shapeLengths(lengths({ clothId: row.id, shadeId }), asker.units),
      href: address('/shelf', { cloth: row.id, shade: shadeId }),
    })),
    totals: shapeTotals(sumUp(lots), asker.units),
    lengths: shapeLengths(lengths({ shadeId }), asker.units),
    ways: {
      edit: `${shadePath(shadeId)}/edit`,
      receive: address('/shelf/receive', { shade: shadeId }),
      shelf: address('/shelf', { shade: shadeId }),
      take: address('/take', { shade: shadeId }),
      /** where a dyed shade is looked for among recipes */
      firstRecipe: shade.ground ? null : firstRecipePath(shadeId),
    },
  };
  return { view: 'shelf/shade/shade', data, title: shade.name, room: 'shelf' } satisfies Page;
}

/** The form for a new shade, or for a change of one. */
export function shadeFormPage(reader: Reader, shadeId: number | null, typed?: Typed) {
  const shade = shadeId === null ? null : readShade(reader, shadeId);
  const fields = drawFields(SHADE_FIELDS, typed ?? (shade ? shadeAsTyped(shade) : {}));
  const data = {
    action: shade ? `${shadePath(shade.id)}/edit` : '/shelf/shades/new',
    requestKey: mintKey(),
    fields,
    /** where the screen's picker starts, as #rrggbb */
    picked: pickedColour(fields.hex.value, shade),
    cancel: shade ? shadePath(shade.id) : '/shelf/shades',
  };
  const title = shade ? `Change ${shade.name}` : 'New shade';
  return { view: 'shelf/shade/form', data, title, room: 'shelf' } satisfies Page;
}

/** The typed colour, else the shade's own, else a middle grey. */
function pickedColour(hex: string, shade: Shade | null): string {
  const typed = screenToLab(hex);
  if (typed.ok) return typed.echo;
  return shade?.colour ? labToScreen(shade.colour.lab) : '#808080';
}
