import { sql } from 'kysely';
import type { Reader } from '../database/book.ts';
import { batchPath, piecePath } from '../kit/paths.ts';
import { findPiece } from '../shelf/piece/facts.ts';

/** What a label can stand on. */
export interface Thing {
  readonly kind: 'piece' | 'batch' | 'place';
  readonly id: number;
  /** the code of a piece or a batch, the name of a place */
  readonly code: string;
}

/** A piece or batch by its code, else a place by its name; capitals are no matter. */
export function findThing(reader: Reader, text: string): Thing | undefined {
  const piece = findPiece(reader, text);
  if (piece) return { kind: 'piece', ...piece };
  const batch = findBatch(reader, text);
  if (batch) return { kind: 'batch', ...batch };
  const place = reader.first(
    reader.db.selectFrom('place').select(['id', 'name as code']).where(sql`name collate nocase`, '=', text),
  );
  return place && { kind: 'place', ...place };
}

export function findBatch(reader: Reader, code: string) {
  return reader.first(
    reader.db.selectFrom('batch').select(['id', 'code']).where(sql`code collate nocase`, '=', code),
  );
}

/** The page that a label leads to. */
export function pathOfThing(thing: Thing): string {
  if (thing.kind === 'piece') return piecePath(thing.code);
  return thing.kind === 'batch' ? batchPath(thing.code) : `/shelf?place=${thing.id}`;
}

/**
 * The short address in a label's code, in capitals throughout where the code allows, as capitals make the code
 * coarser and so easier to read. The server takes it in either case.
 */
export function shortAddress(address: string, thing: Thing): string {
  const path = { piece: 'P', batch: 'D', place: 'R' }[thing.kind];
  const end = thing.kind === 'place' ? String(thing.id) : encodeURIComponent(thing.code);
  return `${address}/${path}/${end}`.replaceAll(/[a-z]/g, (letter) => letter.toUpperCase());
}
