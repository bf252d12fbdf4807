import type { Slit } from './lay-values.ts';
import type { Meter } from './meter.ts';
import { type Family, type Model, stackIn } from './model.ts';
import type { StripSets } from './strip-sets.ts';

/** A lay to which no strip can be added, at the least height that takes its strips. */
export interface FullLay {
  /** place of the height in the family's heights */
  readonly height: number;
  /** by free stretch across */
  readonly slits: readonly (readonly Slit[])[];
  /** strips of each wanted kind, no more than wanted */
  readonly strips: Uint16Array;
}

/** So many strips of one kind side by side in a lay, in the least width that takes them. */
interface Choice {
  readonly strips: number;
  readonly widthTicks: number;
  readonly slits: readonly Slit[];
}

interface Part {
  readonly strips: Uint16Array;
  readonly slits: readonly Slit[];
  /** Whether the lay before this height holds as much. */
  readonly isLower: boolean;
}

const MOST_COMPARED = 400;

/** The full lays of one family, worked out as they are asked for. */
export class FullLays {
  readonly #model: Model;
  readonly #family: Family;
  readonly #sets: StripSets;
  readonly #meter: Meter;
  readonly #mostWork: number;
  readonly #choices = new Map<string, readonly Choice[]>();
  readonly #parts = new Map<string, readonly Part[]>();
  readonly #lays = new Map<string, readonly FullLay[]>();

  constructor(model: Model, family: Family, sets: StripSets, meter: Meter, mostWork: number) {
    this.#model = model;
    this.#family = family;
    this.#sets = sets;
    this.#meter = meter;
    this.#mostWork = mostWork;
  }

  /** Full lays of a height in free stretches of these widths, in ticks; too few where the work is done. */
  at(height: number, widths: readonly number[]): readonly FullLay[] {
    const key = `${height} ${widths.join()}`;
    const known = this.#lays.get(key) ?? this.#together(height, widths);
    this.#lays.set(key, known);
    return known;
  }

  get isOver(): boolean {
    return this.#meter.work > this.#mostWork;
  }

  #together(height: number, widths: readonly number[]): FullLay[] {
    let lays: { strips: Uint16Array; slits: (readonly Slit[])[]; isLower: boolean }[] = [
      { strips: new Uint16Array(this.#sets.most.length), slits: [], isLower: true },
    ];
    for (const widthTicks of widths) {
      const parts = this.#partsOf(height, widthTicks);
      const joined = new Map<number, (typeof lays)[number]>();
      this.#meter.work += lays.length * parts.length * this.#sets.most.length;
      if (this.isOver) return [];
      for (const lay of lays)
        for (const part of parts) {
          const both = lay.strips.map((n, i) => n + (part.strips[i] as number));
          const set = this.#sets.plus(0, both);
          const isLower = lay.isLower && part.isLower;
          if (joined.has(set) && !isLower) continue;
          const strips = this.#sets.stripsOf(set);
          joined.set(set, { strips, slits: [...lay.slits, part.slits], isLower });
        }
      lays = undominated([...joined.values()]);
    }
    return lays
      .filter(({ strips, isLower }) => !isLower && strips.some((n) => n > 0))
      .map(({ strips, slits }) => ({ height, strips, slits }));
  }

  /** All ways to fill one free stretch to which no strip can be added. */
  #partsOf(height: number, widthTicks: number): readonly Part[] {
    const key = `${height} ${widthTicks}`;
    const known = this.#parts.get(key);
    if (known) return known;
    const choices = this.#sets.kinds.map((_, i) => this.#choicesOf(i, height));
    const parts: Part[] = [];
    const taken: Choice[] = [];
    const walk = (i: number, room: number): void => {
      this.#meter.work += 4;
      if (this.isOver) return;
      const options = choices[i];
      if (options === undefined) {
        const isFull = taken.every(({ widthTicks: narrow }, place) => {
          const next = choices[place]?.find((one) => one.widthTicks > narrow);
          return next === undefined || next.widthTicks - narrow > room;
        });
        if (isFull) parts.push(this.#partOf(taken, height, widthTicks));
        return;
      }
      for (const option of options) {
        if (option.widthTicks > room) break;
        taken.push(option);
        walk(i + 1, room - option.widthTicks);
        taken.pop();
      }
    };
    walk(0, widthTicks);
    this.#parts.set(key, parts);
    return parts;
  }

  #partOf(taken: readonly Choice[], height: number, widthTicks: number): Part {
    const lesser = taken.reduce((sum, { strips }, i) => {
      const enough = height > 0 && this.#choicesOf(i, height - 1).find((one) => one.strips >= strips);
      return sum + (enough ? enough.widthTicks : Number.POSITIVE_INFINITY);
    }, 0);
    return {
      strips: Uint16Array.from(taken, ({ strips }) => strips),
      slits: taken.flatMap(({ slits }) => slits),
      isLower: taken.every(({ strips }) => strips === 0) || lesser <= widthTicks,
    };
  }

  /** Strips of a kind by the width that they take in a lay of a height, both ways round together; rising from none. */
  #choicesOf(i: number, height: number): readonly Choice[] {
    const key = `${i} ${height}`;
    const known = this.#choices.get(key);
    if (known) return known;
    const wanted = this.#sets.most[i] as number;
    const heightTicks = this.#family.heights[height] as number;
    const shapes = this.#family.shapes
      .filter(({ kind }) => kind === this.#sets.kinds[i])
      .map((shape) => ({ shape, stack: stackIn(this.#model, shape, heightTicks, wanted) }))
      .filter(({ stack }) => stack > 0);
    const choices: Choice[] = [];
    for (let strips = wanted; strips > 0; strips -= 1) {
      const narrowest = narrowestFor(strips, shapes);
      if (narrowest && narrowest.widthTicks < (choices.at(-1)?.widthTicks ?? Number.POSITIVE_INFINITY))
        choices.push(narrowest);
    }
    choices.push({ strips: 0, widthTicks: 0, slits: [] });
    choices.reverse();
    this.#choices.set(key, choices);
    return choices;
  }
}

function narrowestFor(strips: number, shapes: readonly Pick<Slit, 'shape' | 'stack'>[]): Choice | null {
  const [first, second] = shapes;
  if (!first) return null;
  let best: Choice | null = null;
  for (let columns = 0; columns <= Math.ceil(strips / first.stack); columns += 1) {
    const left = Math.max(0, strips - columns * first.stack);
    if (left > 0 && !second) continue;
    const others = second ? Math.ceil(left / second.stack) : 0;
    const slits = [{ ...first, columns }, ...(second ? [{ ...second, columns: others }] : [])];
    const widthTicks = slits.reduce((sum, slit) => sum + slit.columns * slit.shape.acrossTicks, 0);
    if (best === null || widthTicks < best.widthTicks)
      best = { strips, widthTicks, slits: slits.filter((slit) => slit.columns > 0) };
  }
  return best;
}

/** Without those that hold no more than another; left as they are where there are very many. */
function undominated<L extends { readonly strips: Uint16Array; readonly isLower: boolean }>(
  lays: readonly L[],
): L[] {
  if (lays.length > MOST_COMPARED) return [...lays];
  const holds = (a: L, b: L) => a.strips.every((n, i) => n >= (b.strips[i] as number));
  return lays.filter(
    (lay) => !lays.some((other) => other !== lay && other.isLower === lay.isLower && holds(other, lay)),
  );
}
