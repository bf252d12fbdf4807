import { mkdirSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { AreaMeasured, PixelSquare } from '../../../src/colour/photo-area.ts';
import type { Book } from '../../database/book.ts';
import { PHOTOS } from '../../database/folder.ts';
import { putInPlace, syncFolder } from '../../database/make.ts';
import { ProcessRunner, Unanswered } from '../../process.ts';
import { invalid, Refusal } from '../../refusal.ts';
import type { Picture, PictureTask, PictureTaskDone } from './process.ts';

const MB = 1024 * 1024;
export const MOST_PHOTO_MB = 8;
export const MOST_PHOTO_BYTES = MOST_PHOTO_MB * MB;

/** The largest picture of sixteen bits takes 430. */
const MOST_MEMORY_MB = 700;
/** The largest picture takes two seconds; one that is made to be slow is given up. */
const MOST_MS = 20_000;
/** Ten people at most work here, and each has two hands. */
const MOST_WAITING = 6;
/** A file that no row names may be of a book that a copy took the place of, and that is put back in its turn. */
const STRAY_AFTER_MS = 30 * 24 * 3_600_000;

/** The pictures of a book: taken in and measured in a process of their own, kept in the book's folder under their hash. */
export class Pictures {
  readonly #folder: string;
  readonly #runner: ProcessRunner<PictureTask, PictureTaskDone>;

  constructor(book: Pick<Book, 'file'>, mostMs = MOST_MS) {
    this.#folder = join(dirname(book.file), PHOTOS);
    const module = new URL('./process.ts', import.meta.url);
    this.#runner = new ProcessRunner(module, { mostMs, mostInAllMb: MOST_MEMORY_MB });
  }

  /** Makes what was sent fit to keep. @throws {Refusal} invalid with why it is no photo that can be kept; too-many */
  async takeIn(bytes: Uint8Array): Promise<Picture> {
    const why = whyNoPhoto(bytes);
    if (why !== null) throw refusedPhoto(why);
    const done = await this.#ask({ kind: 'take in', bytes });
    if (done.kind !== 'taken in') throw refusedPhoto(done.kind === 'refused' ? done.why : TANGLED);
    return done.picture;
  }

  /** What some squares of a kept photo show, in their order. */
  async measure(sha256: string, squares: readonly PixelSquare[]): Promise<readonly AreaMeasured[]> {
    const done = await this.#ask({ kind: 'measure', file: this.fileOf(sha256), squares });
    if (done.kind !== 'measured') throw refusedPhoto(TANGLED);
    return done.areas;
  }

  /**
   * Puts a picture on the disk, whole, under its name; done before the row that names it is committed.
   * @throws {Refusal} not-saved where the disk refuses
   */
  keep({ sha256, jpeg }: Picture): void {
    const file = this.fileOf(sha256);
    if (statSync(file, { throwIfNoEntry: false })) return;
    const unfinished = `${file}.part`;
    try {
      mkdirSync(this.#folder, { recursive: true, mode: 0o700 });
      syncFolder(dirname(this.#folder));
      writeFileSync(unfinished, jpeg, { mode: 0o600 });
      putInPlace(unfinished, file);
    } catch (error) {
      rmSync(unfinished, { force: true });
      const { code } = error as NodeJS.ErrnoException;
      throw new Refusal(
        'not-saved',
        `The photo could not be written beside the book (${code}). Nothing was saved.`,
      );
    }
  }

  /** A kept photo; null where its file is not there. */
  async read(sha256: string): Promise<Buffer | null> {
    try {
      return await readFile(this.fileOf(sha256));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
      throw error;
    }
  }

  fileOf(sha256: string): string {
    return join(this.#folder, `${sha256}.jpg`);
  }

  /** Removes what a broken-off upload left, and files that no row has named for a month. */
  clean(isNamed: (sha256: string) => boolean, nowMs: number): void {
    for (const name of namesIn(this.#folder)) {
      const path = join(this.#folder, name);
      const sha256 = /^([0-9a-f]{64})\.jpg$/.exec(name)?.[1];
      const isStray =
        sha256 === undefined
          ? /^[0-9a-f]{64}\.jpg\.part$/.test(name)
          : nowMs - statSync(path).mtimeMs > STRAY_AFTER_MS && !isNamed(sha256);
      if (isStray) rmSync(path, { force: true });
    }
  }

  /** The process at work, for those who must end it from outside. */
  get process() {
    return this.#runner.process;
  }

  close(): Promise<void> {
    return this.#runner.close();
  }

  async #ask(task: PictureTask): Promise<PictureTaskDone> {
    if (this.#runner.busyWith >= MOST_WAITING)
      throw new Refusal(
        'too-many',
        'Several photos are being read just now. Send this one again in a moment.',
      );
    try {
      return await this.#runner.ask(task);
    } catch (error) {
      if (error instanceof Unanswered) throw refusedPhoto(error.why === 'late' ? LATE : TANGLED);
      throw error;
    }
  }
}

const TANGLED = 'the file cannot be read. Take the photo again, or save it as a plain JPEG.';
const LATE = 'reading it took too long and was stopped. Save it as a plain JPEG, or take it again.';

function refusedPhoto(why: string): Refusal {
  return invalid('photo', `Photo: ${why}`);
}

/** Why a file is none of the three kinds that are read, by its first bytes; null where it may be one. */
function whyNoPhoto(bytes: Uint8Array): string | null {
  const head = Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.length, 16)).toString('latin1');
  const isKnown =
    head.startsWith('\xff\xd8\xff') ||
    head.startsWith('\x89PNG\r\n\x1a\n') ||
    (head.startsWith('RIFF') && head.slice(8, 12) === 'WEBP');
  if (isKnown) return null;
  if (head.slice(4, 8) === 'ftyp')
    return 'HEIC and AVIF files are not read. Set the camera to save JPEG, or share the photo as JPEG.';
  return 'this is no photo. Choose a JPEG, PNG or WebP file.';
}

function namesIn(folder: string): string[] {
  return statSync(folder, { throwIfNoEntry: false }) ? readdirSync(folder) : [];
}
