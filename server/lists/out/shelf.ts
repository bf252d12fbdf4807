import { readWorkroom } from '../../kit/workroom.ts';
import { OTHER_USE_FACTS, sayOtherUse } from '../../ledger/other-use.ts';
import { AT_ONCE, amount, centimetres, type ListOut, metres, paged, readFibres } from './cells.ts';

export const PIECES: ListOut = {
  name: 'pieces',
  what: 'Pieces on the shelf. This list comes in again as it went out.',
  heading: [
    'Code',
    'Kind',
    'Cloth',
    'Construction',
    'Fibres',
    'Cloth width',
    'Cloth usable width',
    'Mass per area',
    'Shade',
    'Undyed',
    'Lot',
    'Length',
    'Usable width',
    'Place',
    'Supplier',
    'Cost',
    'Held',
  ],
  *rows(reader) {
    const { currency } = readWorkroom(reader);
    const fibres = readFibres(reader);
    const query = reader.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('place', 'place.id', 'piece.place_id')
      .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
      .select([
        'piece.id',
        'piece.code',
        'piece.kind',
        'piece.on_hand_ticks',
        'piece.held_ticks',
        'piece.cost_minor',
      ])
      .select([
        'piece.usable_width_ticks',
        'cloth.name as cloth',
        'cloth.id as cloth_id',
        'cloth.construction',
        'cloth.width_ticks',
      ])
      .select([
        'cloth.usable_width_ticks as cloth_usable_ticks',
        'cloth.mass_per_area_mg_m2',
        'shade.name as shade',
      ])
      .select([
        'shade.ground',
        'lot.code as lot_code',
        'lot.mill_lot',
        'place.name as place',
        'supplier.name as supplier',
      ])
      .where('piece.on_hand_ticks', '>', 0)
      .orderBy('piece.id')
      .limit(AT_ONCE);
    for (const row of paged((after) => reader.all(query.where('piece.id', '>', after))))
      yield [
        row.code,
        row.kind,
        row.cloth,
        row.construction,
        fibres.get(row.cloth_id) ?? '',
        centimetres(row.width_ticks),
        centimetres(row.cloth_usable_ticks),
        row.mass_per_area_mg_m2 === null ? '' : `${row.mass_per_area_mg_m2 / 1000} g/m²`,
        row.shade,
        row.ground === 1 ? 'yes' : 'no',
        row.mill_lot === '' ? row.lot_code : row.mill_lot,
        metres(row.on_hand_ticks),
        centimetres(row.usable_width_ticks),
        row.place ?? '',
        row.supplier ?? '',
        amount(row.cost_minor, currency),
        metres(row.held_ticks),
      ];
  },
};

export const LEDGER: ListOut = {
  name: 'ledger',
  what: 'Every entry of the ledger, from the first.',
  heading: [
    'Entry',
    'When',
    'Who',
    'Piece',
    'Kind',
    'Length',
    'Held',
    'Cost',
    'Garment',
    'Tier',
    'Other use',
    'Strips',
    'Batch',
    'Why',
  ],
  *rows(reader) {
    const { currency } = readWorkroom(reader);
    const query = reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('person', 'person.id', 'entry.person_id')
      .leftJoin('tier', 'tier.id', 'entry.tier_id')
      .leftJoin('garment', 'garment.id', 'tier.garment_id')
      .leftJoin('batch', 'batch.id', 'entry.batch_id')
      .leftJoin('other_use', 'other_use.id', 'entry.other_use_id')
      .leftJoin('garment as use_garment', 'use_garment.id', 'other_use.garment_id')
      .select(OTHER_USE_FACTS)
      .select([
        'entry.id',
        'entry.at',
        'entry.kind',
        'entry.length_ticks',
        'entry.held_ticks',
        'entry.cost_minor',
      ])
      .select(['entry.strips', 'entry.why', 'piece.code', 'person.name as who', 'tier.name as tier'])
      .select(['garment.code as garment', 'batch.code as batch'])
      .orderBy('entry.id')
      .limit(AT_ONCE);
    const signed = (ticks: number) => (ticks < 0 ? `-${metres(-ticks)}` : metres(ticks));
    for (const row of paged((after) => reader.all(query.where('entry.id', '>', after))))
      yield [
        String(row.id),
        row.at,
        row.who,
        row.code,
        row.kind,
        signed(row.length_ticks),
        signed(row.held_ticks),
        amount(row.cost_minor, currency),
        row.garment ?? row.useGarmentCode ?? '',
        row.tier ?? '',
        sayOtherUse(row),
        row.strips === null ? '' : String(row.strips),
        row.batch ?? '',
        row.why,
      ];
  },
};
