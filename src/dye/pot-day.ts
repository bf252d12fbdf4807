/**
 * Pots over a day: one pot holds one bath at a time, so that two baths that overlap need two pots. Instants in ms.
 */

/** A vessel, and how many pots alike there are of it. */
export interface PotKind {
  readonly id: number;
  readonly pots: number;
}

/** A bath that wants a pot. */
export interface BathInDay {
  readonly key: string;
  readonly vesselId: number;
  /** when it began or is to begin; null where it may begin whenever a pot is free */
  readonly fromMs: number | null;
  /** how long it stands in its pot */
  readonly minutes: number;
  /** true where it stands in its pot already, so that it cannot give way */
  readonly begun: boolean;
}

export interface PlacedBath<B extends BathInDay = BathInDay> {
  readonly bath: B;
  readonly fromMs: number;
  readonly toMs: number;
  /** which of the pots alike, from 0; null where none is free */
  readonly pot: number | null;
  /** the baths that stand in all the pots meanwhile; none where it has one */
  readonly inTheWay: readonly B[];
}

const MINUTE_MS = 60_000;

/**
 * Gives every bath its pot: those that stand already, then those whose time is said, in the order of their times, then the
 * others in the order in which they come, each as soon as a pot is free for as long as it takes, from `fromMs` on.
 */
export function placeInPots<B extends BathInDay>(
  kinds: readonly PotKind[],
  baths: readonly B[],
  fromMs: number,
): PlacedBath<B>[] {
  const placed: PlacedBath<B>[] = [];
  const said = baths
    .flatMap((bath) => (bath.fromMs === null ? [] : [{ bath, fromMs: bath.fromMs }]))
    .sort((a, b) => Number(b.bath.begun) - Number(a.bath.begun) || a.fromMs - b.fromMs);
  for (const { bath, fromMs: from } of said) placed.push(placeAt(kinds, placed, bath, from));
  for (const bath of baths.filter((each) => each.fromMs === null)) {
    const ends = placed.flatMap(({ bath: other, toMs }) =>
      other.vesselId === bath.vesselId && toMs > fromMs ? [toMs] : [],
    );
    const tries = [fromMs, ...ends.sort((a, b) => a - b)].map((at) => placeAt(kinds, placed, bath, at));
    const first = tries.find(({ pot }) => pot !== null) ?? tries.at(-1);
    if (first) placed.push(first);
  }
  return placed;
}

function placeAt<B extends BathInDay>(
  kinds: readonly PotKind[],
  placed: readonly PlacedBath<B>[],
  bath: B,
  fromMs: number,
): PlacedBath<B> {
  const toMs = fromMs + bath.minutes * MINUTE_MS;
  const pots = kinds.find(({ id }) => id === bath.vesselId)?.pots ?? 0;
  const meanwhile = placed.filter(
    (each) => each.bath.vesselId === bath.vesselId && each.fromMs < toMs && each.toMs > fromMs,
  );
  const free = Array.from({ length: pots }, (_, pot) => pot).find(
    (pot) => !meanwhile.some((each) => each.pot === pot),
  );
  return {
    bath,
    fromMs,
    toMs,
    pot: free ?? null,
    inTheWay: free === undefined ? meanwhile.map((each) => each.bath) : [],
  };
}
