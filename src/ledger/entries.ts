/** What may be written in the ledger. `reversed` is the exact opposite of one earlier entry. */
export type EntryKind =
  | 'received'
  | 'cut'
  | 'split-off'
  | 'joined'
  | 'held'
  | 'released'
  | 'sent-to-dye'
  | 'back-from-dye'
  | 'shrunk'
  | 'recounted'
  | 'written-off'
  | 'returned'
  | 'reversed';

/** What takes cloth off the free end of a piece. A count or shrinkage only says that there is more or less of it. */
export const TAKING_KINDS = ['cut', 'split-off', 'sent-to-dye', 'written-off', 'returned'] as const;
type TakingKind = (typeof TAKING_KINDS)[number];

/** What a length may be cut or held for besides the strips of a tier. */
export const OTHER_USES = ['repair', 'sample', 'swatch', 'part', 'sold', 'lent', 'other'] as const;
export type OtherUseKind = (typeof OTHER_USES)[number];

/** What one entry changes: length on hand and held in ticks of 1/160 mm, cost in minor units, all signed. */
export interface Deltas {
  readonly lengthTicks: number;
  readonly heldTicks: number;
  readonly costMinor: number;
}

export interface Draft extends Deltas {
  readonly kind: EntryKind;
}

/** What a piece carries: the sums of its entries. */
export interface Balance {
  readonly onHandTicks: number;
  readonly heldTicks: number;
  readonly costMinor: number;
}

/** Why the ledger refuses; the words for a person are made where the names of pieces and people are known. */
export type Denial =
  | { readonly why: 'not-positive' }
  | { readonly why: 'more-than-free'; readonly askedTicks: number; readonly freeTicks: number }
  | { readonly why: 'more-than-held'; readonly askedTicks: number; readonly heldTicks: number }
  | { readonly why: 'below-held'; readonly countedTicks: number; readonly heldTicks: number }
  | { readonly why: 'whole-piece' }
  | { readonly why: 'no-difference' };

export type Ruling<T> =
  | { readonly ok: true; readonly drafts: T }
  | { readonly ok: false; readonly denial: Denial };

export const EMPTY: Balance = { onHandTicks: 0, heldTicks: 0, costMinor: 0 };

/** Length that nobody holds, in ticks. */
export function freeTicks(balance: Balance): number {
  return balance.onHandTicks - balance.heldTicks;
}

/** A piece comes onto the shelf. Length above 0 ticks, cost 0 or more minor units. */
export function receive(lengthTicks: number, costMinor: number): Ruling<[Draft]> {
  if (lengthTicks <= 0 || costMinor < 0) return denied({ why: 'not-positive' });
  return allowed([{ kind: 'received', lengthTicks, heldTicks: 0, costMinor }]);
}

/** Promises a length to a tier or another use: only what is free can be promised. */
export function hold(balance: Balance, lengthTicks: number): Ruling<[Draft]> {
  const denial = notFree(balance, 0, lengthTicks);
  if (denial) return denied(denial);
  return allowed([{ kind: 'held', lengthTicks: 0, heldTicks: lengthTicks, costMinor: 0 }]);
}

/** Gives back length that was held for one tier or other use; `heldForItTicks` is what that holds of the piece. */
export function release(heldForItTicks: number, lengthTicks: number): Ruling<[Draft]> {
  if (lengthTicks <= 0) return denied({ why: 'not-positive' });
  if (lengthTicks > heldForItTicks) {
    return denied({ why: 'more-than-held', askedTicks: lengthTicks, heldTicks: heldForItTicks });
  }
  return allowed([{ kind: 'released', lengthTicks: 0, heldTicks: -lengthTicks, costMinor: 0 }]);
}

/**
 * Takes a length off for a tier or another use: first out of what is held for it, then out of what is free. The cost
 * of the length goes with it.
 */
export function cut(balance: Balance, heldForItTicks: number, lengthTicks: number): Ruling<[Draft]> {
  return takeOff('cut', balance, heldForItTicks, lengthTicks);
}

/** Sends a length to the dye bench, out of what is free. */
export function sendToDye(balance: Balance, lengthTicks: number): Ruling<[Draft]> {
  return takeOff('sent-to-dye', balance, 0, lengthTicks);
}

/** Writes off a free length: spoiled, used for samples, lost. */
export function writeOff(balance: Balance, lengthTicks: number): Ruling<[Draft]> {
  return takeOff('written-off', balance, 0, lengthTicks);
}

/** Sends a free length back to the supplier. */
export function returnToSupplier(balance: Balance, lengthTicks: number): Ruling<[Draft]> {
  return takeOff('returned', balance, 0, lengthTicks);
}

/** Splits a free length off to a piece of its own; length and cost are conserved. A whole piece is not split. */
export function split(balance: Balance, lengthTicks: number): Ruling<[Draft, Draft]> {
  const off = takeOff('split-off', balance, 0, lengthTicks);
  if (!off.ok) return off;
  if (lengthTicks === balance.onHandTicks) return denied({ why: 'whole-piece' });
  const [draft] = off.drafts;
  return allowed([draft, { kind: 'joined', ...opposite(draft) }]);
}

/**
 * What is kept beside the strips of a cut: a remnant with a width of its own. It carries the share of the
 * cut's cost that its area has in the area that was cut, rounded down, so that the strips carry the rest.
 */
export function keepLeftover(
  cutDraft: Draft,
  pieceWidthTicks: number,
  leftover: { readonly lengthTicks: number; readonly widthTicks: number },
): Draft {
  const cutArea = BigInt(-cutDraft.lengthTicks) * BigInt(pieceWidthTicks);
  const keptArea = BigInt(leftover.lengthTicks) * BigInt(leftover.widthTicks);
  const costMinor = Number((BigInt(-cutDraft.costMinor) * keptArea) / cutArea);
  return { kind: 'joined', lengthTicks: leftover.lengthTicks, heldTicks: 0, costMinor };
}

/**
 * A length comes back from the dye bench as a new piece: all that was sent, and the difference to what is
 * measured as an entry of its own. Nothing left (0 ticks) is a spoiled length that is written off.
 */
export function backFromDye(sent: Deltas, measuredTicks: number, dyeingMinor = 0): Draft[] {
  const whole = opposite(sent);
  const back: Draft = { kind: 'back-from-dye', ...whole, costMinor: whole.costMinor + dyeingMinor };
  const difference = measuredTicks - back.lengthTicks;
  if (difference === 0) return [back];
  if (measuredTicks === 0) {
    return [back, { kind: 'written-off', lengthTicks: difference, heldTicks: 0, costMinor: -back.costMinor }];
  }
  const kind = difference < 0 ? 'shrunk' : 'recounted';
  return [back, { kind, lengthTicks: difference, heldTicks: 0, costMinor: 0 }];
}

/**
 * Puts the counted length in the place of the booked one by entering the difference. What was paid stays with
 * what is left, and goes when nothing is. A count below what is held is refused: somebody must release first.
 */
export function recount(balance: Balance, countedTicks: number): Ruling<[Draft]> {
  if (countedTicks < 0) return denied({ why: 'not-positive' });
  if (countedTicks < balance.heldTicks) {
    return denied({ why: 'below-held', countedTicks, heldTicks: balance.heldTicks });
  }
  const lengthTicks = countedTicks - balance.onHandTicks;
  if (lengthTicks === 0) return denied({ why: 'no-difference' });
  const costMinor = countedTicks === 0 ? minus(balance.costMinor) : 0;
  return allowed([{ kind: 'recounted', lengthTicks, heldTicks: 0, costMinor }]);
}

/** Whether a use says what it is: one that is none of the known kinds needs a note. */
export function otherUseIsTold(kind: OtherUseKind, note: string): boolean {
  return kind !== 'other' || note.trim() !== '';
}

/** The entry that undoes an entry. */
export function reverse(entry: Deltas): Draft {
  return { kind: 'reversed', ...opposite(entry) };
}

/** The balance after an entry. */
export function after(balance: Balance, entry: Deltas): Balance {
  return {
    onHandTicks: balance.onHandTicks + entry.lengthTicks,
    heldTicks: balance.heldTicks + entry.heldTicks,
    costMinor: balance.costMinor + entry.costMinor,
  };
}

/** What must hold of every balance at every time. */
export function balanceStands(balance: Balance): boolean {
  const { onHandTicks, heldTicks, costMinor } = balance;
  return heldTicks >= 0 && heldTicks <= onHandTicks && costMinor >= 0 && (onHandTicks > 0 || costMinor === 0);
}

/** The cost of a part of a piece: in proportion to length, half a minor unit rounds up, the last part takes the rest. */
export function costShare(balance: Balance, lengthTicks: number): number {
  if (lengthTicks >= balance.onHandTicks) return balance.costMinor;
  const doubled = 2n * BigInt(balance.costMinor) * BigInt(lengthTicks) + BigInt(balance.onHandTicks);
  return Number(doubled / (2n * BigInt(balance.onHandTicks)));
}

function takeOff(
  kind: TakingKind,
  balance: Balance,
  heldForItTicks: number,
  lengthTicks: number,
): Ruling<[Draft]> {
  const denial = notFree(balance, heldForItTicks, lengthTicks);
  if (denial) return denied(denial);
  return allowed([
    {
      kind,
      lengthTicks: -lengthTicks,
      heldTicks: minus(Math.min(lengthTicks, heldForItTicks)),
      costMinor: minus(costShare(balance, lengthTicks)),
    },
  ]);
}

function notFree(balance: Balance, heldForItTicks: number, askedTicks: number): Denial | null {
  if (askedTicks <= 0) return { why: 'not-positive' };
  const free = freeTicks(balance) + heldForItTicks;
  return askedTicks > free ? { why: 'more-than-free', askedTicks, freeTicks: free } : null;
}

function opposite(entry: Deltas): Deltas {
  return {
    lengthTicks: minus(entry.lengthTicks),
    heldTicks: minus(entry.heldTicks),
    costMinor: minus(entry.costMinor),
  };
}

/** The opposite, without the negative zero that a comparison would stumble over. */
function minus(value: number): number {
  return value === 0 ? 0 : -value;
}

function allowed<T>(drafts: T): Ruling<T> {
  return { ok: true, drafts };
}

function denied(denial: Denial): { readonly ok: false; readonly denial: Denial } {
  return { ok: false, denial };
}
