import { equalLooks } from '../../../src/dye/ladder.ts';
import { depthOwfMilli } from '../../../src/dye/recipe.ts';
import { address } from '../../kit/address.ts';
import type { Typed } from '../../kit/typed.ts';
import type { SeriesPrediction } from './differences.ts';
import type { WorkedSeries } from './work-out.ts';

/** Depths that look as different from each to the next, and where the series is asked for with them; null where they are not known. */
export function sayEvenLadder(
  { source, target, steps }: WorkedSeries,
  typed: Typed,
  prediction: SeriesPrediction | null,
): { readonly depths: string; readonly href: string } | null {
  const depths = steps.map((step) => step.depthOwfMilli);
  const [first = 0, last = 0] = [depths[0], depths.at(-1)];
  const { dyes } = source.recipe;
  if (!prediction || target || depths.length < 3 || !prediction.shadeOf(dyes)) return null;
  const whole = depthOwfMilli(source.recipe);
  const shadeAt = (depth: number) => {
    const shade = prediction.shadeOf(
      dyes.map(({ name, owfMilli }) => ({ name, owfMilli: (owfMilli * depth) / whole })),
    );
    if (!shade) throw new Error('a dye that was known is known at every depth');
    return shade;
  };
  const even = equalLooks(first, last, depths.length, shadeAt);
  if (even.every((depth, at) => depth === depths[at]) || new Set(even).size < even.length) return null;
  const said = even.map((depth) => String(depth / 1000)).join('/');
  const { first: _, last: __, steps: ___, ...kept } = typed;
  return { depths: said, href: `${address('/dye-bench/series/new', { ...kept, depths: said })}#worked-out` };
}
