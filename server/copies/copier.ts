import { chmodSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Book } from '../database/book.ts';
import { driverCode } from '../database/driver-errors.ts';
import type { Thoroughness } from '../database/examine.ts';
import { COPIES, copiesIn, nameOfCopy } from '../database/folder.ts';
import { putInPlace } from '../database/make.ts';
import { dayOf } from '../kit/when.ts';
import { ProcessRunner, Unanswered } from '../process.ts';
import { sayDamagedPhotos } from './photos.ts';
import type { CopyTask, CopyTaskDone } from './process.ts';
import { writeSum } from './proof.ts';
import { type CopyRecord, readRecord, writeRecord } from './record.ts';
import { letGo } from './second-place.ts';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** A start makes a copy where the last is older than this. */
const STALE_MS = 20 * HOUR_MS;
/** The first pages come before the first copy. */
const START_MS = 30_000;
const LOOK_EVERY_MS = 10 * 60_000;
/** How often a copy is proved as "check" proves a book, and how often one is put back to see whether it serves. */
const WHOLE_EVERY_MS = 7 * DAY_MS;
const DRILL_EVERY_MS = 30 * DAY_MS;
/** For a large book on a slow drive. */
const MOST_MS = 30 * 60_000;

const COPIERS = new WeakMap<Book, Copier>();

/** What makes the copies of a book; one for each open book. */
export function copierOf(book: Book): Copier {
  const known = COPIERS.get(book);
  if (known) return known;
  const copier = new Copier(book);
  COPIERS.set(book, copier);
  return copier;
}

/**
 * Makes copies of an open book while it is written to: soon after a start, at an hour of the day, when it is closed, and
 * when asked. Each is proved before it has its name, is carried to the second place where there is one, and once a month
 * the newest is put back for a trial.
 */
export class Copier {
  readonly folder: string;
  readonly #book: Book;
  readonly #runner: ProcessRunner<CopyTask, CopyTaskDone>;
  #record: CopyRecord;
  #timer: NodeJS.Timeout | undefined;
  /** what is under way; one copy at a time */
  #working: Promise<void> | null = null;
  /** whether the second place was changed while a copy was made, which may not have been carried there */
  #isMoved = false;
  /** how much had been written when the last copy was begun */
  #changesCopied = -1;

  constructor(book: Book) {
    this.#book = book;
    this.folder = join(dirname(book.file), COPIES);
    this.#runner = new ProcessRunner(new URL('./process.ts', import.meta.url), { mostMs: MOST_MS });
    this.#record = readRecord(this.folder);
  }

  get record(): CopyRecord {
    return this.#record;
  }

  get isWorking(): boolean {
    return this.#working !== null;
  }

  /** Whether copies are made by themselves, as they are of a book that is served. */
  get isBegun(): boolean {
    return this.#timer !== undefined;
  }

  /** When the newest copy was begun; null where there is none. */
  get lastAt(): string | null {
    return copiesIn(this.folder)[0]?.at ?? null;
  }

  /** From now on copies are made by themselves. */
  begin(): void {
    if (this.isBegun) return;
    this.#timer = setInterval(() => this.#look(), LOOK_EVERY_MS).unref();
    this.#changesCopied = this.#changes();
    setTimeout(() => this.#age() > STALE_MS && void this.copy(), START_MS).unref();
  }

  /** Changes the hour and the second place; a copy is carried there at the next copy. */
  setRules(rules: Pick<CopyRecord, 'hour' | 'second'>): void {
    const moved = rules.second !== this.#record.second;
    this.#isMoved ||= moved && this.isWorking;
    this.#keep({ ...rules, ...(moved && { carried: null, carriedWellAt: null }) });
  }

  /**
   * Makes a copy now, or joins the one that is being made; one that began before the second place was changed is followed
   * by another. It never fails: the record says what came of it.
   * @param isLast where the program is about to end, and what takes long is left for another time
   */
  copy(isLast = false): Promise<void> {
    if (this.#working && !this.#isMoved) return this.#working;
    this.#isMoved = false;
    const made = this.#working ? this.#working.then(() => this.#copy(isLast)) : this.#copy(isLast);
    const working = made.finally(() => {
      if (this.#working === working) this.#working = null;
    });
    this.#working = working;
    return working;
  }

  /** The last copy of a book that was written to since the one before; then the process beside it ends. */
  async close(): Promise<void> {
    clearInterval(this.#timer);
    // Started long before, it may take longer than the program has.
    if (this.isBegun && !this.isWorking && this.#changesCopied !== this.#changes()) await this.copy(true);
    await this.#runner.close();
  }

  #look(): void {
    const { hour } = this.#record;
    const now = new Date(this.#book.now());
    const isHour = now.getHours() === hour && dayOf(this.lastAt ?? '1970-01-01') !== dayOf(now.toISOString());
    if (isHour || this.#age() > DAY_MS + HOUR_MS) void this.copy();
  }

  #age(): number {
    return this.lastAt === null ? Number.POSITIVE_INFINITY : this.#since(this.lastAt);
  }

  #since(at: string): number {
    return Date.parse(this.#book.now()) - Date.parse(at);
  }

  #changes(): number {
    return this.#book.connection.prepare('SELECT total_changes()').pluck().get() as number;
  }

  async #copy(isLast: boolean): Promise<void> {
    // A book that is not sound is not worth a copy, and its earlier copies are what is wanted.
    if (this.#book.trouble) return;
    const at = this.#book.now();
    const changes = this.#changes();
    try {
      const proof = await this.#make(at, isLast ? 'quick' : this.#dueProof());
      const damaged = await this.#takePhotos();
      this.#changesCopied = changes;
      letGo(this.folder);
      const left = new Set(copiesIn(this.folder).map(({ name }) => name));
      const proofs = [proof, ...this.#record.proofs.filter(({ name }) => name !== proof.name)];
      this.#keep({
        proofs: proofs.filter(({ name }) => left.has(name)),
        made: { at, failure: sayDamagedPhotos(damaged) },
      });
      await this.#carry(at, proof);
      if (!isLast) await this.#drill(at, join(this.folder, proof.name));
    } catch (error) {
      if (!isClosed(error)) this.#keep({ made: { at, failure: inWords(error) } });
    }
  }

  async #make(at: string, how: Thoroughness): Promise<CopyRecord['proofs'][number]> {
    mkdirSync(this.folder, { recursive: true, mode: 0o700 });
    for (const name of readdirSync(this.folder))
      if (/\.part(-journal|-wal|-shm)?$/.test(name)) rmSync(join(this.folder, name), { force: true });
    const name = nameOfCopy(at);
    const part = join(this.folder, `${name}.part`);
    try {
      await this.#book.connection.backup(part);
      const { findings, sha256, bytes } = await this.#prove(part, how);
      if (findings[0] !== undefined)
        throw new Error(`the copy did not agree: ${findings[0].replace(/\.$/, '')}`);
      putInPlace(part, join(this.folder, name));
      chmodSync(join(this.folder, name), 0o400);
      writeSum(join(this.folder, name), sha256);
      return { name, sha256, bytes, how };
    } finally {
      for (const path of [part, `${part}-journal`]) rmSync(path, { force: true });
    }
  }

  /** The photos that lie with the book and not yet with its copies. */
  async #takePhotos(): Promise<readonly string[]> {
    const from = dirname(this.#book.file);
    // Where a trial failed, photos that were spoilt among the copies may be why.
    const mends = Boolean(this.#record.drilled?.failure);
    const done = await this.#runner.ask({ kind: 'photos', from, to: this.folder, mends });
    return done.kind === 'photos' ? done.damaged : [];
  }

  async #prove(file: string, how: Thoroughness) {
    const done = await this.#runner.ask({ kind: 'prove', file, how });
    if (done.kind !== 'prove') throw new Error('another task was done');
    return done.proof;
  }

  #dueProof(): Thoroughness {
    const whole = this.#record.proofs.find(({ how }) => how === 'whole');
    const at = copiesIn(this.folder).find(({ name }) => name === whole?.name)?.at;
    return at !== undefined && this.#since(at) < WHOLE_EVERY_MS ? 'quick' : 'whole';
  }

  async #carry(at: string, { name, sha256 }: { name: string; sha256: string }): Promise<void> {
    const { second } = this.#record;
    if (second === null) return;
    const copy = join(this.folder, name);
    try {
      const done = await this.#runner.ask({ kind: 'carry', copy, sha256, folder: second });
      const isAbsent = done.kind === 'carry' && done.carried === 'absent';
      this.#keep({
        carried: { at, failure: isAbsent ? 'the drive or folder is not there' : '' },
        ...(!isAbsent && { carriedWellAt: at }),
      });
    } catch (error) {
      if (isClosed(error)) throw error;
      this.#keep({ carried: { at, failure: inWords(error) } });
    }
  }

  async #drill(at: string, copy: string): Promise<void> {
    const { drilled } = this.#record;
    if (drilled && drilled.failure === '' && this.#since(drilled.at) < DRILL_EVERY_MS) return;
    const done = await this.#runner.ask({ kind: 'drill', copy, at });
    if (done.kind === 'drill')
      this.#keep({ drilled: { at, failure: (done.failures[0] ?? '').replace(/\.$/, '') } });
  }

  #keep(changed: Partial<CopyRecord>): void {
    this.#record = { ...this.#record, ...changed };
    mkdirSync(this.folder, { recursive: true, mode: 0o700 });
    try {
      writeRecord(this.folder, this.#record);
    } catch {
      // A full disk refuses this too. What is known is told until the program ends.
    }
  }
}

function isClosed(error: unknown): boolean {
  return error instanceof Unanswered && error.why === 'closed';
}

function inWords(error: unknown): string {
  const code = driverCode(error);
  if (code === 'SQLITE_FULL' || code === 'ENOSPC') return 'the disk is full';
  if (error instanceof Unanswered) return 'it took longer than half an hour';
  return (error as Error).message;
}
