import { sayFullness, withExact } from '../../../src/quantity/fullness.ts';
import { readKept } from '../../kit/typed.ts';
import { amount, centimetres, type ListOut, metres, shortList, text } from './cells.ts';

export const LOTS: ListOut = shortList(
  'lots',
  'Lots, of the mill and of the dye bench.',
  ['Lot', 'Cloth', 'Shade', 'Mill’s lot', 'Supplier', 'Batch'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('lot')
          .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
          .innerJoin('shade', 'shade.id', 'lot.shade_id')
          .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
          .leftJoin('batch', 'batch.id', 'lot.batch_id')
          .select(['lot.code', 'lot.mill_lot', 'cloth.name as cloth', 'shade.name as shade'])
          .select(['supplier.name as supplier', 'batch.code as batch'])
          .orderBy('lot.id'),
      )
      .map((row) => [row.code, row.cloth, row.shade, row.mill_lot, row.supplier ?? '', row.batch ?? '']),
);

export const OFFERS: ListOut = shortList(
  'offers',
  'What suppliers offer, with every price that was written down.',
  ['Supplier', 'Cloth', 'Shade', 'Article', 'From', 'Ended', 'Put up', 'Length', 'Price', 'For', 'Currency'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('offer')
          .innerJoin('offer_price', 'offer_price.offer_id', 'offer.id')
          .innerJoin('supplier', 'supplier.id', 'offer.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'offer.cloth_id')
          .leftJoin('shade', 'shade.id', 'offer.shade_id')
          .select([
            'supplier.name as supplier',
            'cloth.name as cloth',
            'shade.name as shade',
            'offer.article',
          ])
          .select([
            'offer.from_on',
            'offer.withdrawn',
            'offer.currency',
            'put_up',
            'length_ticks',
            'price_minor',
          ])
          .select('price_ticks')
          .orderBy('offer.id')
          .orderBy('put_up')
          .orderBy('length_ticks'),
      )
      .map((row) => [
        row.supplier,
        row.cloth,
        row.shade ?? 'any',
        row.article,
        row.from_on,
        row.withdrawn === 1 ? 'yes' : 'no',
        row.put_up,
        metres(row.length_ticks),
        amount(row.price_minor, row.currency),
        metres(row.price_ticks),
        row.currency,
      ]),
);

export const RECIPES: ListOut = shortList(
  'recipes',
  'Recipes, each dye and auxiliary a row.',
  ['Recipe', 'Version', 'Shade', 'Fibre', 'Class', 'Liquor ratio', '°C', 'Minutes', 'Part', 'Name', 'Amount'],
  (reader) => {
    const recipes = reader.all(
      reader.db
        .selectFrom('recipe')
        .innerJoin('shade', 'shade.id', 'recipe.shade_id')
        .selectAll('recipe')
        .select('shade.name as shade')
        .orderBy('recipe.id'),
    );
    const dyes = reader.all(reader.db.selectFrom('recipe_dye').selectAll().orderBy('position'));
    const auxiliaries = reader.all(reader.db.selectFrom('recipe_auxiliary').selectAll().orderBy('position'));
    return recipes.flatMap((row) => {
      const head = [row.name, text(row.version), row.shade, row.fibre, row.dye_class];
      const bath = [`1:${row.liquor_ratio_milli / 1000}`, text(row.temperature_c), text(row.hold_minutes)];
      const mine = <R extends { recipe_id: number }>(rows: readonly R[]) =>
        rows.filter(({ recipe_id: id }) => id === row.id);
      return [
        ...mine(dyes).map((dye) => [...head, ...bath, 'dye', dye.name, `${dye.owf_milli / 1000} % owf`]),
        ...mine(auxiliaries).map(({ name, per, amount: much }) => {
          const asked = per === 'litre' ? `${much / 1000} g/L` : `${much / 1000} % owf`;
          return [...head, ...bath, 'auxiliary', name, asked];
        }),
      ];
    });
  },
);

export const DYES: ListOut = shortList(
  'dyes',
  'The tubs on the workroom’s own shelf.',
  ['Dye', 'Class', 'Group', 'Strength %', 'Lot', 'Put away'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('dye').selectAll().orderBy('id'))
      .map((row) => [
        row.name,
        row.dye_class,
        row.method,
        row.strength_bp === null ? '' : text(row.strength_bp / 100),
        row.lot,
        row.gone_at ?? '',
      ]),
);

export const VESSELS: ListOut = shortList(
  'vessels',
  'What cloth is dyed in.',
  ['Vessel', 'Litres', 'Material', 'Heater', 'Watts', 'Note', 'Put away'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('vessel').selectAll().orderBy('id'))
      .map((row) => [
        row.name,
        text(row.volume_ml / 1000),
        row.material,
        row.heater,
        text(row.heater_watts),
        row.note,
        row.gone_at ?? '',
      ]),
);

export const PEOPLE: ListOut = shortList(
  'people',
  'Who works here, and who left.',
  ['Name', 'Units', 'Left'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('person').selectAll().orderBy('id'))
      .map((row) => [row.name, row.length_system ?? '', row.left_at ?? '']),
);

export const TIERS: ListOut = shortList(
  'tiers',
  'Tiers of garments as they are described.',
  ['Garment', 'Tier', 'Cloth', 'Depth', 'Fullness', 'Hangs', 'Closing', 'Taken out'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('tier')
          .innerJoin('garment', 'garment.id', 'tier.garment_id')
          .innerJoin('cloth', 'cloth.id', 'tier.cloth_id')
          .select([
            'garment.code',
            'tier.name',
            'cloth.name as cloth',
            'depth_ticks',
            'fullness_milli',
            'tier.typed',
            'hangs',
          ])
          .select(['ring', 'taken_out_at'])
          .orderBy('garment.id')
          .orderBy('tier.position'),
      )
      .map((row) => [
        row.code,
        row.name,
        row.cloth,
        centimetres(row.depth_ticks),
        sayFullness(
          withExact({ value: row.fullness_milli, typed: readKept(row.typed)?.texts.fullness ?? '' }),
        ),
        row.hangs,
        row.ring === 1 ? 'ring' : 'open',
        row.taken_out_at ?? '',
      ]),
);
