/** A length that is wanted: in one, or pieced from several. */
export interface WantedLength {
  /** in ticks of 1/160 mm, above nought; what its joins take is counted in */
  readonly ticks: number;
  /** it may be pieced from so many lengths; 1 is not joined, null is any number */
  readonly pieces: number | null;
}

/** One length of a supply as it lies, such as a reel, and what of it may be taken. */
export interface LengthLeft {
  readonly id: number;
  readonly mayTake: number;
  /** whether some of it is gone already */
  readonly begun: boolean;
}

/**
 * The length that a piece of it is cut off: of those long enough one that was begun, the shortest first, so that long ones
 * stay long. Null where none is long enough.
 */
export function lengthFor<L extends LengthLeft>(lengths: readonly L[], ticks: number): L | null {
  const enough = lengths.filter(({ mayTake }) => mayTake >= ticks);
  return (
    enough.toSorted((a, b) => Number(b.begun) - Number(a.begun) || a.mayTake - b.mayTake || a.id - b.id)[0] ??
    null
  );
}

/** What is still wanted where so much was provided: whole lengths are met first, the longest first, then a part of one. */
export function lengthsStillWanted(wanted: readonly WantedLength[], provided: number): WantedLength[] {
  let left = provided;
  const open: WantedLength[] = [];
  for (const length of wanted.toSorted((a, b) => b.ticks - a.ticks)) {
    if (length.ticks <= left) left -= length.ticks;
    else open.push(length);
  }
  const last = open.at(-1);
  return last && left > 0 ? [...open.slice(0, -1), { ...last, ticks: last.ticks - left }] : open;
}

/** How wanted lengths come out of those that there are. */
export interface FittedLengths {
  /** what cannot be cut, the longest first: whole lengths where they may not be joined, else the part that is missing */
  readonly missing: readonly WantedLength[];
  readonly missingTicks: number;
  /** what is left of each length, in the order that they were given in */
  readonly left: readonly number[];
}

/** Ways of placing unjoined lengths that are tried before the best found is taken. */
const MOST_TRIED = 20_000;

/**
 * Fits wanted lengths into free ones so that as little as can be is missing: first those that may not be joined, each in one
 * length, every way being tried up to a number of tries; then those of a few pieces, off the longest that are left; then
 * those that may be pieced from anything. Lengths are whole ticks, nought or more.
 */
export function fitLengths(wanted: readonly WantedLength[], free: readonly number[]): FittedLengths {
  const longestFirst = wanted.toSorted((a, b) => b.ticks - a.ticks);
  const whole = placeWhole(
    longestFirst.filter(({ pieces }) => pieces === 1),
    free,
  );
  const left = [...whole.left];
  const missing = [...whole.missing];
  const few = longestFirst.filter(({ pieces }) => pieces !== null && pieces > 1);
  const any = longestFirst.filter(({ pieces }) => pieces === null);
  for (const one of [...few, ...any]) {
    const short = takePieces(left, one);
    if (short > 0) missing.push({ ...one, ticks: short });
  }
  return { missing, missingTicks: missing.reduce((sum, { ticks }) => sum + ticks, 0), left };
}

/** Takes a length off those that are left, in no more pieces than it may have. Gives what is missing of it. */
function takePieces(left: number[], { ticks, pieces }: WantedLength): number {
  const whole = lengthFor(
    left.map((mayTake, id) => ({ id, mayTake, begun: true })),
    ticks,
  );
  // Where one length does it, nothing is joined; else the longest go first, which makes the fewest joins.
  const order = whole
    ? [whole.id]
    : left
        .map((mayTake, at) => ({ mayTake, at }))
        .toSorted((a, b) => b.mayTake - a.mayTake)
        .map(({ at }) => at);
  let missing = ticks;
  for (const at of order.slice(0, pieces ?? order.length)) {
    const taken = Math.min(left[at] ?? 0, missing);
    left[at] = (left[at] ?? 0) - taken;
    missing -= taken;
  }
  return missing;
}

/** Puts lengths that may not be joined into free ones: by best fit first, then better ways are looked for. */
function placeWhole(wanted: readonly WantedLength[], free: readonly number[]) {
  const total = wanted.reduce((sum, { ticks }) => sum + ticks, 0);
  let best: { readonly placed: number; readonly missing: WantedLength[]; readonly left: number[] } | null =
    null;
  let tried = 0;
  const left = [...free];
  const missing: WantedLength[] = [];
  /** `rest` is what could still be placed from here on */
  const place = (at: number, placed: number, rest: number): void => {
    if (best && (best.placed === total || placed + rest <= best.placed || tried > MOST_TRIED)) return;
    tried += 1;
    const one = wanted[at];
    if (!one) {
      best = { placed, missing: [...missing], left: [...left] };
      return;
    }
    const places = left
      .map((has, id) => ({ has, id }))
      .filter(({ has }) => has >= one.ticks)
      .toSorted((a, b) => a.has - b.has)
      // Two that are equally long are the same way.
      .filter(({ has }, i, all) => all[i - 1]?.has !== has);
    for (const { has, id } of places) {
      left[id] = has - one.ticks;
      place(at + 1, placed + one.ticks, rest - one.ticks);
      left[id] = has;
    }
    missing.push(one);
    place(at + 1, placed, rest - one.ticks);
    missing.pop();
  };
  place(0, 0, total);
  return best ?? { missing: [...wanted], left: [...free] };
}
