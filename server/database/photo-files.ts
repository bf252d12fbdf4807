import { dirname, join } from 'node:path';
import type BetterSqlite3 from 'better-sqlite3';
import type { Book } from './book.ts';
import { PHOTOS, sizeOf } from './folder.ts';

/** The file of a photo, which is named by the hash of its bytes. */
export const fileOfPhoto = (sha256: string) => `${sha256}.jpg`;

/** The hashes of the photos that a book names; none of a book of an older form. */
export function photosNamedIn(connection: BetterSqlite3.Database): string[] {
  const isThere = connection.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'photo'").get();
  if (!isThere) return [];
  return connection.prepare('SELECT DISTINCT sha256 FROM photo ORDER BY sha256').pluck().all() as string[];
}

/** The photos that a book names, with the bytes of each file beside it; null where there is none. */
export function photoFilesOf({
  connection,
  file,
}: Book): { readonly file: string; readonly bytes: number | null }[] {
  return photosNamedIn(connection).map((sha256) => {
    const name = fileOfPhoto(sha256);
    const bytes = sizeOf(join(dirname(file), PHOTOS, name));
    return { file: name, bytes: bytes === 0 ? null : bytes };
  });
}
