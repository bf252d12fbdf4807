import { sayFullness, withExact } from '../../../src/quantity/fullness.ts';
import { partOfKind } from '../../garments/parts/all.ts';
import { sayPartAsked } from '../../garments/parts/said.ts';
import { readKept, readTyped } from '../../kit/typed.ts';
import { readTierNames } from '../../ledger/tier-names.ts';
import { centimetres, type ListOut } from './cells.ts';

export const GARMENTS: ListOut = {
  name: 'garments',
  what: 'What is made, by when, and what is finished.',
  heading: ['Code', 'Garment', 'Due', 'Finished', 'Opening', 'Closed by', 'Note'],
  rows: (reader) =>
    reader.all(reader.db.selectFrom('garment').selectAll().orderBy('id')).map((row) => [
      row.code,
      row.name,
      row.due_on ?? '',
      row.finished_at ?? '',
      // A garment that does not open is closed by nothing.
      ...(row.opening_ticks === null ? ['', ''] : [centimetres(row.opening_ticks), row.fastening]),
      row.note,
    ]),
};

export const GARMENT_PARTS: ListOut = {
  name: 'parts',
  what: 'Parts of garments besides their tiers, as they were asked for.',
  heading: ['Garment', 'Part', 'Kind', 'Cloth', 'Shade', 'Alike', 'Asked', 'Taken out'],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('garment_part')
          .innerJoin('garment', 'garment.id', 'garment_part.garment_id')
          .leftJoin('cloth', 'cloth.id', 'garment_part.cloth_id')
          .leftJoin('shade', 'shade.id', 'garment_part.shade_id')
          .select(['garment.code', 'garment_part.name', 'garment_part.kind', 'unit', 'asked', 'pieces'])
          .select(['cloth.name as cloth', 'shade.name as shade', 'taken_out_at'])
          .orderBy('garment.id')
          .orderBy('garment_part.id'),
      )
      .map((row) => [
        row.code,
        row.name,
        partOfKind(row.kind).title,
        row.cloth ?? '',
        row.shade ?? '',
        String(row.pieces),
        sayPartAsked(Object.values(partOfKind(row.kind).draw(row.unit, readTyped(row.asked))))
          .map(({ label, text }) => `${label} ${text}`)
          .join('; '),
        row.taken_out_at ?? '',
      ]),
};

export const TIERS: ListOut = {
  name: 'tiers',
  what: 'Tiers of garments as they are described.',
  heading: ['Garment', 'Tier', 'Cloth', 'Depth', 'Fullness', 'Hangs', 'Closing', 'Taken out'],
  rows: (reader) => {
    const rows = reader.all(
      reader.db
        .selectFrom('tier')
        .where('tier.garment_part_id', 'is', null)
        .innerJoin('garment', 'garment.id', 'tier.garment_id')
        .innerJoin('cloth', 'cloth.id', 'tier.cloth_id')
        .select(['tier.id', 'garment.code', 'cloth.name as cloth', 'depth_ticks', 'fullness_milli'])
        .select(['tier.typed', 'hangs', 'ring', 'taken_out_at'])
        .orderBy('garment.id')
        .orderBy('tier.position'),
    );
    const tierName = readTierNames(
      reader,
      rows.map(({ id }) => id),
    );
    return rows.map((row) => [
      row.code,
      tierName(row.id),
      row.cloth,
      centimetres(row.depth_ticks),
      sayFullness(withExact({ value: row.fullness_milli, typed: readKept(row.typed)?.texts.fullness ?? '' })),
      row.hangs,
      row.ring === 1 ? 'ring' : 'open',
      row.taken_out_at ?? '',
    ]);
  },
};
