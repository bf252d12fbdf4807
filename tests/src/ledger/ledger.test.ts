import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Balance,
  backFromDye,
  after as balanceAfter,
  balanceStands,
  costShare,
  cut,
  type Draft,
  EMPTY,
  freeTicks,
  hold,
  keepLeftover,
  type Ruling,
  receive,
  recount,
  release,
  returnToSupplier,
  reverse,
  sendToDye,
  split,
  writeOff,
} from '../../../src/ledger/entries.ts';
import { cm, m, yd } from '../../lengths.ts';

/** Ten metres for 100.00, four of them held. */
const BOLT: Balance = { onHandTicks: m(10), heldTicks: m(4), costMinor: 10_000 };

describe('receiving', () => {
  it('enters the length and what was paid', () => {
    expect(receive(yd('3 1/2'), 2_450)).toEqual({
      ok: true,
      drafts: [{ kind: 'received', lengthTicks: 512_064, heldTicks: 0, costMinor: 2_450 }],
    });
  });

  it('refuses nothing, less than nothing, and a negative price', () => {
    for (const ruling of [receive(0, 100), receive(-1, 100), receive(m(1), -1)]) {
      expect(ruling).toEqual({ ok: false, denial: { why: 'not-positive' } });
    }
    expect(receive(1, 0).ok).toBe(true);
  });
});

describe('holding and releasing', () => {
  it('holds no more than is free', () => {
    expect(freeTicks(BOLT)).toBe(m(6));
    expect(drafts(hold(BOLT, m(6)))).toEqual([
      { kind: 'held', lengthTicks: 0, heldTicks: m(6), costMinor: 0 },
    ]);
    expect(hold(BOLT, m(6) + 1)).toEqual({
      ok: false,
      denial: { why: 'more-than-free', askedTicks: m(6) + 1, freeTicks: m(6) },
    });
    expect(hold(BOLT, 0)).toEqual({ ok: false, denial: { why: 'not-positive' } });
  });

  it('releases no more than the tier holds, whatever else is held', () => {
    expect(drafts(release(m(1), m(1)))).toEqual([
      { kind: 'released', lengthTicks: 0, heldTicks: -m(1), costMinor: 0 },
    ]);
    expect(release(m(1), m(1) + 1)).toEqual({
      ok: false,
      denial: { why: 'more-than-held', askedTicks: m(1) + 1, heldTicks: m(1) },
    });
    expect(release(m(1), 0)).toEqual({ ok: false, denial: { why: 'not-positive' } });
  });
});

describe('cutting', () => {
  it('uses up what the tier holds, then what is free; the cost goes with the length', () => {
    expect(drafts(cut(BOLT, m(1), m('2.5')))).toEqual([
      { kind: 'cut', lengthTicks: -m('2.5'), heldTicks: -m(1), costMinor: -2_500 },
    ]);
    expect(drafts(cut(BOLT, m(4), m('2.5')))[0]?.heldTicks).toBe(-m('2.5'));
    expect(drafts(cut(BOLT, 0, m(1)))[0]?.heldTicks).toBe(0);
  });

  it('leaves alone what other tiers hold', () => {
    expect(drafts(cut(BOLT, m(1), m(7)))[0]?.lengthTicks).toBe(-m(7));
    expect(cut(BOLT, m(1), m(7) + 1)).toEqual({
      ok: false,
      denial: { why: 'more-than-free', askedTicks: m(7) + 1, freeTicks: m(7) },
    });
  });

  it('shares out a cost that does not divide, so that the last length takes the rest', () => {
    // 10.00 for three metres: 3.33⅓ is 3.33; half of the 6.67 that is left is 3.335, so 3.34; then 3.33.
    let bolt: Balance = { onHandTicks: m(3), heldTicks: 0, costMinor: 1_000 };
    const costs: number[] = [];
    for (let metre = 1; metre <= 3; metre += 1) {
      const [draft] = drafts(cut(bolt, 0, m(1)));
      costs.push(-draft.costMinor);
      bolt = balanceAfter(bolt, draft);
    }
    expect(costs).toEqual([333, 334, 333]);
    expect(bolt).toEqual(EMPTY);
  });

  it('gives what is kept the cost of its area, rounded down', () => {
    // 40 cm × 70 cm of 1 m × 147 cm is 2 800 of 14 700 cm²: 10.00 × 0.190476 is 1.90476.
    const [draft] = drafts(cut({ onHandTicks: m(1), heldTicks: 0, costMinor: 1_000 }, 0, m(1)));
    expect(keepLeftover(draft, cm(147), { lengthTicks: cm(40), widthTicks: cm(70) })).toEqual({
      kind: 'joined',
      lengthTicks: cm(40),
      heldTicks: 0,
      costMinor: 190,
    });
  });
});

describe('splitting', () => {
  it('gives the new piece what it takes off the old one', () => {
    expect(drafts(split(BOLT, m(2)))).toEqual([
      { kind: 'split-off', lengthTicks: -m(2), heldTicks: 0, costMinor: -2_000 },
      { kind: 'joined', lengthTicks: m(2), heldTicks: 0, costMinor: 2_000 },
    ]);
  });

  it('refuses what is held, and the whole of a piece', () => {
    expect(split(BOLT, m(6) + 1)).toMatchObject({ denial: { why: 'more-than-free', freeTicks: m(6) } });
    expect(split({ ...BOLT, heldTicks: 0 }, m(10))).toEqual({ ok: false, denial: { why: 'whole-piece' } });
  });
});

describe('the dye bench', () => {
  it('takes free lengths', () => {
    expect(drafts(sendToDye(BOLT, m(6)))).toEqual([
      { kind: 'sent-to-dye', lengthTicks: -m(6), heldTicks: 0, costMinor: -6_000 },
    ]);
    expect(sendToDye(BOLT, m(7))).toMatchObject({ denial: { why: 'more-than-free' } });
  });

  it('brings back all that was sent, and enters apart what it measures less or more', () => {
    const sent = { lengthTicks: -m(6), heldTicks: 0, costMinor: -6_000 };
    const back = { kind: 'back-from-dye', lengthTicks: m(6), heldTicks: 0, costMinor: 6_000 };
    expect(backFromDye(sent, m(6))).toEqual([back]);
    expect(backFromDye(sent, m('5.82'))).toEqual([
      back,
      { kind: 'shrunk', lengthTicks: -cm(18), heldTicks: 0, costMinor: 0 },
    ]);
    expect(backFromDye(sent, m('6.1'))).toEqual([
      back,
      { kind: 'recounted', lengthTicks: cm(10), heldTicks: 0, costMinor: 0 },
    ]);
    expect(backFromDye(sent, 0)).toEqual([
      back,
      { kind: 'written-off', lengthTicks: -m(6), heldTicks: 0, costMinor: -6_000 },
    ]);
  });
});

describe('counting', () => {
  it('enters the difference, and leaves the cost with what is left', () => {
    expect(drafts(recount(BOLT, m('9.4')))).toEqual([
      { kind: 'recounted', lengthTicks: -cm(60), heldTicks: 0, costMinor: 0 },
    ]);
    expect(drafts(recount(BOLT, m('10.2')))[0]?.lengthTicks).toBe(cm(20));
  });

  it('takes the cost away with the last of a piece', () => {
    expect(drafts(recount({ ...BOLT, heldTicks: 0 }, 0))).toEqual([
      { kind: 'recounted', lengthTicks: -m(10), heldTicks: 0, costMinor: -10_000 },
    ]);
  });

  it('refuses a count below what is held, below nothing, or without a difference', () => {
    expect(recount(BOLT, m(4)).ok).toBe(true);
    expect(recount(BOLT, m(4) - 1)).toEqual({
      ok: false,
      denial: { why: 'below-held', countedTicks: m(4) - 1, heldTicks: m(4) },
    });
    expect(recount(BOLT, -1)).toEqual({ ok: false, denial: { why: 'not-positive' } });
    expect(recount(BOLT, m(10))).toEqual({ ok: false, denial: { why: 'no-difference' } });
  });
});

describe('writing off and returning', () => {
  it('take a free length and its cost', () => {
    expect(drafts(writeOff(BOLT, m(1)))[0]).toMatchObject({ kind: 'written-off', costMinor: -1_000 });
    expect(drafts(returnToSupplier(BOLT, m(1)))[0]).toMatchObject({ kind: 'returned', costMinor: -1_000 });
    for (const take of [writeOff, returnToSupplier]) {
      expect(take(BOLT, m(6) + 1)).toMatchObject({ denial: { why: 'more-than-free' } });
      expect(take(BOLT, 0)).toMatchObject({ denial: { why: 'not-positive' } });
    }
  });
});

describe('a balance', () => {
  it('stands while nothing is negative, over-held, or a cost without a length', () => {
    expect(balanceStands(EMPTY)).toBe(true);
    expect(balanceStands(BOLT)).toBe(true);
    expect(balanceStands({ ...BOLT, heldTicks: m(10) })).toBe(true);
    expect(balanceStands({ ...BOLT, heldTicks: m(10) + 1 })).toBe(false);
    expect(balanceStands({ ...BOLT, heldTicks: -1 })).toBe(false);
    expect(balanceStands({ onHandTicks: -1, heldTicks: -1, costMinor: 0 })).toBe(false);
    expect(balanceStands({ ...BOLT, costMinor: -1 })).toBe(false);
    expect(balanceStands({ onHandTicks: 0, heldTicks: 0, costMinor: 1 })).toBe(false);
  });
});

describe('whatever the lengths and costs', () => {
  const balances = fc
    .record({ onHandTicks: fc.integer({ min: 1, max: 16e9 }), costMinor: fc.integer({ min: 0, max: 1e12 }) })
    .chain((whole) =>
      fc.integer({ min: 0, max: whole.onHandTicks }).map((heldTicks) => ({ ...whole, heldTicks })),
    );
  const lengths = fc.integer({ min: -5, max: 17e9 });

  it('a ruling leaves every balance standing, and its reversal brings back the one before', () => {
    const cutForItsTier = (balance: Balance, lengthTicks: number) =>
      cut(balance, balance.heldTicks, lengthTicks);
    const verbs = [hold, cutForItsTier, sendToDye, writeOff, returnToSupplier, split, recount] as const;
    fc.assert(
      fc.property(balances, lengths, fc.constantFrom(...verbs), (balance, lengthTicks, verb) => {
        const ruling = verb(balance, lengthTicks);
        if (!ruling.ok) return;
        const [draft, joined] = ruling.drafts as readonly [Draft, Draft?];
        expect(balanceStands(balanceAfter(balance, draft))).toBe(true);
        expect(balanceAfter(balanceAfter(balance, draft), reverse(draft))).toEqual(balance);
        if (joined) expect(balanceAfter(balanceAfter(EMPTY, draft), joined)).toEqual(EMPTY);
      }),
      { numRuns: 2_000 },
    );
  });

  it('a share of the cost is exact to half a minor unit, and parts add up to the whole', () => {
    fc.assert(
      fc.property(
        balances,
        fc.array(fc.integer({ min: 1, max: 4e9 }), { maxLength: 12 }),
        (balance, parts) => {
          let left: Balance = { ...balance, heldTicks: 0 };
          let shared = 0;
          for (const part of [...parts, left.onHandTicks]) {
            const lengthTicks = Math.min(part, left.onHandTicks);
            if (lengthTicks === 0) continue;
            const share = costShare(left, lengthTicks);
            const error =
              BigInt(share) * BigInt(left.onHandTicks) - BigInt(left.costMinor) * BigInt(lengthTicks);
            expect(2n * error).toBeLessThanOrEqual(BigInt(left.onHandTicks));
            expect(2n * error).toBeGreaterThan(-BigInt(left.onHandTicks));
            shared += share;
            left = balanceAfter(left, { lengthTicks: -lengthTicks, heldTicks: 0, costMinor: -share });
          }
          const rest = costShare(left, left.onHandTicks);
          expect(shared + rest).toBe(balance.costMinor);
        },
      ),
      { numRuns: 1_000 },
    );
  });

  it('what is kept of a cut carries the whole minor units of its share', () => {
    const size = fc.integer({ min: 1, max: 16e8 });
    fc.assert(
      fc.property(
        size,
        size,
        fc.nat(1e9),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (length, width, cost, part) => {
          const taken: Draft = { kind: 'cut', lengthTicks: -length, heldTicks: 0, costMinor: -cost };
          const [lengthTicks, widthTicks] = [Math.ceil(length * part), Math.ceil(width * part)];
          const kept = BigInt(keepLeftover(taken, width, { lengthTicks, widthTicks }).costMinor);
          const cutArea = BigInt(length) * BigInt(width);
          const carried = BigInt(cost) * BigInt(lengthTicks) * BigInt(widthTicks);
          expect(kept * cutArea).toBeLessThanOrEqual(carried);
          expect((kept + 1n) * cutArea).toBeGreaterThan(carried);
        },
      ),
    );
  });
});

function drafts<T>(ruling: Ruling<T>): T {
  if (!ruling.ok) throw new Error(`refused: ${ruling.denial.why}`);
  return ruling.drafts;
}
