import { sql } from 'kysely';
import { showLength } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import { address } from '../kit/address.ts';
import { shadeChip } from '../kit/chip.ts';
import { countOf } from '../kit/words.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';

/** What lies on the shelf by cloth and shade, the highest value first. */
export function valuePage(reader: Reader, { units, currency }: Asker) {
  const rows = reader.all(
    reader.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select(['cloth.id as cloth_id', 'cloth.name as cloth', 'shade.id as shade_id', 'shade.name'])
      .select(['shade.lab_l', 'shade.lab_a', 'shade.lab_b'])
      .select([
        sql<number>`sum(piece.cost_minor)`.as('minor'),
        sql<number>`sum(piece.on_hand_ticks)`.as('ticks'),
        sql<number>`count(*)`.as('pieces'),
        sql<number>`sum(piece.cost_minor = 0)`.as('unpriced'),
      ])
      .where('piece.on_hand_ticks', '>', 0)
      .groupBy(['cloth.id', 'shade.id'])
      .orderBy('minor', 'desc')
      .orderBy('cloth.name')
      .orderBy('shade.name'),
  );
  const dearest = Math.max(1, ...rows.map(({ minor }) => minor));
  const sum = (of: (row: (typeof rows)[number]) => number) => rows.reduce((so, row) => so + of(row), 0);
  const data = {
    total: showMoney(
      sum(({ minor }) => minor),
      currency,
    ),
    pieces: sum(({ pieces }) => pieces),
    /** pieces that came without a price */
    unpriced: sum(({ unpriced }) => unpriced),
    rows: rows.map((row) => ({
      cloth: row.cloth,
      chip: shadeChip(row),
      href: address('/shelf', { cloth: row.cloth_id, shade: row.shade_id }),
      valueMinor: row.minor,
      value: showMoney(row.minor, currency),
      lengthTicks: row.ticks,
      length: `${showLength(row.ticks, units, 'down')} in ${countOf(row.pieces, 'piece', 'pieces')}`,
      /** of 400, on the scale of the dearest */
      bar: Math.round((row.minor * 400) / dearest),
    })),
  };
  return { view: 'cost/value', data, title: 'Value on the shelf', room: 'shelf' } satisfies Page;
}
