/** `npm run faults` tries everything in full; `npm test` a short form of the same. */
export const isFull = process.env.CLOTHROOM_FAULTS === 'full';

/** How often something is tried. */
export const times = (short: number, full: number): number => (isFull ? full : short);

/** How long a test may take. In full it is minutes to hours; starting many programs takes its time on a busy machine too. */
export const PATIENCE_MS = times(240_000, 6 * 3_600_000);

/** A line of what was tried, for the table in the contributor guide. */
export function report(what: string, figures: Readonly<Record<string, number | string>>): void {
  if (!isFull) return;
  const said = Object.entries(figures).map(([name, value]) => `${name} ${value}`);
  process.stdout.write(`faults: ${what}: ${said.join(', ')}\n`);
}

/** The same chances at every run, from 0 up to 1: the generator mulberry32, which is in the public domain. */
export function seededChance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
