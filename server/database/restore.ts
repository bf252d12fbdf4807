import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { CannotOpen, FILE, lastCopy } from './folder.ts';

/** Where the newest copy of the book lies and how it is put back, a sentence each. */
export function sayRestore(folder: string): string[] {
  const copy = lastCopy(folder);
  const source = copy
    ? `The newest copy in the folder is ${copy.path}, of ${sayDay(copy.at)}. A backup of your own may be newer.`
    : `There is no copy in ${folder}: take the newest backup of your own.`;
  return [
    source,
    'Stop Clothroom.',
    `In a terminal, run the command "restore" with the path of the copy: it proves the copy, and sets the book that lies in ${folder} aside.`,
    'Start Clothroom and enter again what came after the copy was made.',
  ];
}

function sayDay(at: Date): string {
  return at.toISOString().slice(0, 10);
}

/** No book is begun where one was: what was answered may still be put together again. */
export function lostBook(folder: string, left: readonly string[]): CannotOpen {
  const how = existsSync(join(folder, FILE)) ? 'empty' : 'missing';
  return new CannotOpen(
    `clothroom.db is ${how} in ${folder}, but a book was here before (${left.join(', ')}), so no new one is started. ` +
      `If you still have that clothroom.db, put it back where it was, with clothroom.db-wal left in its place. If not: ${sayRestore(folder).join(' ')} ` +
      `To begin with an empty book instead, name another folder with --data`,
  );
}

/** Where not even the list of tables can be read, there is nothing to serve. */
export function damageToTheFile(folder: string, error: Error): CannotOpen {
  return new CannotOpen(
    `${join(folder, FILE)} is damaged and cannot be opened (${error.message}); it was left as it is. ${sayRestore(folder).join(' ')}`,
  );
}

/** Somebody put an older copy beside what a crash had left: together they are no book. */
export function strangeWriteAhead(folder: string): CannotOpen {
  return new CannotOpen(
    `${join(folder, FILE)} does not belong to the write-ahead file beside it, and nothing was changed. Was it put back from a copy? ` +
      `Move clothroom.db-wal and clothroom.db-shm out of ${folder}, keep them, and start again. ` +
      'If you still have the clothroom.db that was there before, put that back instead: together with the write-ahead file it has the later work',
  );
}
