import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { type Choice, supplierChoices, withBlank } from '../../kit/choices.ts';
import { countTyped } from '../../kit/form-drawing.ts';
import { PAGE_ROWS, type Pager, sliceOf } from '../../kit/paging.ts';
import { clothPath, supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { massPerAreaUnit, sizeUnit } from '../../kit/units.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readSums, SUMS, selectPieces, shapeTotals, type Totals } from '../piece/list.ts';
import { CONSTRUCTIONS, FIBRE_CHOICES, MOST_FIBRES } from './form.ts';
import { type Cloth, type ClothFacts, clothAsTyped, readCloth, readContent, showCloth } from './store.ts';

interface ClothRow extends ClothFacts {
  readonly id: number;
  readonly name: string;
  readonly href: string;
  readonly construction: string;
  readonly pieces: number;
  readonly longestFree: string;
}

export interface ClothsPageData {
  readonly cloths: readonly ClothRow[];
  readonly pager: Pager;
}

/** All cloths, with what the shelf has of each. */
export function clothsPage(reader: Reader, query: unknown, asker: Asker): Page {
  const total =
    reader.first(reader.db.selectFrom('cloth').select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;
  const { offset, pager } = sliceOf(query, { total, noun: 'cloths', path: '/shelf/cloths' });
  const ids = reader.all(
    reader.db.selectFrom('cloth').select('id').orderBy('name').limit(PAGE_ROWS).offset(offset),
  );
  const data: ClothsPageData = {
    cloths: ids.map(({ id }) => shapeRow(reader, readCloth(reader, id), asker)),
    pager,
  };
  return { view: 'shelf/cloth/cloths', data, title: 'Cloths', room: 'shelf' };
}

function shapeRow(reader: Reader, cloth: Cloth, asker: Asker): ClothRow {
  const sums = readSums(reader, 'cloth.id', cloth.id);
  return {
    ...showCloth(cloth, asker.units),
    id: cloth.id,
    name: cloth.name,
    href: clothPath(cloth.id),
    construction: cloth.construction,
    pieces: sums.pieces,
    longestFree: sums.pieces === 0 ? '' : showLength(sums.longest_free, asker.units, 'down'),
  };
}

export interface ClothPageData extends ClothFacts {
  readonly cloth: Cloth;
  readonly supplierHref: string;
  readonly shades: readonly ShadeOfCloth[];
  readonly totals: Totals;
  readonly ways: { readonly edit: string; readonly receive: string; readonly shelf: string };
}

interface ShadeOfCloth {
  readonly chip: Chip;
  readonly totals: Totals;
  readonly href: string;
}

/** A cloth and what the shelf has of it, by shade. */
export function clothPage(reader: Reader, clothId: number, asker: Asker): Page {
  const cloth = readCloth(reader, clothId);
  const rows = reader.all(
    selectPieces(reader)
      .clearSelect()
      .select(['shade.id', 'shade.name', 'shade.lab_l', 'shade.lab_a', 'shade.lab_b', ...SUMS])
      .where('cloth.id', '=', clothId)
      .where('piece.on_hand_ticks', '>', 0)
      .groupBy('shade.id')
      .orderBy('shade.name'),
  );
  const data: ClothPageData = {
    ...showCloth(cloth, asker.units),
    cloth,
    supplierHref: cloth.supplierId === null ? '' : supplierPath(cloth.supplierId),
    shades: rows.map((row) => {
      const href = address('/shelf', { cloth: clothId, shade: row.id });
      return { chip: shadeChip(row, { href }), totals: shapeTotals(row, asker.units), href };
    }),
    totals: shapeTotals(readSums(reader, 'cloth.id', clothId), asker.units),
    ways: {
      edit: `${clothPath(clothId)}/edit`,
      receive: address('/shelf/receive', { cloth: clothId }),
      shelf: address('/shelf', { cloth: clothId }),
    },
  };
  return { view: 'shelf/cloth/cloth', data, title: cloth.name, room: 'shelf' };
}

export interface ClothFormData {
  readonly action: string;
  readonly requestKey: string;
  readonly typed: Record<ClothField, string>;
  readonly fibres: readonly { readonly row: number; readonly fibre: string; readonly share: string }[];
  readonly fibreChoices: readonly Choice[];
  readonly constructions: readonly string[];
  readonly suppliers: readonly Choice[];
  readonly unit: { readonly width: string; readonly massPerArea: string };
  readonly cancel: string;
  /** pieces that exist already and stay as they are; 0 for a new cloth */
  readonly pieces: number;
}

const CLOTH_FIELDS = [
  'name',
  'construction',
  'width',
  'usable_width',
  'mass_per_area',
  'ply_limit',
  'finish',
  'supplier_id',
  'article',
  'note',
] as const;
type ClothField = (typeof CLOTH_FIELDS)[number];

/** The form for a new cloth, or for a change of one. */
export function clothFormPage(reader: Reader, asker: Asker, clothId: number | null, typed?: Typed): Page {
  const cloth = clothId === null ? null : readCloth(reader, clothId);
  const shown = typed ?? (cloth ? clothAsTyped(cloth, asker.units) : {});
  const data: ClothFormData = {
    action: cloth ? `${clothPath(cloth.id)}/edit` : '/shelf/cloths/new',
    requestKey: mintKey(),
    typed: Object.fromEntries(
      CLOTH_FIELDS.map((name) => [name, shown[name] ?? '']),
    ) as ClothFormData['typed'],
    fibres: fibreRows(shown, cloth ? readContent(reader, cloth.id).length : 0),
    fibreChoices: FIBRE_CHOICES,
    constructions: CONSTRUCTIONS,
    suppliers: withBlank(supplierChoices(reader), 'no supplier'),
    unit: { width: sizeUnit(asker.units), massPerArea: massPerAreaUnit(asker.units) },
    cancel: cloth ? clothPath(cloth.id) : '/shelf/cloths',
    pieces: cloth ? readSums(reader, 'cloth.id', cloth.id).pieces : 0,
  };
  const title = cloth ? `Change ${cloth.name}` : 'New cloth';
  return { view: 'shelf/cloth/form', data, title, room: 'shelf' };
}

const FIBRE_ROWS = 4;

function fibreRows(typed: Typed, filled: number) {
  const rows = Math.min(Math.max(FIBRE_ROWS, filled + 1, countTyped(typed, 'fibres')), MOST_FIBRES);
  return Array.from({ length: rows }, (_, row) => ({
    row,
    fibre: typed[`fibres.${row}.fibre`] ?? '',
    share: typed[`fibres.${row}.share`] ?? '',
  }));
}
