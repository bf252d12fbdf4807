import { lstatSync } from 'node:fs';

/**
 * Knows files of an open book by device and inode: a file that was deleted or replaced still takes every write, and
 * nobody finds it again. Looking opens nothing, since closing a file would drop the locks on it.
 */
export class FileWatch {
  readonly #opened: ReadonlyMap<string, string>;

  constructor(...paths: string[]) {
    this.#opened = new Map(paths.map((path) => [path, markOf(path)]));
  }

  /** The first file that is not the one that was there at the beginning. */
  gone(): string | undefined {
    for (const [path, mark] of this.#opened) if (markOf(path) !== mark) return path;
    return undefined;
  }
}

function markOf(path: string): string {
  const found = lstatSync(path, { bigint: true, throwIfNoEntry: false });
  return found ? `${found.dev} ${found.ino}` : '';
}
