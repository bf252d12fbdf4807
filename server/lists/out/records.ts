import { centimetres, metres, readFibres, shortList, text } from './cells.ts';

export const CLOTHS = shortList(
  'cloths',
  'Cloths as they are described.',
  [
    'Cloth',
    'Construction',
    'Fibres',
    'Width',
    'Usable width',
    'Mass per area',
    'Finish',
    'Supplier',
    'Article',
    'Note',
  ],
  (reader) => {
    const fibres = readFibres(reader);
    const query = reader.db
      .selectFrom('cloth')
      .leftJoin('supplier', 'supplier.id', 'cloth.supplier_id')
      .selectAll('cloth')
      .select('supplier.name as supplier')
      .orderBy('cloth.id');
    return reader
      .all(query)
      .map((row) => [
        row.name,
        row.construction,
        fibres.get(row.id) ?? '',
        centimetres(row.width_ticks),
        centimetres(row.usable_width_ticks),
        row.mass_per_area_mg_m2 === null ? '' : `${row.mass_per_area_mg_m2 / 1000} g/m²`,
        row.finish,
        row.supplier ?? '',
        row.article,
        row.note,
      ]);
  },
);

export const SHADES = shortList(
  'shades',
  'Shades with their CIELAB values.',
  ['Shade', 'Undyed', 'L*', 'a*', 'b*', 'How', 'Note'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('shade').selectAll().orderBy('id'))
      .map((row) => [
        row.name,
        row.ground === 1 ? 'yes' : 'no',
        text(row.lab_l),
        text(row.lab_a),
        text(row.lab_b),
        row.lab_how ?? '',
        row.note,
      ]),
);

export const SUPPLIERS = shortList(
  'suppliers',
  'Who sells to the workroom, and how long they take.',
  ['Supplier', 'Days to deliver', 'Note'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('supplier').select(['name', 'lead_days', 'note']).orderBy('id'))
      .map((row) => [row.name, text(row.lead_days), row.note]),
);

export const PLACES = shortList('places', 'Where pieces lie.', ['Place'], (reader) =>
  reader.all(reader.db.selectFrom('place').select('name').orderBy('id')).map(({ name }) => [name]),
);

export const ORDERS = shortList(
  'orders',
  'Every line that was ordered, and what became of its order.',
  ['Order', 'Supplier', 'Cloth', 'Shade', 'Length', 'Drafted', 'Expected', 'Sent', 'Closed', 'Cancelled'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('order_line')
          .innerJoin('order', 'order.id', 'order_line.order_id')
          .innerJoin('supplier', 'supplier.id', 'order.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'order_line.cloth_id')
          .innerJoin('shade', 'shade.id', 'order_line.shade_id')
          .select(['order.code', 'supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
          .select([
            'order_line.length_ticks',
            'drafted_at',
            'expected_on',
            'sent_at',
            'closed_at',
            'cancelled_at',
          ])
          .orderBy('order_line.id'),
      )
      .map((row) => [
        row.code,
        row.supplier,
        row.cloth,
        row.shade,
        metres(row.length_ticks),
        row.drafted_at,
        row.expected_on ?? '',
        row.sent_at ?? '',
        row.closed_at ?? '',
        row.cancelled_at ?? '',
      ]),
);

export const GARMENTS = shortList(
  'garments',
  'What is made, by when, and what is finished.',
  ['Code', 'Garment', 'Due', 'Finished', 'Note'],
  (reader) =>
    reader
      .all(reader.db.selectFrom('garment').selectAll().orderBy('id'))
      .map((row) => [row.code, row.name, row.due_on ?? '', row.finished_at ?? '', row.note]),
);

export const BATCHES = shortList(
  'batches',
  'What was dyed by which recipe, in which vessel.',
  ['Batch', 'Recipe', 'Version', 'Shade', 'Vessel', 'Planned', 'Wanted', 'Cancelled', 'Note'],
  (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('batch')
          .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
          .innerJoin('shade', 'shade.id', 'recipe.shade_id')
          .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
          .select([
            'batch.code',
            'recipe.name as recipe',
            'recipe.version',
            'shade.name as shade',
            'vessel.name as vessel',
          ])
          .select(['batch.planned_at', 'batch.due_on', 'batch.cancelled_at', 'batch.note'])
          .orderBy('batch.id'),
      )
      .map((row) => [
        row.code,
        row.recipe,
        text(row.version),
        row.shade,
        row.vessel,
        row.planned_at,
        row.due_on ?? '',
        row.cancelled_at ?? '',
        row.note,
      ]),
);
