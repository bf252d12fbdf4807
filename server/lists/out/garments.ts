import { sayFullness, withExact } from '../../../src/quantity/fullness.ts';
import { readKept } from '../../kit/typed.ts';
import { centimetres, type ListOut } from './cells.ts';

export const GARMENTS: ListOut = {
  name: 'garments',
  what: 'What is made, by when, and what is finished.',
  heading: ['Code', 'Garment', 'Due', 'Finished', 'Note'],
  rows: (reader) =>
    reader
      .all(reader.db.selectFrom('garment').selectAll().orderBy('id'))
      .map((row) => [row.code, row.name, row.due_on ?? '', row.finished_at ?? '', row.note]),
};

export const TIERS: ListOut = {
  name: 'tiers',
  what: 'Tiers of garments as they are described.',
  heading: ['Garment', 'Tier', 'Cloth', 'Depth', 'Fullness', 'Hangs', 'Closing', 'Taken out'],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('tier')
          .where('tier.garment_part_id', 'is', null)
          .innerJoin('garment', 'garment.id', 'tier.garment_id')
          .innerJoin('cloth', 'cloth.id', 'tier.cloth_id')
          .select(['garment.code', 'tier.name', 'cloth.name as cloth', 'depth_ticks', 'fullness_milli'])
          .select(['tier.typed', 'hangs', 'ring', 'taken_out_at'])
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
};
