/** Refused by the model: the kind that the book must refuse with. */
export class Refused extends Error {
  readonly kind: 'invalid' | 'conflict';

  constructor(kind: 'invalid' | 'conflict') {
    super(kind);
    this.kind = kind;
  }
}

interface ModelPiece {
  length: number;
  cost: number;
  width: number;
  /** by tier, or by the number of another use below 0 */
  holds: Map<number, number>;
}

interface ModelEntry {
  readonly request: number;
  readonly piece: number;
  readonly tier: number;
  readonly length: number;
  readonly held: number;
  readonly cost: number;
  readonly makes: boolean;
  readonly counts: boolean;
  /** the index of the entry that sent what this one brings back, else -1 */
  readonly back: number;
  readonly sent: boolean;
  undone: boolean;
}

type Change = Partial<Omit<ModelEntry, 'request' | 'undone'>> & { readonly piece: number };

/**
 * The ledger once more, written apart from it and with nothing of it, for the tests to compare: a list of
 * pieces in memory, and a list of what was done to them.
 */
export class Model {
  pieces: ModelPiece[] = [];
  entries: ModelEntry[] = [];
  requests: { isUndo: boolean; undone: boolean }[] = [];
  /** every entry ever made, those that undo among them */
  entered = 0;

  /** Carries out a request as a whole or not at all. */
  attempt(work: () => void, isUndo = false): 'done' | 'invalid' | 'conflict' {
    const kept = structuredClone({ pieces: this.pieces, entries: this.entries, entered: this.entered });
    this.requests.push({ isUndo, undone: false });
    try {
      work();
      return 'done';
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      Object.assign(this, kept);
      this.requests.pop();
      return error.kind;
    }
  }

  receive(length: number, cost: number, width: number): void {
    if (length < 1) throw new Refused('invalid');
    this.#make(width, { length, cost });
  }

  split(piece: number, length: number): void {
    const cost = this.#take(piece, 0, length);
    if (this.#at(piece).length === 0) throw new Refused('invalid');
    this.#make(this.#at(piece).width, { length, cost });
  }

  hold(piece: number, tier: number, length: number): void {
    if (length < 1) throw new Refused('invalid');
    if (length > this.#free(piece)) throw new Refused('conflict');
    this.#enter({ piece, tier, held: length });
  }

  release(piece: number, tier: number, length: number): void {
    if (length < 1) throw new Refused('invalid');
    if (length > this.#held(piece, tier)) throw new Refused('conflict');
    this.#enter({ piece, tier, held: -length });
  }

  cut(piece: number, tier: number, length: number, left: { length: number; width: number } | null): void {
    const cost = this.#take(piece, tier, length);
    if (!left) return;
    const { width } = this.#at(piece);
    if (left.length < 1 || left.length > length || left.width < 1 || left.width > width) {
      throw new Refused('invalid');
    }
    // Whole minor units of the cost that goes with the area kept.
    let keeps = Math.floor((cost * left.length * left.width) / (length * width));
    while (BigInt(keeps) * BigInt(length) * BigInt(width) > BigInt(cost) * areaOf(left)) keeps -= 1;
    while (BigInt(keeps + 1) * BigInt(length) * BigInt(width) <= BigInt(cost) * areaOf(left)) keeps += 1;
    this.#make(left.width, { length: left.length, cost: keeps });
  }

  /** Gives the index of the entry, by which the length comes back. */
  send(piece: number, length: number): number {
    this.#take(piece, 0, length, { sent: true });
    return this.entries.length - 1;
  }

  bringBack(sent: number, measured: number): void {
    const entry = this.entries[sent];
    if (!entry) throw new Error('nothing was sent');
    if (measured < 0) throw new Refused('invalid');
    if (entry.undone || this.entries.some((other) => other.back === sent && !other.undone)) {
      throw new Refused('conflict');
    }
    const [length, cost] = [-entry.length, -entry.cost];
    this.#make(this.#at(entry.piece).width, { length, cost, back: sent });
    const piece = this.pieces.length - 1;
    if (measured === 0) this.#enter({ piece, length: -length, cost: -cost });
    else if (measured !== length)
      this.#enter({ piece, length: measured - length, counts: measured > length });
  }

  recount(piece: number, counted: number): void {
    const { length, cost } = this.#at(piece);
    if (counted < 0) throw new Refused('invalid');
    if (counted < this.#allHeld(piece)) throw new Refused('conflict');
    if (counted === length) throw new Refused('invalid');
    this.#enter({ piece, length: counted - length, cost: counted === 0 ? -cost : 0, counts: true });
  }

  /** Writing off and returning are one to the balances. */
  remove(piece: number, length: number): void {
    this.#take(piece, 0, length);
  }

  /** Called within an attempt whose request is an undo. */
  undo(request: number): void {
    const asked = this.requests[request];
    if (!asked || asked.isUndo || asked.undone) throw new Refused('conflict');
    const mine = [...this.entries.keys()].filter((index) => this.entries[index]?.request === request);
    for (const index of mine) this.#refuseIfBuiltOn(index);
    for (const index of mine.reverse()) this.#turnBack(index);
    asked.undone = true;
  }

  #refuseIfBuiltOn(index: number): void {
    const entry = this.entries[index];
    if (!entry) throw new Error('no such entry');
    const since = this.entries.filter((other) => other.request > entry.request && !other.undone);
    const touched = since.filter((other) => other.piece === entry.piece);
    const builtOn =
      (entry.makes && touched.length > 0) ||
      (entry.length !== 0 && touched.some((other) => other.counts)) ||
      since.some((other) => other.back === index);
    if (builtOn) throw new Refused('conflict');
  }

  #turnBack(index: number): void {
    const entry = this.entries[index];
    if (!entry) throw new Error('no such entry');
    this.#move(entry.piece, entry.tier, -entry.length, -entry.held, -entry.cost);
    const { length, cost } = this.#at(entry.piece);
    const stands =
      this.#held(entry.piece, entry.tier) >= 0 && this.#free(entry.piece) >= 0 && length >= 0 && cost >= 0;
    if (!stands || (length === 0 && cost > 0)) throw new Refused('conflict');
    entry.undone = true;
    this.entered += 1;
  }

  #take(piece: number, tier: number, length: number, says: Partial<ModelEntry> = {}): number {
    if (length < 1) throw new Refused('invalid');
    const held = tier === 0 ? 0 : this.#held(piece, tier);
    if (length > this.#free(piece) + held) throw new Refused('conflict');
    const state = this.#at(piece);
    const cost = length === state.length ? state.cost : nearest(state.cost, length, state.length);
    this.#enter({ ...says, piece, tier, length: -length, held: -Math.min(held, length), cost: -cost });
    return cost;
  }

  #make(width: number, says: Omit<Change, 'piece'>): void {
    this.pieces.push({ length: 0, cost: 0, width, holds: new Map() });
    this.#enter({ ...says, piece: this.pieces.length - 1, makes: true });
  }

  #enter(change: Change): void {
    const nothing = {
      tier: 0,
      length: 0,
      held: 0,
      cost: 0,
      makes: false,
      counts: false,
      back: -1,
      sent: false,
    };
    const entry = { ...nothing, ...change, request: this.requests.length - 1, undone: false };
    this.entries.push(entry);
    this.entered += 1;
    this.#move(entry.piece, entry.tier, entry.length, entry.held, entry.cost);
  }

  #move(piece: number, tier: number, length: number, held: number, cost: number): void {
    const state = this.#at(piece);
    state.length += length;
    state.cost += cost;
    if (held !== 0) state.holds.set(tier, this.#held(piece, tier) + held);
    if (state.holds.get(tier) === 0) state.holds.delete(tier);
  }

  #at(piece: number): ModelPiece {
    const state = this.pieces[piece];
    if (!state) throw new Error(`no piece ${piece}`);
    return state;
  }

  #held(piece: number, tier: number): number {
    return this.#at(piece).holds.get(tier) ?? 0;
  }

  #allHeld(piece: number): number {
    return [...this.#at(piece).holds.values()].reduce((sum, held) => sum + held, 0);
  }

  #free(piece: number): number {
    return this.#at(piece).length - this.#allHeld(piece);
  }
}

/** The whole number nearest to cost × part / whole; of two that are as near, the greater. */
function nearest(cost: number, part: number, whole: number): number {
  const [exact, by] = [BigInt(cost) * BigInt(part), BigInt(whole)];
  const below = exact / by;
  return Number(2n * (exact - below * by) >= by ? below + 1n : below);
}

function areaOf(size: { length: number; width: number }): bigint {
  return BigInt(size.length) * BigInt(size.width);
}
