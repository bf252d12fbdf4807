import { wordsOfState } from '../../../src/dye/cloth-finish.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { OTHER_USE_FACTS, sayOtherUse } from '../../ledger/other-use.ts';
import { readTierNames } from '../../ledger/tier-names.ts';
import { clothStateOf } from '../../shelf/cloth/store.ts';
import { readAllPleatings } from '../../shelf/pleating/store.ts';
import { AT_ONCE, amount, centimetres, type ListOut, metres, paged, readFibres, text } from './cells.ts';

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
    'Finish',
    'Shade',
    'Undyed',
    'Lot',
    'Length',
    'Usable width',
    'Place',
    'Supplier',
    'Cost',
    'Held',
    'Needed',
    'To spare',
  ],
  *rows(reader, readNeeded) {
    const needed = readNeeded(reader, { whole: true }).ofPieces;
    const { currency } = readWorkroom(reader);
    const fibres = readFibres(reader);
    const query = reader.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .leftJoin('place', 'place.id', 'piece.place_id')
      .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
      .select(['piece.id', 'piece.code', 'piece.kind', 'piece.on_hand_ticks', 'piece.held_ticks'])
      .select(['piece.cost_minor', 'piece.usable_width_ticks', 'cloth.name as cloth', 'cloth.id as cloth_id'])
      .select(['cloth.construction', 'cloth.width_ticks', 'cloth.usable_width_ticks as cloth_usable_ticks'])
      .select(['cloth.mass_per_area_mg_m2', 'shade.name as shade', 'shade.ground', 'lot.code as lot_code'])
      .select(['cloth.finish', 'cloth.state', 'cloth.nylon', 'cloth.flame_retardant'])
      .select(['cloth.water_repellent', 'cloth.parchment', 'cloth.starched'])
      .select(['lot.mill_lot', 'place.name as place', 'supplier.name as supplier'])
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
        wordsOfState(clothStateOf(row), row.finish),
        row.shade,
        row.ground === 1 ? 'yes' : 'no',
        row.mill_lot === '' ? row.lot_code : row.mill_lot,
        metres(row.on_hand_ticks),
        centimetres(row.usable_width_ticks),
        row.place ?? '',
        row.supplier ?? '',
        amount(row.cost_minor, currency),
        metres(row.held_ticks),
        metres(needed.get(row.id)?.neededTicks ?? 0),
        metres(row.on_hand_ticks - row.held_ticks - (needed.get(row.id)?.neededTicks ?? 0)),
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
      .select(['entry.id', 'entry.at', 'entry.kind', 'entry.length_ticks', 'entry.held_ticks'])
      .select(['entry.cost_minor', 'entry.strips', 'entry.why', 'piece.code', 'person.name as who'])
      .select(['entry.tier_id', 'garment.code as garment', 'batch.code as batch'])
      .orderBy('entry.id')
      .limit(AT_ONCE);
    const signed = (ticks: number) => (ticks < 0 ? `-${metres(-ticks)}` : metres(ticks));
    const read = (after: number) => {
      const rows = reader.all(query.where('entry.id', '>', after));
      const tierName = readTierNames(
        reader,
        rows.map((row) => row.tier_id),
      );
      return rows.map((row) => ({ ...row, tier: row.tier_id === null ? '' : tierName(row.tier_id) }));
    };
    for (const row of paged(read))
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
        row.tier,
        sayOtherUse(row),
        row.strips === null ? '' : String(row.strips),
        row.batch ?? '',
        row.why,
      ];
  },
};

export const LOTS: ListOut = {
  name: 'lots',
  what: 'Lots, of the mill and of the dye bench.',
  heading: ['Lot', 'Cloth', 'Shade', 'Mill lot', 'Supplier', 'Batch'],
  rows: (reader) =>
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
};

export const CLOTHS: ListOut = {
  name: 'cloths',
  what: 'Cloths as they are described.',
  heading: [
    'Cloth',
    'Construction',
    'Fibres',
    'Width',
    'Usable width',
    'Mass per area',
    'One way',
    'Pattern repeat',
    'Half-drop',
    'Finish',
    'State',
    'Known finishes',
    'Nylon',
    'Supplier',
    'Article',
    'Note',
  ],
  rows: (reader) => {
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
        row.one_way === 1 ? 'yes' : 'no',
        centimetres(row.repeat_ticks),
        row.half_drop === 1 ? 'yes' : 'no',
        row.finish,
        row.state,
        (clothStateOf(row).finishes ?? []).join(', '),
        row.nylon,
        row.supplier ?? '',
        row.article,
        row.note,
      ]);
  },
};

export const SHADES: ListOut = {
  name: 'shades',
  what: 'Shades with their CIELAB values.',
  heading: ['Shade', 'Undyed', 'L*', 'a*', 'b*', 'How', 'Note'],
  rows: (reader) =>
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
};

export const PLACES: ListOut = {
  name: 'places',
  what: 'Where pieces lie.',
  heading: ['Place'],
  rows: (reader) =>
    reader.all(reader.db.selectFrom('place').select('name').orderBy('id')).map(({ name }) => [name]),
};

export const PLEATING: ListOut = {
  name: 'pleating',
  what: 'Cloth and strips that were sent to pleaters, with their size before and after.',
  heading: [
    'Piece',
    'Cloth',
    'Shade',
    'Garment',
    'Tier or part',
    'Strips',
    'Pleater',
    'Asked',
    'Length',
    'Width',
    'Sent',
    'Expected',
    'Out',
    'Back',
    'Finished length',
    'Finished width',
  ],
  rows: (reader) =>
    readAllPleatings(reader).map((row) => [
      ...('strips' in row
        ? ['', '', '', row.garment, row.tier, String(row.strips)]
        : [row.piece, row.cloth, row.shade, row.garment ?? '', '', '']),
      row.pleater,
      row.asked,
      metres(row.length_ticks),
      centimetres(row.width_ticks),
      row.sent_on,
      row.expected_on,
      row.isOut ? 'yes' : '',
      row.isOut ? '' : (row.backOn ?? ''),
      row.isOut || row.backTicks === null ? '' : metres(row.backTicks),
      row.isOut || row.backWidthTicks === null ? '' : centimetres(row.backWidthTicks),
    ]),
};
