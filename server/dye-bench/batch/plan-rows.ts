import type { Reader } from '../../database/book.ts';
import { drawRow } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import { type DyeablePiece, readPiecesToDye } from './dyeable.ts';
import { lengthFields } from './plan.ts';
import { readPlannedIds } from './store.ts';

/**
 * The pieces to choose from, each with its fields. Rows with a length stay where they were typed, as problems are told
 * by their place; the others fill up.
 */
export function placeRows(reader: Reader, asker: Asker, offered: readonly DyeablePiece[], typed: Typed) {
  const lengths = Object.entries(typed).flatMap(([name, length]) => {
    const index = /^pieces\.(\d+)\.length$/.exec(name)?.[1];
    const code = index === undefined ? undefined : typed[`pieces.${index}.piece`];
    return code && length !== '' ? [{ index: Number(index), code, length }] : [];
  });
  const others = lengths.filter(({ code }) => !offered.some((piece) => piece.code === code));
  const pieces = new Map(
    [
      ...offered,
      ...readPiecesToDye(
        reader,
        others.map(({ code }) => code),
      ),
    ].map((piece) => [piece.code, piece]),
  );
  const kept = lengths.flatMap(({ index, code, length }) => {
    const piece = pieces.get(code);
    return piece ? [{ index, piece, typed: length }] : [];
  });
  const taken = new Set(kept.map(({ index }) => index));
  let next = 0;
  const filled = offered
    .filter(({ id }) => !kept.some(({ piece }) => piece.id === id))
    .map((piece) => {
      while (taken.has(next)) next += 1;
      taken.add(next);
      return { index: next, piece, typed: '' };
    });
  const order = new Map([...pieces.values()].map((piece, place) => [piece.id, place]));
  const fields = lengthFields(asker);
  return [...kept, ...filled]
    .sort((a, b) => (order.get(a.piece.id) ?? 0) - (order.get(b.piece.id) ?? 0))
    .map(({ index, piece, typed: length }) => ({
      piece,
      fields: drawRow('pieces', fields, index, {
        [`pieces.${index}.piece`]: piece.code,
        [`pieces.${index}.length`]: length,
        [`pieces.${index}.bath`]: typed[`pieces.${index}.bath`] ?? '',
      }),
    }));
}

/** What planned batches want of these pieces, in ticks by piece. Nothing of it is promised. */
export function readPlannedOf(reader: Reader, pieceIds: readonly number[]): ReadonlyMap<number, number> {
  if (pieceIds.length === 0) return new Map();
  const planned = new Set(readPlannedIds(reader));
  const rows = reader.all(
    reader.db
      .selectFrom('batch_piece')
      .select(['piece_id', 'batch_id', 'length_ticks'])
      .where('piece_id', 'in', [...pieceIds]),
  );
  const wanted = new Map<number, number>();
  for (const row of rows) {
    if (!planned.has(row.batch_id)) continue;
    wanted.set(row.piece_id, (wanted.get(row.piece_id) ?? 0) + row.length_ticks);
  }
  return wanted;
}
