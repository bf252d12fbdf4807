import { closeSync, openSync, readFileSync, readSync } from 'node:fs';
import { sizeOf } from './folder.ts';

// The forms of both files: "Database File Format" of SQLite, sections 1.3 (header) and 4.1 (write-ahead log).
const WAL_HEADER = 32;
const FRAME_HEADER = 24;
const CHANGE_COUNTER = 24;
const SIZE_IN_PAGES = 28;
const USER_VERSION = 60;
const FIRST_PAGE_HEADER = 100;

/** What the committed part of a write-ahead file says of the book that it was written for. */
interface WriteAhead {
  /** the size of the book after the last commit, in pages */
  readonly pages: number;
  /** how often it was moved into the book and begun anew */
  readonly beganAnew: number;
  /** the first page, as the first and the last commit that changed it left it; undefined where none did */
  readonly firstPages:
    | {
        readonly first: Buffer;
        readonly last: Buffer /** the first changed nothing else */;
        readonly isAlone: boolean;
      }
    | undefined;
}

/**
 * True where the write-ahead file beside a book was written for another state of it. To be asked before any connection
 * is open: closing a file drops the locks on it.
 *
 * The first page counts the changes of itself, once every time that the book is opened to be written, and has the size
 * of the book; both must follow from what lies in the book.
 */
export function isStrangeWriteAhead(file: string): boolean {
  const book = readFirstPage(file);
  const ahead = readWriteAhead(`${file}-wal`);
  if (!book || !ahead) return false;
  const last = ahead.firstPages?.last ?? book;
  if (last.readUInt32BE(SIZE_IN_PAGES) !== ahead.pages) return true;
  if (!ahead.firstPages) return false;
  const { first, isAlone } = ahead.firstPages;
  const counted = book.readUInt32BE(CHANGE_COUNTER);
  // A file that began anew did so once all that it had held was in the book, which then has what the same opening counted;
  // or, where the program ended before the first page was changed again, what the opening before counted.
  const isOpening =
    isAlone || first.readUInt32BE(USER_VERSION) !== book.readUInt32BE(USER_VERSION) || !ahead.beganAnew;
  const least = first.readUInt32BE(CHANGE_COUNTER) - (isOpening ? 1 : 0);
  return counted < least || counted > last.readUInt32BE(CHANGE_COUNTER);
}

function readFirstPage(file: string): Buffer | undefined {
  if (sizeOf(file) < FIRST_PAGE_HEADER) return undefined;
  const header = Buffer.alloc(FIRST_PAGE_HEADER);
  const handle = openSync(file, 'r');
  try {
    readSync(handle, header, 0, FIRST_PAGE_HEADER, 0);
  } finally {
    closeSync(handle);
  }
  return header;
}

/** Reads the frames up to the last whole commit, as SQLite does after a crash; nothing where there is no commit. */
function readWriteAhead(file: string): WriteAhead | undefined {
  if (sizeOf(file) <= WAL_HEADER) return undefined;
  const bytes = readFileSync(file);
  const sum = new Checksum((bytes.readUInt32BE(0) & 1) === 1);
  sum.add(bytes.subarray(0, 24));
  if (!sum.is(bytes, 24)) return undefined;
  const pageSize = bytes.readUInt32BE(8);
  let read: WriteAhead | undefined;
  let first: Buffer | undefined;
  let last: Buffer | undefined;
  let isAlone = false;
  let inCommit = 0;
  for (let at = WAL_HEADER; at + FRAME_HEADER + pageSize <= bytes.length; at += FRAME_HEADER + pageSize) {
    const page = bytes.subarray(at + FRAME_HEADER, at + FRAME_HEADER + pageSize);
    // Frames of an earlier round lie behind those of this one, under another salt.
    if (!bytes.subarray(at + 8, at + 16).equals(bytes.subarray(16, 24))) break;
    sum.add(bytes.subarray(at, at + 8));
    sum.add(page);
    if (!sum.is(bytes, at + 16)) break;
    inCommit += 1;
    const pages = bytes.readUInt32BE(at + 4);
    if (bytes.readUInt32BE(at) === 1) {
      // Opening the book writes the first page by itself (lock.ts).
      if (!first) isAlone = inCommit === 1 && pages > 0;
      first ??= page;
      last = page;
    }
    if (pages === 0) continue;
    inCommit = 0;
    read = {
      pages,
      beganAnew: bytes.readUInt32BE(12),
      firstPages: first && last ? { first, last, isAlone } : undefined,
    };
  }
  return read;
}

/** The running sum over a write-ahead file, in words of the byte order that its header names. */
class Checksum {
  readonly #isBigEndian: boolean;
  #one = 0;
  #two = 0;

  constructor(isBigEndian: boolean) {
    this.#isBigEndian = isBigEndian;
  }

  add(bytes: Buffer): void {
    for (let at = 0; at < bytes.length; at += 8) {
      this.#one = (this.#one + this.#word(bytes, at) + this.#two) >>> 0;
      this.#two = (this.#two + this.#word(bytes, at + 4) + this.#one) >>> 0;
    }
  }

  is(bytes: Buffer, at: number): boolean {
    return bytes.readUInt32BE(at) === this.#one && bytes.readUInt32BE(at + 4) === this.#two;
  }

  #word(bytes: Buffer, at: number): number {
    return this.#isBigEndian ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at);
  }
}
