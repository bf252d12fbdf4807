import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { nameOnPlan, stripRowsOf } from '../../garments/garment/strip-rows.ts';
import { readShapedRows } from '../../garments/garment/worked.ts';
import type { ShapedRow } from '../../garments/parts/cut.ts';
import { readShadeNames } from '../../shelf/names.ts';
import type { PieceNamed } from './view.ts';

interface TierNamed {
  readonly label: string;
  readonly name: string;
  /** what is cut out of the rectangles of a part */
  readonly shaped?: ShapedRow;
}

/** The names that the plans of one cloth and shade of a garment need; each tier and part with its label */
export interface NamesOfPlan {
  readonly units: Units;
  readonly colour: string | null;
  readonly pieces: ReadonlyMap<number, PieceNamed>;
  tierNamed(tierId: number): TierNamed;
}

export function readPlanNames(
  reader: Reader,
  garment: Garment,
  of: { readonly shadeId: number; readonly pieceIds: readonly number[]; readonly units: Units },
): NamesOfPlan {
  const rows = stripRowsOf(garment);
  const shapes = readShapedRows(reader, garment);
  return {
    units: of.units,
    colour: readShadeNames(reader).get(of.shadeId)?.colour ?? null,
    pieces: readPieceNames(reader, of.pieceIds),
    tierNamed: (tierId) => {
      const row = rows.find(({ id }) => id === tierId);
      const named = { label: row?.label ?? '', name: row ? nameOnPlan(row) : 'a tier' };
      const shaped = shapes.get(tierId);
      return shaped ? { ...named, shaped } : named;
    },
  };
}

const piecesNamed = prepared((db, pieceIds: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select(['piece.id', 'piece.code', 'lot.code as lot', 'piece.usable_width_ticks as widthTicks'])
    .where('piece.id', 'in', inList(pieceIds)),
);

function readPieceNames(reader: Reader, pieceIds: readonly number[]): Map<number, PieceNamed> {
  if (pieceIds.length === 0) return new Map();
  const rows = reader.all(piecesNamed([...pieceIds]));
  return new Map(rows.map(({ id, ...named }) => [id, named]));
}
