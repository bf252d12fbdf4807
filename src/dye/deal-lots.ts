/** Deals undyed lots to the steps of a graded series, so that no step is dyed from two lots. Lengths in ticks. */

/** What a step wants of undyed cloth. */
export interface StepLength {
  readonly lengthTicks: number;
  /** the longest that is cut in one for it: no part of a length is shorter */
  readonly leastTicks: number;
}

/** Free length of one piece of a lot. */
export interface LotPiece {
  readonly pieceId: number;
  readonly freeTicks: number;
}

export interface UndyedLot {
  readonly lotId: number;
  readonly pieces: readonly LotPiece[];
}

/** A length of a piece for a step. */
export interface DealtLength {
  readonly lotId: number;
  readonly pieceId: number;
  readonly lengthTicks: number;
}

export interface DealtStep {
  /** none where the step cannot be had */
  readonly lengths: readonly DealtLength[];
  /** true where it takes more than one lot, which is never done unasked */
  readonly mixed: boolean;
}

/** The most steps that are dealt at once. */
export const MOST_DEALT = 12;

/**
 * The lengths of each step, in their order: as many steps as can be had from one lot each, of those the longest, then
 * from as few pieces as can be. With `mixing` a step that fits no one lot takes what is left of several; without, it is
 * left without lengths. A step that wants nothing gets nothing. Every way of giving steps to lots is tried; within a lot
 * the longest step is cut first, from the shortest piece that holds it. Throws RangeError beyond 12 steps.
 */
export function dealLots(
  steps: readonly StepLength[],
  lots: readonly UndyedLot[],
  mixing: boolean,
): DealtStep[] {
  if (steps.length > MOST_DEALT) throw new RangeError(`At most ${MOST_DEALT} steps are dealt at once`);
  const best = bestDeal(steps, lots);
  const left = leftOf(
    lots,
    best.flatMap(({ lengths }) => lengths),
  );
  return steps.map((step, at) => {
    const own = best.find((dealt) => dealt.step === at);
    if (own || step.lengthTicks === 0 || !mixing) return { lengths: own?.lengths ?? [], mixed: false };
    const lengths = takeAcross(step, left);
    for (const taken of lengths) take(left, taken);
    return { lengths, mixed: new Set(lengths.map(({ lotId }) => lotId)).size > 1 };
  });
}

interface Deal {
  readonly step: number;
  readonly lengths: readonly DealtLength[];
}

/** The best of all ways to give each step to one lot. */
function bestDeal(steps: readonly StepLength[], lots: readonly UndyedLot[]): readonly Deal[] {
  const all = 2 ** steps.length - 1;
  const wanting = steps.reduce((mask, { lengthTicks }, at) => (lengthTicks > 0 ? mask | (1 << at) : mask), 0);
  let reached = new Map<number, readonly Deal[]>([[0, []]]);
  for (const lot of lots) {
    const ofLot = new Map<number, readonly Deal[]>();
    for (let set = 1; set <= all; set += 1) {
      if ((set & wanting) !== set) continue;
      const deals = withinLot(steps, set, lot);
      if (deals) ofLot.set(set, deals);
    }
    const next = new Map(reached);
    for (const [mask, deals] of reached) {
      for (const [set, more] of ofLot) {
        if ((mask & set) !== 0) continue;
        const joined = [...deals, ...more];
        const known = next.get(mask | set);
        if (!known || piecesOf(joined) < piecesOf(known)) next.set(mask | set, joined);
      }
    }
    reached = next;
  }
  return [...reached.values()].reduce((one, other) => (isBetter(other, one) ? other : one), []);
}

function isBetter(one: readonly Deal[], other: readonly Deal[]): boolean {
  const sizes = [one.length - other.length, lengthOf(one) - lengthOf(other), piecesOf(other) - piecesOf(one)];
  return (sizes.find((difference) => difference !== 0) ?? 0) > 0;
}

function piecesOf(deals: readonly Deal[]): number {
  return new Set(deals.flatMap(({ lengths }) => lengths.map(({ pieceId }) => pieceId))).size;
}

function lengthOf(deals: readonly Deal[]): number {
  return deals.reduce(
    (sum, { lengths }) => sum + lengths.reduce((all, { lengthTicks }) => all + lengthTicks, 0),
    0,
  );
}

/** These steps, by their bits, from one lot; undefined where it does not hold them. */
function withinLot(steps: readonly StepLength[], set: number, lot: UndyedLot): readonly Deal[] | undefined {
  const left = leftOf([lot], []);
  const chosen = steps
    .map((step, at) => ({ step, at }))
    .filter(({ at }) => (set & (1 << at)) !== 0)
    .sort((a, b) => b.step.lengthTicks - a.step.lengthTicks);
  const deals: Deal[] = [];
  for (const { step, at } of chosen) {
    const lengths = takeWithin(step, left);
    if (lengths.length === 0) return undefined;
    for (const taken of lengths) take(left, taken);
    deals.push({ step: at, lengths });
  }
  return deals;
}

interface Left {
  readonly lotId: number;
  readonly pieceId: number;
  freeTicks: number;
}

function leftOf(lots: readonly UndyedLot[], taken: readonly DealtLength[]): Left[] {
  const left = lots.flatMap(({ lotId, pieces }) => pieces.map((piece) => ({ lotId, ...piece })));
  for (const each of taken) take(left, each);
  return left;
}

function take(left: readonly Left[], { pieceId, lengthTicks }: DealtLength): void {
  const piece = left.find((each) => each.pieceId === pieceId);
  if (piece) piece.freeTicks -= lengthTicks;
}

/** In one length from the shortest piece that holds it; else in parts, from the longest pieces on. */
function takeWithin({ lengthTicks, leastTicks }: StepLength, left: readonly Left[]): DealtLength[] {
  const whole = left
    .filter(({ freeTicks }) => freeTicks >= lengthTicks)
    .sort((a, b) => a.freeTicks - b.freeTicks)[0];
  if (whole) return [{ lotId: whole.lotId, pieceId: whole.pieceId, lengthTicks }];
  const parts: DealtLength[] = [];
  let wanted = lengthTicks;
  for (const { lotId, pieceId, freeTicks } of left.toSorted((a, b) => b.freeTicks - a.freeTicks)) {
    // What then still is to come is no shorter than what is cut in one.
    const part = freeTicks >= wanted ? wanted : Math.min(freeTicks, wanted - leastTicks);
    if (part < leastTicks) break;
    parts.push({ lotId, pieceId, lengthTicks: part });
    wanted -= part;
    if (wanted === 0) return parts;
  }
  return [];
}

/** From what is left of several lots, from the lots with most left on. */
function takeAcross(step: StepLength, left: readonly Left[]): DealtLength[] {
  const sumOf = (lotId: number) =>
    left.reduce((sum, each) => (each.lotId === lotId ? sum + each.freeTicks : sum), 0);
  const lots = [...new Set(left.map(({ lotId }) => lotId))].sort((a, b) => sumOf(b) - sumOf(a));
  for (let count = 2; count <= lots.length; count += 1) {
    const found = takeWithin(
      step,
      left.filter(({ lotId }) => lots.slice(0, count).includes(lotId)),
    );
    if (found.length > 0) return found;
  }
  return [];
}
