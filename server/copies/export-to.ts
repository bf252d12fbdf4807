import { closeSync, existsSync, openSync, rmSync, writeSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { Book } from '../database/book.ts';
import { CannotOpen } from '../database/folder.ts';
import { putInPlace } from '../database/make.ts';
import { photosNamedIn } from '../database/photo-files.ts';
import { exportWorkroom } from '../ledger/whole-workroom.ts';
import { carryPhotos, checkPhotos } from './photos.ts';

/** The name of an exported workroom in its folder; its photos lie beside it. */
const EXPORTED = 'workroom.json';

/**
 * Writes a whole workroom into a folder: the JSON text and the photos that it names.
 *
 * @throws {CannotOpen} where there is no such folder
 */
export function exportTo(book: Book, to: string) {
  const folder = resolve(to);
  if (!existsSync(folder)) throw new CannotOpen(`there is no folder ${folder}`);
  const path = join(folder, EXPORTED);
  const part = `${path}.part`;
  try {
    const handle = openSync(part, 'w', 0o600);
    try {
      for (const text of exportWorkroom(book)) writeSync(handle, text);
    } finally {
      closeSync(handle);
    }
    carryPhotos(dirname(book.file), folder, { mends: true });
    putInPlace(part, path);
  } finally {
    rmSync(part, { force: true });
  }
  const wrong = checkPhotos({ connection: book.connection, file: path });
  return { path, photos: photosNamedIn(book.connection).length, wrong };
}
