import { readWorkroom } from '../../kit/workroom.ts';
import { inForce } from '../../ledger/standing.ts';
import { amount, type ListOut, metres, text } from './cells.ts';

export const RESERVATIONS: ListOut = {
  name: 'reservations',
  what: 'What suppliers keep for the workroom or kept, and what became of it.',
  heading: ['Supplier', 'Cloth', 'Shade', 'Length', 'Kept until', 'Ended', 'Note', 'Entered', 'By'],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('reservation')
          .innerJoin('supplier', 'supplier.id', 'reservation.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'reservation.cloth_id')
          .innerJoin('shade', 'shade.id', 'reservation.shade_id')
          .innerJoin('person', 'person.id', 'reservation.person_id')
          .select(['supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
          .select(['length_ticks', 'until_on', 'ended', 'reservation.note', 'at', 'person.name as person'])
          .orderBy('reservation.id'),
      )
      .map((row) => [
        row.supplier,
        row.cloth,
        row.shade,
        metres(row.length_ticks),
        row.until_on,
        text(row.ended),
        row.note,
        row.at,
        row.person,
      ]),
};

export const SAMPLES: ListOut = {
  name: 'samples',
  what: 'Samples that were asked of suppliers, when they came and whether they are right.',
  heading: [
    'Supplier',
    'Cloth',
    'Shade',
    'Asked on',
    'Came on',
    'Verdict',
    'Swatch',
    'Note',
    'Entered',
    'By',
  ],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('sample_request')
          .innerJoin('supplier', 'supplier.id', 'sample_request.supplier_id')
          .innerJoin('cloth', 'cloth.id', 'sample_request.cloth_id')
          .innerJoin('person', 'person.id', 'sample_request.person_id')
          .leftJoin('shade', 'shade.id', 'sample_request.shade_id')
          .leftJoin('swatch', 'swatch.id', 'sample_request.swatch_id')
          .leftJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
          .select(['supplier.name as supplier', 'cloth.name as cloth', 'shade.name as shade'])
          .select(['asked_on', 'came_on', 'verdict', 'swatch_job.code as job', 'swatch.position'])
          .select(['sample_request.note', 'sample_request.at', 'person.name as person'])
          .orderBy('sample_request.id'),
      )
      .map((row) => [
        row.supplier,
        row.cloth,
        row.shade ?? 'any',
        row.asked_on,
        text(row.came_on),
        text(row.verdict),
        row.job === null ? '' : `${row.job}, swatch ${row.position}`,
        row.note,
        row.at,
        row.person,
      ]),
};

export const RETURNS: ListOut = {
  name: 'returns',
  what: 'What went back to suppliers, with the credit that was expected and that came.',
  heading: [
    'Sent',
    'Piece',
    'Cloth',
    'Shade',
    'Supplier',
    'Length',
    'Why',
    'Cost',
    'Credit expected',
    'Credit',
    'Came on',
    'Credit note',
    'Currency',
  ],
  rows: (reader) => {
    const { currency } = readWorkroom(reader);
    return reader
      .all(
        reader.db
          .selectFrom('entry')
          .leftJoin('return_credit', 'return_credit.entry_id', 'entry.id')
          .innerJoin('piece', 'piece.id', 'entry.piece_id')
          .innerJoin('lot', 'lot.id', 'piece.lot_id')
          .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
          .innerJoin('shade', 'shade.id', 'lot.shade_id')
          .leftJoin('supplier', 'supplier.id', 'lot.supplier_id')
          .select(['entry.at', 'piece.code', 'cloth.name as cloth', 'shade.name as shade'])
          .select(['supplier.name as supplier', 'entry.length_ticks', 'entry.why', 'entry.cost_minor'])
          .select(['expected_minor', 'come_minor', 'come_on', 'number'])
          .where('entry.kind', '=', 'returned')
          .where(inForce('entry'))
          .orderBy('entry.id'),
      )
      .map((row) => [
        row.at,
        row.code,
        row.cloth,
        row.shade,
        text(row.supplier),
        metres(-row.length_ticks),
        row.why,
        amount(-row.cost_minor, currency),
        // What went back before credits were kept is expected at its cost.
        amount(row.expected_minor ?? -row.cost_minor, currency),
        amount(row.come_minor, currency),
        text(row.come_on),
        text(row.number),
        currency,
      ]);
  },
};
