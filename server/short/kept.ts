import type { PlanJob } from '../../src/cut-plan/job.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import { hashOfJob, type KnownPlan, planChanges, planOfHash } from '../cut-plans/answers.ts';
import { Book, type Reader } from '../database/book.ts';
import { type LengthInDye, readDyeing } from '../dye-bench/batch/dyeing.ts';
import { readOpenGarments } from '../garments/garment/records.ts';
import { type WorkedGarment, workGarments } from '../garments/garment/worked.ts';
import { grouped } from '../kit/grouped.ts';
import { countFreePieces, type OnOrder, readFreeGrounds, readOnOrder } from './supply.ts';
import { TouchedNeeds } from './touched.ts';
import { keysOf, type NeedsFound, readNeedKey, type WorkedNeed, workOutNeeds } from './work-out.ts';

// So many pairs of a free piece and a garment that may want it are shared out at once, a few hundredths of a second on
// a small machine that has only just started; what is more waits for the next turn, so that nobody else waits for it. At
// least one need is.
const MOST_AT_ONCE = 15_000;

const KEPT = new WeakMap<Book, KeptNeeds>();

/** What is kept of a book; null within a write, whose changes are nobody's yet. */
export function keptNeedsOf(reader: Reader): KeptNeeds | null {
  if (!(reader instanceof Book) || reader.connection.inTransaction) return null;
  const kept = KEPT.get(reader) ?? new KeptNeeds(reader);
  KEPT.set(reader, kept);
  return kept;
}

interface KeptNeed extends WorkedNeed {
  /** the planner's answers that it was worked out with, by the job's hash: null where none was known */
  readonly answers: ReadonlyMap<string, KnownPlan | null>;
}

/** Which needs must be there: those of a garment, of some cloths and shades, or all. */
interface KeptAsked {
  readonly garmentCode?: string | undefined;
  readonly whole?: boolean;
  readonly of?: ReadonlySet<string> | undefined;
}

interface KeptGarment {
  readonly worked: WorkedGarment;
  /** all that it needs, and all that was ever planned for it */
  readonly keys: readonly string[];
}

/**
 * The needs of a book's open garments, kept from one request to the next. A need is worked out once, and again when
 * something that it follows from was written (see `touched.ts`) or the planner found something new.
 */
export class KeptNeeds {
  readonly #book: Book;
  readonly #mostAtOnce: number;
  readonly #touched: TouchedNeeds;
  readonly #needs = new Map<string, KeptNeed>();
  readonly #stale = new Set<string>();
  #garments: readonly KeptGarment[] = [];
  #wanted: ReadonlySet<string> = new Set();
  #onOrder: readonly OnOrder[] = [];
  #dyeing: readonly LengthInDye[] = [];
  readonly #freeGrounds = new Map<number, number>();
  #planChanges = 0;
  /** true where a look was broken off, so that what had been touched by then is not known any more */
  #isLookBroken = false;
  #turn: NodeJS.Immediate | null = null;
  /** what was last told of all; null where something has changed since */
  #told: NeedsFound | null = null;

  /** `mostAtOnce` is how many pairs of a free piece and a garment are shared out at once. */
  constructor(book: Book, mostAtOnce = MOST_AT_ONCE) {
    this.#book = book;
    this.#mostAtOnce = mostAtOnce;
    this.#touched = new TouchedNeeds(book.connection);
  }

  /**
   * The needs as the book is now: of one garment, of some cloths and shades, or of all where the `whole` is asked for, all
   * of them; else those that are worked out by now.
   */
  read({ garmentCode, whole = false, of }: KeptAsked = {}): NeedsFound {
    this.#lookAgain();
    if (whole) this.#workOut([...this.#stale]);
    else if (of) this.#workOut([...of]);
    // Where the next turn is to come already, nothing is done before it: a page asks several times.
    else if (garmentCode === undefined) this.#workOut(this.#turn === null ? this.#nextTurn() : []);
    else this.#workOut(this.#garments.find(({ worked }) => worked.garment.code === garmentCode)?.keys ?? []);
    this.#goOn();
    this.#told ??= {
      worked: this.#garments.map(({ worked }) => worked),
      found: new Map([...this.#needs].filter(([key]) => !this.#stale.has(key))),
      freeGrounds: new Map(this.#freeGrounds),
      waiting: this.#stale.size,
    };
    return garmentCode === undefined ? this.#told : { ...this.#told, waiting: 0 };
  }

  /** Every open garment as it is worked out, those due first first. */
  get worked(): readonly WorkedGarment[] {
    this.#lookAgain();
    return this.#garments.map(({ worked }) => worked);
  }

  /** Begins to work everything out before anybody asks. */
  begin(): void {
    this.#lookAgain();
    this.#goOn();
  }

  /** Works out what is not, a turn at a time between requests. */
  #goOn(): void {
    if (this.#turn !== null || this.#stale.size === 0) return;
    this.#turn = setImmediate(() => {
      this.#turn = null;
      if (!this.#book.connection.open || this.#book.trouble) return;
      try {
        this.#lookAgain();
        this.#workOut(this.#nextTurn());
      } catch {
        // Nobody asked: whoever does meets it again, and is told.
        return;
      }
      this.#goOn();
    });
  }

  #lookAgain(): void {
    const { garmentIds, keys, orders, dyeing, ...touched } = this.#touched.take();
    const all = touched.all || this.#isLookBroken;
    this.#isLookBroken = true;
    if (all || garmentIds.size > 0 || keys.size > 0 || orders || dyeing) this.#told = null;
    if (all) this.#needs.clear();
    if (all || garmentIds.size > 0) this.#lookAtGarments(all ? null : garmentIds);
    for (const key of keys) this.#spoil(key);
    if (all || orders || keys.size > 0) this.#lookAtOrders();
    if (all || dyeing) this.#lookAtDyeing();
    this.#lookAtGrounds(all || garmentIds.size > 0 ? this.#wanted : keys);
    this.#lookAtPlans();
    this.#isLookBroken = false;
  }

  /** Works out the garments that were touched; null for all. */
  #lookAtGarments(ids: ReadonlySet<number> | null): void {
    const before = new Map(this.#garments.map((kept) => [kept.worked.garment.id, kept]));
    const isTouched = (id: number) => ids === null || ids.has(id) || !before.has(id);
    const open = readOpenGarments(this.#book);
    const again = workGarments(
      this.#book,
      open.filter(({ id }) => isTouched(id)),
    ).map((worked) => ({ worked, keys: keysOf(this.#book, worked) }));
    const touched = new Map(again.map((kept) => [kept.worked.garment.id, kept]));
    this.#garments = open.flatMap(({ id }) => touched.get(id) ?? before.get(id) ?? []);
    this.#wanted = new Set(this.#garments.flatMap(({ keys }) => keys));
    const left = [...before.values()].filter(({ worked }) => isTouched(worked.garment.id));
    for (const { keys } of [...left, ...again]) for (const key of keys) this.#spoil(key);
    for (const key of [...this.#needs.keys(), ...this.#stale]) {
      if (this.#wanted.has(key)) continue;
      this.#needs.delete(key);
      this.#stale.delete(key);
    }
  }

  #spoil(key: string): void {
    if (this.#wanted.has(key)) this.#stale.add(key);
  }

  #lookAtOrders(): void {
    const before = this.#onOrder;
    this.#onOrder = readOnOrder(this.#book);
    this.#spoilWhatDiffers(before, this.#onOrder);
  }

  #lookAtDyeing(): void {
    const before = this.#dyeing;
    this.#dyeing = readDyeing(this.#book);
    this.#spoilWhatDiffers(before, this.#dyeing);
  }

  /** Spoils what is coming otherwise than before. */
  #spoilWhatDiffers(before: readonly ClothShade[], now: readonly ClothShade[]): void {
    const [was, is] = [grouped(before, needKey), grouped(now, needKey)];
    for (const key of new Set([...was.keys(), ...is.keys()])) {
      if (JSON.stringify(was.get(key)) !== JSON.stringify(is.get(key))) this.#spoil(key);
    }
  }

  #lookAtGrounds(keys: ReadonlySet<string>): void {
    const clothIds = [...new Set([...keys].map((key) => readNeedKey(key).clothId))];
    const free = readFreeGrounds(this.#book, clothIds);
    for (const clothId of clothIds) this.#freeGrounds.set(clothId, free.get(clothId) ?? 0);
  }

  #lookAtPlans(): void {
    const changes = planChanges();
    if (changes === this.#planChanges) return;
    this.#planChanges = changes;
    this.#told = null;
    for (const [key, { answers }] of this.#needs) {
      if ([...answers].some(([hash, plan]) => planOfHash(hash) !== plan)) this.#stale.add(key);
    }
  }

  /** What is worked out at once: what the garments that are due first need comes first. */
  #nextTurn(): string[] {
    if (this.#stale.size <= 1) return [...this.#stale];
    const stale = [...this.#wanted].filter((key) => this.#stale.has(key));
    const pieces = countFreePieces(this.#book, stale.map(readNeedKey));
    const askers = grouped(
      this.#garments.flatMap(({ keys }) => keys),
      (key) => key,
    );
    let pairs = 0;
    return stale.filter((key, place) => {
      pairs += (pieces.get(key) ?? 0) * (askers.get(key)?.length ?? 0);
      return place === 0 || pairs <= this.#mostAtOnce;
    });
  }

  #workOut(asked: readonly string[]): void {
    const keys = new Set(asked.filter((key) => this.#stale.has(key)));
    if (keys.size === 0) return;
    this.#told = null;
    const answers = new Map<string, Map<string, KnownPlan | null>>();
    const planKnown = (job: PlanJob, key: string) => {
      const hash = hashOfJob(job);
      const plan = planOfHash(hash);
      answers.set(key, (answers.get(key) ?? new Map()).set(hash, plan));
      return plan;
    };
    const worked = this.#garments.map((kept) => kept.worked);
    const found = workOutNeeds(this.#book, worked, keys, {
      onOrder: this.#onOrder,
      dyeing: this.#dyeing,
      planKnown,
    });
    for (const [key, need] of found) {
      this.#needs.set(key, { ...need, answers: answers.get(key) ?? new Map() });
      this.#stale.delete(key);
    }
  }
}
