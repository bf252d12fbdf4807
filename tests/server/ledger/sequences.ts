import type BetterSqlite3 from 'better-sqlite3';
import fc from 'fast-check';
import { expect } from 'vitest';
import type { Answer, Book, Tx } from '../../../server/database/book.ts';
import type { Purpose } from '../../../server/ledger/state.ts';
import { undoRequest } from '../../../server/ledger/undo.ts';
import * as verbs from '../../../server/ledger/verbs.ts';
import { Refusal } from '../../../server/refusal.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { newKey } from '../support.ts';
import { Model } from './model.ts';

/** A part of what there is: so many tenths of it and a tick more or less, so that every limit is tried. */
interface Part {
  readonly tenths: number;
  readonly plus: number;
}

const TAKING = ['split', 'cut', 'send', 'write off', 'return'] as const;
const STEPS = ['receive', 'hold', 'release', 'bring back', 'recount', ...TAKING] as const;

export interface Step {
  readonly verb: (typeof STEPS)[number];
  readonly piece: number;
  readonly purpose: number;
  readonly earlier: number;
  readonly part: Part;
  readonly left: { readonly length: Part; readonly width: Part } | null;
  readonly size: number;
  readonly cost: number;
}

export type Command =
  | { readonly what: 'request'; readonly steps: readonly Step[] }
  | { readonly what: 'undo' | 'repeat' | 'other content'; readonly earlier: number };

const part: fc.Arbitrary<Part> = fc.record({
  tenths: fc.integer({ min: 0, max: 11 }),
  plus: fc.integer({ min: -1, max: 1 }),
});

const step: fc.Arbitrary<Step> = fc.record({
  verb: fc.constantFrom(...STEPS),
  piece: fc.nat(20),
  purpose: fc.nat(4),
  earlier: fc.nat(20),
  part,
  left: fc.option(fc.record({ length: part, width: part })),
  size: fc.oneof({ weight: 6, arbitrary: fc.nat(300) }, fc.integer({ min: 1, max: MOST_LENGTH_TICKS })),
  cost: fc.oneof({ weight: 6, arbitrary: fc.nat(99) }, fc.nat(1e9)),
});

const one = step.map((step): Command => ({ what: 'request', steps: [step] }));
const several = fc
  .array(step, { minLength: 2, maxLength: 3 })
  .map((steps): Command => ({ what: 'request', steps }));
const again = fc.record({
  what: fc.constantFrom('undo' as const, 'undo' as const, 'repeat' as const, 'other content' as const),
  earlier: fc.nat(30),
});

/** What may be asked of a ledger, one request after another, lawful or not. */
export const sequences = fc.array(
  fc.oneof({ weight: 8, arbitrary: one }, { weight: 2, arbitrary: several }, { weight: 4, arbitrary: again }),
  { minLength: 5, maxLength: 30, size: 'max' },
);

export interface Bench {
  readonly lotId: number;
  /** what lengths are cut and held for, and how the verbs are asked */
  readonly purposes: readonly Purpose[];
  readonly batches: readonly { readonly batchId: number; readonly lotId: number }[];
}

// What stands in the book after what stood there before.
const PIECES =
  'SELECT id, on_hand_ticks, held_ticks, cost_minor, usable_width_ticks FROM piece WHERE id > ? ORDER BY id';
const HOLDS =
  'SELECT piece_id, coalesce(tier_id, -other_use_id), held_ticks FROM hold WHERE piece_id > ? ORDER BY 1, 2';
const ENTRIES = 'SELECT coalesce(max(id), 0) - ? FROM entry';

interface Sent {
  readonly inModel: number;
  readonly entryId: number;
  readonly lotId: number;
}

/** One sequence on pieces of its own, carried out on the book and on the model, and compared step by step. */
export class Sequence {
  readonly #book: Book;
  readonly #bench: Bench;
  readonly #model = new Model();
  readonly #done: { key: string; asked: unknown; answer: Answer }[] = [];
  readonly #before: { piece: number; entry: number };
  readonly #reads: ReadonlyMap<string, BetterSqlite3.Statement>;
  readonly #tally: Map<string, number>;
  #ids: number[] = [];
  #sent: Sent[] = [];

  constructor(book: Book, bench: Bench, tally: Map<string, number>) {
    this.#book = book;
    this.#bench = bench;
    this.#tally = tally;
    const last = 'SELECT (SELECT max(id) FROM piece) AS piece, (SELECT max(id) FROM entry) AS entry';
    const { piece, entry } = book.connection.prepare(last).get() as Record<string, number | null>;
    this.#before = { piece: piece ?? 0, entry: entry ?? 0 };
    this.#reads = new Map([PIECES, HOLDS, ENTRIES].map((sql) => [sql, book.connection.prepare(sql).raw()]));
  }

  run(command: Command): void {
    if (command.what === 'request') this.#request(command.steps);
    else if (command.what === 'undo') this.#undo(command.earlier);
    else this.#again(command.earlier, command.what);
    this.#compare();
  }

  #request(steps: readonly Step[]): void {
    // The model goes first and settles, by what it has, which lengths are meant; the book is asked the same.
    const asked: { verb: string; work: (tx: Tx) => void }[] = [];
    const expected = this.#model.attempt(() => {
      for (const step of steps) {
        const [ofModel, ofBook] = this.#settle(step);
        asked.push({ verb: step.verb, work: ofBook });
        ofModel();
      }
    });
    const [ids, sent] = [[...this.#ids], [...this.#sent]];
    const got = this.#write(newKey(), steps, (tx) => {
      for (const { work } of asked) work(tx);
      return { location: '/', said: `Request ${this.#done.length}.` };
    });
    if (got !== 'done') [this.#ids, this.#sent] = [ids, sent];
    expect(got).toBe(expected);
    for (const { verb } of asked) this.#count(asked.length === 1 ? verb : 'several', got);
  }

  #settle(step: Step): [ofModel: () => void, ofBook: (tx: Tx) => void] {
    const { pieces } = this.#model;
    if (step.verb === 'receive' || pieces.length === 0) return this.#receive(step);
    const piece = step.piece % pieces.length;
    const [onHand, width] = [pieces[piece]?.length ?? 0, pieces[piece]?.width ?? 0];
    const length = Math.min(partOf(onHand, step.part), MOST_LENGTH_TICKS);
    const asked = { lengthTicks: length, typed: '' };
    const purpose = this.#bench.purposes[step.purpose] ?? { tierId: 0 };
    const holds = [...(pieces[piece]?.holds ?? [])];
    const pieceId = () => this.#ids[piece] ?? 0;
    const model = this.#model;
    switch (step.verb) {
      case 'split':
        return [() => model.split(piece, length), (tx) => this.#add(verbs.splitPiece(tx, pieceId(), asked))];
      case 'hold':
        return [
          () => model.hold(piece, keyOf(purpose), length),
          (tx) =>
            'tierId' in purpose
              ? verbs.holdLength(tx, pieceId(), purpose.tierId, asked)
              : verbs.holdForUse(tx, pieceId(), purpose.otherUseId, asked),
        ];
      case 'release': {
        const [holder, held] = holds[step.earlier % (holds.length + 1)] ?? [keyOf(purpose), length];
        const lengthTicks = partOf(held, step.part);
        return [
          () => model.release(piece, holder, lengthTicks),
          (tx) =>
            holder > 0
              ? verbs.releaseLength(tx, pieceId(), holder, { lengthTicks, typed: '' })
              : verbs.releaseFromUse(tx, pieceId(), -holder, { lengthTicks, typed: '' }),
        ];
      }
      case 'cut': {
        const left = step.left && {
          length: partOf(Math.max(length, 1), step.left.length),
          width: partOf(width, step.left.width),
        };
        const leftover = left && { lengthTicks: left.length, widthTicks: left.width, placeId: null };
        const what = 'tierId' in purpose ? { ...purpose, strips: 1 } : purpose;
        const cut = { ...asked, ...what, ...(leftover ? { leftover } : {}) };
        return [
          () => model.cut(piece, keyOf(purpose), length, left),
          (tx) => this.#add(verbs.cutLength(tx, pieceId(), cut).remnant),
        ];
      }
      case 'send':
        return this.#send(step, piece, length);
      case 'bring back':
        return this.#bringBack(step) ?? this.#send(step, piece, length);
      case 'recount':
        return [() => model.recount(piece, length), (tx) => verbs.recountPiece(tx, pieceId(), asked)];
      case 'write off':
        return [
          () => model.remove(piece, length),
          (tx) => verbs.writeOffLength(tx, pieceId(), { ...asked, why: 'spoiled' }),
        ];
      case 'return':
        return [() => model.remove(piece, length), (tx) => verbs.returnLength(tx, pieceId(), asked)];
    }
  }

  #receive({ size, cost, part }: Step): [() => void, (tx: Tx) => void] {
    const width = part.tenths * 13 + 1;
    const piece = { kind: 'bolt' as const, lotId: this.#bench.lotId, usableWidthTicks: width, placeId: null };
    const bolt = { ...piece, lengthTicks: size, typed: '', costMinor: cost };
    return [() => this.#model.receive(size, cost, width), (tx) => this.#add(verbs.receivePiece(tx, bolt))];
  }

  #send({ earlier }: Step, piece: number, lengthTicks: number): [() => void, (tx: Tx) => void] {
    const batch = this.#bench.batches[earlier % this.#bench.batches.length];
    if (!batch) throw new Error('there is no batch');
    let inModel = -1;
    return [
      () => {
        inModel = this.#model.send(piece, lengthTicks);
      },
      (tx) => {
        const id = this.#ids[piece] ?? 0;
        const entryId = verbs.sendPieceToDye(tx, id, batch.batchId, { lengthTicks, typed: '' });
        this.#sent.push({ inModel, entryId, lotId: batch.lotId });
      },
    ];
  }

  #bringBack({ earlier, part }: Step): [() => void, (tx: Tx) => void] | null {
    const sent = this.#sent[earlier % Math.max(this.#sent.length, 1)];
    if (!sent) return null;
    const entry = this.#model.entries[sent.inModel];
    const measuredTicks = partOf(-(entry?.length ?? 0), part);
    const width = this.#model.pieces[entry?.piece ?? 0]?.width ?? 0;
    const back = { measuredTicks, typed: '', lotId: sent.lotId, usableWidthTicks: width };
    return [
      () => this.#model.bringBack(sent.inModel, measuredTicks),
      (tx) => this.#add(verbs.bringBackFromDye(tx, sent.entryId, back)),
    ];
  }

  #undo(earlier: number): void {
    const request = earlier % Math.max(this.#done.length, 1);
    const known = this.#done[request];
    const expected = this.#model.attempt(() => this.#model.undo(request), true);
    const got = this.#write(newKey(), { undoes: known?.key }, (tx) =>
      undoRequest(tx, known?.key ?? 'no such key'),
    );
    expect(got).toBe(expected);
    this.#count('undo', got);
  }

  /** The key of an earlier request once more. */
  #again(earlier: number, what: 'repeat' | 'other content'): void {
    const known = this.#done[earlier % Math.max(this.#done.length, 1)];
    if (!known) return;
    const asked = what === 'repeat' ? known.asked : { ...[known.asked], more: 1 };
    const again = () =>
      this.#book.write({ key: known.key, asked, personId: 2 }, () => {
        throw new Error('a request was carried out twice');
      });
    if (what === 'repeat') expect(again()).toEqual(known.answer);
    else expect(again).toThrow(expect.objectContaining({ kind: 'conflict' }));
    this.#count(what, 'done');
  }

  #write(key: string, asked: unknown, work: (tx: Tx) => Answer): 'done' | 'invalid' | 'conflict' {
    try {
      const answer = this.#book.write({ key, asked, personId: 1 }, work);
      this.#done.push({ key, asked, answer });
      return 'done';
    } catch (error) {
      if (error instanceof Refusal && (error.kind === 'invalid' || error.kind === 'conflict'))
        return error.kind;
      throw error;
    }
  }

  /** Every balance, hold and cost of the sequence's pieces, and how many entries there are. */
  #compare(): void {
    const read = (sql: string, from: number) => JSON.stringify(this.#reads.get(sql)?.all(from));
    const pieces = this.#model.pieces.map(({ length, holds, cost, width }, index) => {
      const held = [...holds.values()].reduce((sum, ticks) => sum + ticks, 0);
      return [this.#ids[index], length, held, cost, width];
    });
    expect(read(PIECES, this.#before.piece)).toBe(JSON.stringify(pieces));
    const holds = this.#model.pieces.flatMap(({ holds }, index) =>
      [...holds].sort(([a], [b]) => a - b).map(([tier, held]) => [this.#ids[index], tier, held]),
    );
    expect(read(HOLDS, this.#before.piece)).toBe(JSON.stringify(holds));
    expect(read(ENTRIES, this.#before.entry)).toBe(`[[${this.#model.entered}]]`);
  }

  #add(made: verbs.PieceRef | null): void {
    if (made) this.#ids.push(made.id);
  }

  #count(verb: string, outcome: string): void {
    const name = `${verb}: ${outcome}`;
    this.#tally.set(name, (this.#tally.get(name) ?? 0) + 1);
  }
}

/** The model tells tiers from other uses by the sign. */
function keyOf(purpose: Purpose): number {
  return 'tierId' in purpose ? purpose.tierId : -purpose.otherUseId;
}

function partOf(whole: number, { tenths, plus }: Part): number {
  return Math.floor((whole * tenths) / 10) + plus;
}
