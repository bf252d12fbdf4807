import { columnsAcross } from '../../../src/fit/cut-length.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { cuttingPath } from '../../kit/paths.ts';
import { listed } from '../../kit/words.ts';
import { countsAs } from '../../ledger/joined-lots.ts';
import { type PieceState, readHeldForTier, readPiece } from '../../ledger/state.ts';
import { conflict, invalid } from '../../refusal.ts';
import { findPiece } from '../../shelf/piece/facts.ts';
import type { ShadeAtTable } from './table.ts';
import { readTierAtTable, type TierAtTable } from './table.ts';

/** A piece that a tier may hold or cut, with the shade of the tier that it is for. */
export interface PieceForTier {
  readonly state: PieceState;
  readonly lotCode: string;
  readonly heldForTierTicks: number;
  readonly shade: ShadeAtTable;
  /** strips side by side in a cut length of this piece, 1 or more */
  readonly columns: number;
}

/** A tier for which cloth can be held and cut. @throws {Refusal} unknown; conflict with the reason where it cannot */
export function readOpenTier(tx: Tx, code: string, tierId: number): TierAtTable {
  const table = readTierAtTable(tx, code, tierId);
  if (table.closed !== '') {
    throw conflict(table.closed, {
      text: `${table.tier.name} as it is now`,
      href: cuttingPath(code, tierId),
    });
  }
  return table;
}

const lotOf = prepared((db, lotId: Param<number>) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select([
      'lot.code',
      countsAs().as('counts_as'),
      'lot.cloth_id',
      'lot.shade_id',
      'cloth.name as cloth',
      'shade.name as shade',
    ])
    .where('lot.id', '=', lotId),
);

/**
 * The piece that was named, if the tier can use it.
 *
 * @throws {Refusal} invalid at `piece`: no such piece, another cloth, a shade that the tier does not want, or too
 * narrow for a strip.
 */
export function readPieceForTier(
  reader: Reader,
  table: TierAtTable,
  named: string,
  units: Units,
): PieceForTier {
  const found = findPiece(reader, named);
  if (!found) throw invalid('piece', `There is no piece ${named}: check the code.`);
  const state = readPiece(reader, found.id);
  const lot = reader.first(lotOf(state.lotId));
  if (!lot) throw new Error('a piece is of a lot');
  const shade = table.shades.find((one) => one.clothId === lot.cloth_id && one.shadeId === lot.shade_id);
  if (!shade) throw invalid('piece', sayStrange(reader, table, state.code, lot));
  const columns = columnsAcross(shade, state.usableWidthTicks);
  if (columns === 0) throw invalid('piece', sayNarrow(state, shade, units));
  return {
    state: { ...state, lotId: lot.counts_as },
    lotCode: lot.code,
    heldForTierTicks: readHeldForTier(reader, state.id, table.tier.id),
    shade,
    columns,
  };
}

function sayStrange(
  reader: Reader,
  table: TierAtTable,
  code: string,
  lot: { readonly cloth: string; readonly shade: string },
): string {
  const wanted = reader.all(
    reader.db
      .selectFrom('shade')
      .select('name')
      .where(
        'id',
        'in',
        table.shades.map(({ shadeId }) => shadeId),
      )
      .orderBy('id'),
  );
  const cloth = reader.first(
    reader.db.selectFrom('cloth').select('name').where('id', '=', table.tier.clothId),
  );
  const shades = listed(wanted.map(({ name }) => name));
  return `${code} is ${lot.cloth} in ${lot.shade}. ${table.tier.name} wants ${cloth?.name ?? 'another cloth'} in ${shades}.`;
}

function sayNarrow(state: PieceState, shade: ShadeAtTable, units: Units): string {
  const width = showSize(state.usableWidthTicks, units, 'down');
  return `${state.code} is ${width} wide in use, and a strip of ${showSize(shade.lengthTicks, units, 'up')} does not fit across it.`;
}
