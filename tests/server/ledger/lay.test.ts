import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { cutLay } from '../../../server/ledger/lay.ts';
import { undoRequest } from '../../../server/ledger/undo.ts';
import { cutLength, holdLength, splitPiece } from '../../../server/ledger/verbs.ts';
import { Refusal } from '../../../server/refusal.ts';
import { shareLay } from '../../../src/cut-plan/lay.ts';
import { m } from '../../lengths.ts';
import { makeBolt, makeStock, makeTier, newKey, openTestBook, type TestBook } from '../support.ts';

const WIDTH = 100;

/** A lay on a bolt: for each tier what is held on the piece, what of it is for this lay, and the area of its strips. */
const lays = fc.record({
  cost: fc.nat(100_000),
  height: fc.integer({ min: 500, max: 5000 }),
  more: fc.integer({ min: 0, max: 60 }),
  tiers: fc.array(
    fc.record({
      other: fc.nat(150),
      strips: fc.integer({ min: 1, max: 9 }),
      width: fc.integer({ min: 1, max: 30 }),
    }),
    { minLength: 1, maxLength: 3 },
  ),
  rest: fc.boolean(),
  /** what is neither held nor for the lay */
  free: fc.nat(60),
});

describe('any lay', () => {
  let opened: TestBook;
  let lotId: number;
  let tierIds: number[];

  beforeAll(async () => {
    opened = await openTestBook();
    opened.write((tx) => {
      const stock = makeStock(tx);
      lotId = stock.lotId;
      tierIds = [makeTier(tx, stock), makeTier(tx, stock), makeTier(tx, stock)];
    });
  });
  afterAll(() => opened.close());

  const stateOf = (pieceId: number) => {
    const { db } = opened.book;
    const piece = opened.book.first(db.selectFrom('piece').selectAll().where('id', '=', pieceId));
    const holds = opened.book.all(
      db.selectFrom('hold').selectAll().where('piece_id', '=', pieceId).orderBy('tier_id'),
    );
    return {
      length: piece?.on_hand_ticks ?? 0,
      cost: piece?.cost_minor ?? 0,
      holds: holds.map(({ tier_id: id, held_ticks: held }) => [id, held]),
    };
  };

  it('takes its length and cost to the last tick and unit, and its undo gives all back', () => {
    let short = 0;
    fc.assert(
      fc.property(lays, ({ cost, height, more, tiers, rest, free }) => {
        const others = tiers.reduce((sum, { other }) => sum + other, 0);
        const length = height + others + free;
        fc.pre(height + more <= length);
        const areas = tiers.map(({ width }) => BigInt(width) * BigInt(height));
        const right = tiers.reduce((sum, { width }) => sum + width, 0);
        const taken = height + more;
        const kept = rest && right < WIDTH ? BigInt(WIDTH - right) * BigInt(taken) : 0n;
        const plan = shareLay(height, areas, 0n, WIDTH).lengthsTicks;
        const { lengthsTicks, carrier } = shareLay(taken, areas, kept, WIDTH);
        const bolt = opened.write((tx) => {
          // Five decimals hold a tick; three could be read as thousands and would be asked back.
          const mmOf = (ticks: number) => `${(ticks / 160).toFixed(5)} mm`;
          const made = makeBolt(tx, lotId, mmOf(length), cost, mmOf(WIDTH));
          tiers.forEach(({ other }, i) => {
            const lengthTicks = (plan[i] ?? 0) + other;
            holdLength(tx, made.id, tierIds[i] ?? 0, { lengthTicks, typed: '' });
          });
          return made;
        });
        const before = stateOf(bolt.id);
        const key = newKey();
        const cut = () =>
          opened.book.write({ key, asked: null, personId: 1 }, (tx) => {
            cutLay(tx, bolt.id, {
              tiers: tiers.map(({ strips }, i) => ({
                tierId: tierIds[i] ?? 0,
                strips,
                lengthTicks: lengthsTicks[i] ?? 0,
                heldTicks: plan[i] ?? 0,
              })),
              carrier,
              rests:
                kept === 0n
                  ? []
                  : [
                      {
                        lengthTicks: taken,
                        widthTicks: WIDTH - right,
                        alongTicks: 0,
                        acrossTicks: right,
                        placeId: null,
                      },
                    ],
              mayGive: tierIds,
              typed: '',
            });
            return { location: '/', said: 'Cut.' };
          });
        cut();
        const after = stateOf(bolt.id);
        expect(after.length).toBe(before.length - taken);
        const entries = opened.book.all(
          opened.book.db.selectFrom('entry').selectAll().where('request_key', '=', key),
        );
        const cuts = entries.filter(({ kind }) => kind === 'cut');
        expect(cuts.reduce((sum, row) => sum - row.length_ticks, 0)).toBe(taken);
        expect(cuts.reduce((sum, row) => sum - row.cost_minor, 0)).toBe(before.cost - after.cost);
        const remnants = entries.filter(({ kind }) => kind === 'joined');
        for (const { cost_minor: of } of remnants) {
          expect(BigInt(of) * BigInt(taken) * BigInt(WIDTH)).toBeLessThanOrEqual(
            BigInt(before.cost - after.cost + tiers.length) * kept,
          );
        }
        // What is held for other lays stays, as far as there is cloth for it.
        const heldAfter = after.holds.reduce((sum, [, held]) => sum + (held ?? 0), 0);
        if (others <= after.length) {
          expect(after.holds).toEqual(
            tiers.map(({ other }, i) => [tierIds[i], other]).filter(([, other]) => other !== 0),
          );
        } else {
          short += 1;
          expect(heldAfter).toBe(after.length);
        }
        opened.write((tx) => undoRequest(tx, key));
        expect(stateOf(bolt.id)).toEqual(before);
      }),
      { numRuns: 100 },
    );
    // Both what stays held and what has to give way was tried.
    expect(short).toBeGreaterThan(0);
    expect(short).toBeLessThan(100);
    expect(checkBook(opened.book).findings).toEqual([]);
  });

  it('is refused where others hold what it needs', () => {
    const bolt = opened.write((tx) => {
      const made = makeBolt(tx, lotId, '1 m');
      holdLength(tx, made.id, tierIds[2] ?? 0, { lengthTicks: 159_000, typed: '' });
      return made;
    });
    const tier = { tierId: tierIds[0] ?? 0, strips: 1, lengthTicks: 1001, heldTicks: 0 };
    const asked = { tiers: [tier], carrier: 0, rests: [], mayGive: [], typed: '' };
    expect(() => opened.write((tx) => cutLay(tx, bolt.id, asked))).toThrow(Refusal);
    opened.write((tx) => cutLay(tx, bolt.id, { ...asked, mayGive: tierIds }));
    expect(stateOf(bolt.id)).toMatchObject({ length: 158_999, holds: [[tierIds[2], 158_999]] });
  });
});

describe('a request that cuts and splits the same piece', () => {
  it('may split off more than it cuts', async () => {
    const opened = await openTestBook();
    opened.write((tx) => {
      const stock = makeStock(tx);
      const tierId = makeTier(tx, stock);
      const bolt = makeBolt(tx, stock.lotId, '10 m', 1000);
      cutLength(tx, bolt.id, { lengthTicks: m(1), typed: '1', tierId, strips: 1 });
      splitPiece(tx, bolt.id, { lengthTicks: m(3), typed: '3' });
    });
    expect(checkBook(opened.book).findings).toEqual([]);
    opened.close();
  });
});
