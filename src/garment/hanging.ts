/** What a tier hangs from: the form or its foundation layer, another tier's lower edge, or another tier's face. */
export type Hangs = 'form' | 'foundation' | 'edge' | 'face';

/** Where a tier is sewn on. Drops run down the form's surface from the waist; a height is above a lower edge. In ticks. */
export type Hanging =
  | { readonly on: 'form' | 'foundation'; readonly dropTicks: number }
  | { readonly on: 'edge'; readonly tierId: number }
  | { readonly on: 'face'; readonly tierId: number; readonly heightTicks: number };

/** What of a tier says on which others it depends. */
export interface Hung {
  readonly tierId: number;
  readonly name: string;
  readonly hangs: Hanging;
  /** The tier whose cut length its fullness is a ratio of; null where it is of what it is sewn on. */
  readonly ratioTierId: number | null;
}

export interface HangingProblem {
  readonly tierId: number;
  readonly field: 'hangs' | 'ratio';
  readonly message: string;
}

interface Link {
  readonly field: 'hangs' | 'ratio';
  readonly verb: string;
  readonly tierId: number;
}

/** The tiers that a tier's figures follow from, and how a sentence says so. */
function linksOf({ hangs, ratioTierId }: Hung): Link[] {
  const links: Link[] = [];
  if (hangs.on === 'edge') links.push({ field: 'hangs', verb: 'edges', tierId: hangs.tierId });
  if (hangs.on === 'face') links.push({ field: 'hangs', verb: 'lies on', tierId: hangs.tierId });
  if (ratioTierId !== null)
    links.push({ field: 'ratio', verb: 'takes its length from', tierId: ratioTierId });
  return links;
}

/**
 * The tiers in an order in which each stands after those that it follows from, and all that is wrong with how they
 * hang: tiers that do not exist, and loops, each told once with its members named, at its first tier. Tiers of a loop,
 * those that do not exist and all that follow from them are left out.
 */
export function hangingOrder<T extends Hung>(
  tiers: readonly T[],
): { readonly order: readonly T[]; readonly problems: readonly HangingProblem[] } {
  const byId = new Map<number, T>(tiers.map((tier) => [tier.tierId, tier]));
  const order: T[] = [];
  const placed = new Set<number>();
  let waiting = [...tiers];
  for (let before = -1; before < order.length; ) {
    before = order.length;
    // A round sees only what earlier rounds placed, so that the order is that of the chains' lengths.
    const ready = waiting.filter((tier) => linksOf(tier).every(({ tierId }) => placed.has(tierId)));
    for (const tier of ready) {
      order.push(tier);
      placed.add(tier.tierId);
    }
    waiting = waiting.filter(({ tierId }) => !placed.has(tierId));
  }
  return { order, problems: problemsOf(waiting, byId) };
}

function problemsOf(waiting: readonly Hung[], byId: ReadonlyMap<number, Hung>): HangingProblem[] {
  const problems: HangingProblem[] = [];
  const told = new Set<number>();
  for (const tier of waiting) {
    const { tierId } = tier;
    for (const { field, tierId: onId } of linksOf(tier)) {
      if (byId.has(onId)) continue;
      const what = field === 'hangs' ? 'this one is sewn on' : 'its fullness is a ratio of';
      problems.push({ tierId, field, message: `The tier that ${what} does not exist: choose another.` });
    }
    const loop = loopFrom(tier, byId);
    const [first] = loop;
    if (!first || told.has(tierId)) continue;
    const chain = loop.map(({ verb, tierId: next }) => `${verb} ${byId.get(next)?.name ?? ''}`);
    const way = loop.some(({ field }) => field === 'ratio')
      ? 'one tier of a loop must hang from the form and be as full as what it is sewn on.'
      : 'one tier of a loop must hang from the form.';
    problems.push({ tierId, field: first.field, message: `${tier.name} ${chain.join(', which ')}: ${way}` });
    for (const { tierId: member } of loop) told.add(member);
  }
  return problems;
}

/** The shortest way from a tier back to itself, link by link; empty where there is none. */
function loopFrom(tier: Hung, byId: ReadonlyMap<number, Hung>): Link[] {
  const cameBy = new Map<number, readonly Link[]>();
  let edge: readonly (readonly Link[])[] = linksOf(tier).map((link) => [link]);
  while (edge.length > 0) {
    const further: (readonly Link[])[] = [];
    for (const path of edge) {
      const last = path.at(-1)?.tierId ?? 0;
      if (last === tier.tierId) return [...path];
      const next = byId.get(last);
      if (!next || cameBy.has(last)) continue;
      cameBy.set(last, path);
      further.push(...linksOf(next).map((link) => [...path, link]));
    }
    edge = further;
  }
  return [];
}
