import { type ClothState, clothState } from '../../../src/dye/cloth-finish.ts';
import { type Content, FIBRE_CODES } from '../../../src/dye/fibre.ts';
import { whyNotProofed } from '../../../src/dye/proofed-cloth.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { clothPath } from '../../kit/paths.ts';
import { clothStateOf } from '../../shelf/cloth/store.ts';
import { selectPieces } from '../../shelf/piece/list.ts';
import { checkInWater } from '../recipe/check.ts';
import type { StoredRecipe } from '../recipe/store.ts';

/** A cloth as far as dyeing it goes. */
export interface DyeCloth {
  readonly id: number;
  readonly name: string;
  readonly construction: string;
  readonly widthTicks: number;
  readonly usableWidthTicks: number;
  readonly massPerAreaMgM2: number | null;
  readonly content: Content;
  readonly state: ClothState;
}

/** Free length of a piece, of an undyed ground or of another shade that is dyed over. */
export type DyeablePiece = ReturnType<typeof asPieces>[number];

/**
 * Free lengths of undyed grounds, the shortest pieces first so that remnants are used up: of these cloths, or of all.
 * `over` takes dyed pieces too, after the undyed of their cloth. At most `limit` pieces.
 */
export function readDyeablePieces(
  reader: Reader,
  asked: { readonly clothIds?: readonly number[]; readonly limit?: number; readonly over?: boolean } = {},
): DyeablePiece[] {
  let query = selectDyeable(reader.db)
    .where('piece.on_hand_ticks', '>', 0)
    .whereRef('piece.on_hand_ticks', '>', 'piece.held_ticks')
    .orderBy('cloth.name')
    .orderBy('shade.ground', 'desc')
    .orderBy('piece.on_hand_ticks')
    .orderBy('piece.id');
  if (!asked.over) query = query.where('shade.ground', '=', 1);
  if (asked.clothIds) {
    if (asked.clothIds.length === 0) return [];
    query = query.where('cloth.id', 'in', [...asked.clothIds]);
  }
  return asPieces(reader, reader.all(asked.limit === undefined ? query : query.limit(asked.limit)));
}

/** Pieces by their codes, whatever their shade and whether or not anything of them is free. */
export function readPiecesToDye(reader: Reader, codes: readonly string[]): DyeablePiece[] {
  if (codes.length === 0) return [];
  return asPieces(reader, reader.all(dyeableOf(codes)));
}

const dyeableOf = prepared((db, codes: Param<readonly string[]>) =>
  selectDyeable(db).where('piece.code', 'in', inList(codes)),
);

function selectDyeable(db: Reader['db']) {
  return selectPieces(db).select('shade.ground');
}

type Row = ReturnType<typeof selectDyeable> extends { execute(): Promise<(infer R)[]> } ? R : never;

function asPieces(reader: Reader, rows: readonly Row[]) {
  const cloths = readDyeCloths(
    reader,
    rows.map(({ cloth_id }) => cloth_id),
  );
  return rows.flatMap((row) => {
    const cloth = cloths.get(row.cloth_id);
    if (!cloth) return [];
    return {
      id: row.id,
      code: row.code,
      kind: row.kind,
      lotId: row.lot_id,
      lotCode: row.lot_code,
      usableWidthTicks: row.usable_width_ticks,
      onHandTicks: row.on_hand_ticks,
      heldTicks: row.held_ticks,
      freeTicks: row.on_hand_ticks - row.held_ticks,
      place: row.place_name ?? '',
      shade: { id: row.shade_id, name: row.name, lab_l: row.lab_l, lab_a: row.lab_a, lab_b: row.lab_b },
      ground: row.ground === 1,
      cloth,
    };
  });
}

const fibresOf = prepared((db, clothIds: Param<readonly number[]>) =>
  db
    .selectFrom('cloth_fibre')
    .selectAll()
    .where('cloth_id', 'in', inList(clothIds))
    .orderBy('share_bp', 'desc'),
);
const clothRows = prepared((db, ids: Param<readonly number[]>) =>
  db.selectFrom('cloth').selectAll().where('id', 'in', inList(ids)),
);

/** Cloths by number, with their fibre content. */
export function readDyeCloths(reader: Reader, ids: readonly number[]): ReadonlyMap<number, DyeCloth> {
  const wanted = [...new Set(ids)];
  if (wanted.length === 0) return new Map();
  const fibres = reader.all(fibresOf(wanted));
  const contentOf = (clothId: number): Content =>
    fibres.flatMap((row) => {
      const fibre = FIBRE_CODES.find((code) => code === row.fibre);
      return fibre && row.cloth_id === clothId ? [{ fibre, shareBp: row.share_bp }] : [];
    });
  const rows = reader.all(clothRows(wanted));
  return new Map(
    rows.map((row) => [
      row.id,
      {
        id: row.id,
        name: row.name,
        construction: row.construction,
        widthTicks: row.width_ticks,
        usableWidthTicks: row.usable_width_ticks,
        massPerAreaMgM2: row.mass_per_area_mg_m2,
        content: contentOf(row.id),
        state: clothState(clothStateOf(row), row.finish),
      },
    ]),
  );
}

/** The cloths of which an undyed ground is free, or with `over` a length of any shade, by name. */
export function readGroundCloths(reader: Reader, over = false): DyeCloth[] {
  const free = reader.db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select('lot.cloth_id')
    .distinct()
    .where('piece.on_hand_ticks', '>', 0)
    .whereRef('piece.on_hand_ticks', '>', 'piece.held_ticks');
  const rows = reader.all(over ? free : free.where('shade.ground', '=', 1));
  const cloths = readDyeCloths(
    reader,
    rows.map(({ cloth_id }) => cloth_id),
  );
  return [...cloths.values()].sort((a, b) => a.name.localeCompare(b.name));
}

/**
 * Why a cloth cannot be dyed by a recipe, and where that can be mended; null where it can. Cloth that was put on the
 * scale needs no mass per area.
 */
export function whyNotDyed(
  reader: Reader,
  { recipe }: StoredRecipe,
  cloth: DyeCloth,
  onScale = false,
): { readonly reason: string; readonly href: string } | null {
  const href = clothPath(cloth.id);
  if (cloth.content.length === 0) {
    return { reason: `The fibre content of ${cloth.name} is not known: enter it at the cloth.`, href };
  }
  const { problems } = checkInWater(reader, recipe, cloth.content);
  const proofed = whyNotProofed(recipe, cloth.state);
  const found = [...problems.map(({ message }) => message), ...(proofed === '' ? [] : [proofed])];
  if (found.length > 0) return { reason: found.join(' '), href };
  if (cloth.massPerAreaMgM2 === null && !onScale) {
    const reason = `The mass per area of ${cloth.name} is not known, and it is not guessed: weigh a measured piece and enter it at the cloth, or put what is to be dyed on the scale.`;
    return { reason, href };
  }
  return null;
}
