import { describe, expect, it } from 'vitest';
import { blendStages } from '../../../src/dye/blend-order.ts';
import { type ClothState, FINISHES, finishesFor } from '../../../src/dye/cloth-finish.ts';
import { dyeFor } from '../../../src/dye/dye-advice.ts';
import { affinity } from '../../../src/dye/dye-class.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import { auxiliaryFrom, type Recipe } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import { BENCH_CASES, type BenchCase } from './bench-cases.ts';
import { GRID, LOST_WITH } from './bench-grid.ts';

const contentOf = ({ cloth }: BenchCase): Content =>
  Object.entries(cloth).map(([fibre, percent]) => ({ fibre: fibre as FibreCode, shareBp: percent * 100 }));

/** The recipe that is offered for the cloth, or a bare one where none is, with what the case puts in. */
function recipeOf(given: BenchCase): Recipe {
  const { dye, owf = 1, method = '', puts, adds = [], change = {} } = given;
  const dyes = [{ name: 'Kelp', owfMilli: Math.round(owf * 1000) }];
  const bare: Recipe = {
    dyeClass: dye,
    method,
    dyes,
    auxiliaries: [],
    liquorRatioMilli: 20_000,
    temperatureC: 60,
    holdMinutes: 45,
    marks: {},
  };
  const made = starterRecipe(contentOf(given), dye, dyes, method) ?? bare;
  const put = (list: NonNullable<BenchCase['puts']>) =>
    list.map(([kind, form, gPerLitre]) =>
      auxiliaryFrom({ kind, form, name: kind, per: 'litre', amount: gPerLitre * 1000 }),
    );
  return { ...made, auxiliaries: [...(puts ? put(puts) : made.auxiliaries), ...put(adds)], ...change };
}

const named = BENCH_CASES.map((given, at) => {
  const cloth = Object.entries(given.cloth).map(([fibre, percent]) => `${percent} % ${fibre}`);
  const { finishes = [], state = '' } = given.state ?? {};
  return [
    `${at + 1}. ${cloth.join(', ')} ${[state, ...finishes].join(' ')}, ${given.dye}, ${given.verdict}`,
    given,
  ] as const;
});

describe('a dyeing', () => {
  it.each(named)('%s', (_, given) => {
    const content = contentOf(given);
    const recipe = recipeOf(given);
    const { problems, warnings } = checkRecipe(recipe, content);
    expect(problems.length > 0 ? 'refused' : 'taken').toBe(given.verdict);
    const told = [
      ...problems.map(({ message }) => message),
      ...[...warnings, ...dyeFor(content).warnings, ...finishesFor(given.state ?? {}, content)].map(
        ({ text }) => text,
      ),
    ];
    if (given.told) expect(told.join('\n')).toMatch(given.told);
    if (given.stages) expect(blendStages(content)).toEqual(given.stages);
    if (given.verdict === 'refused') return;
    const work = orderOfWork(recipe, content, given.state)
      .map(({ title, says, doses, adds }) =>
        [title, says, ...[...doses, ...adds].map(({ name }) => name)].join(' '),
      )
      .join('\n');
    if (given.work) expect(work).toMatch(given.work);
    if (given.never) expect(work).not.toMatch(given.never);
  });

  // 0.4 % of dye: on polyester at the boil a tint, which needs neither carrier nor pressure.
  it.each(GRID)('of %s by %s dye: %s', (fibre, dye, says) => {
    const given: BenchCase = {
      cloth: { [fibre]: 100 },
      dye,
      owf: 0.4,
      puts: [],
      verdict: 'taken',
      source: '',
    };
    const content = contentOf(given);
    const offered = starterRecipe(content, dye, [{ name: 'Kelp', owfMilli: 400 }]);
    const { problems } = checkRecipe(offered ?? recipeOf(given), content);
    const message = problems.map((problem) => problem.message).join(' ');
    expect([message, problems.length > 0]).toEqual([message, says !== 'dyes']);
    if (says === 'stains') expect(affinity(fibre, dye).take).toBe('stains');
    if (says === 'label') expect(affinity(fibre, dye).take).toBe('no');
    if (says === 'label') expect(message).toMatch(/label/);
  });

  // Blends of two and of three as well: what is lost is told before anything is done.
  const finished = BENCH_CASES.filter(({ verdict }) => verdict === 'taken').flatMap((given) =>
    FINISHES.map((finish) => [finish, Object.keys(given.cloth).join(' with '), given.dye, given] as const),
  );
  it.each(finished)('of %s %s by %s dye tells what is lost before the scour', (finish, _, __, given) => {
    const state: ClothState = { ...given.state, finishes: [finish] };
    const [scour, ...later] = orderOfWork(recipeOf(given), contentOf(given), state);
    expect(scour?.says).toMatch(LOST_WITH[finish][0]);
    expect(LOST_WITH[finish][1]).not.toBe('');
    for (const { says } of later) expect(says).not.toContain('Before you begin');
  });

  it('is given for some fifty cases, each with where its answer comes from', () => {
    expect(BENCH_CASES.length).toBeGreaterThanOrEqual(50);
    for (const { source } of BENCH_CASES) expect(source.length).toBeGreaterThan(5);
    const fibres = new Set(BENCH_CASES.flatMap(({ cloth }) => Object.keys(cloth)));
    expect(fibres.size).toBeGreaterThanOrEqual(16);
    expect(new Set(BENCH_CASES.map(({ dye }) => dye)).size).toBe(8);
    const states = new Set(BENCH_CASES.flatMap(({ state }) => state?.state ?? []));
    expect(states).toEqual(new Set(['greige', 'prepared', 'heat-set']));
    expect(GRID).toHaveLength(18 * 8);
    const threes = BENCH_CASES.filter(({ cloth }) => Object.keys(cloth).length === 3);
    expect(threes.length).toBeGreaterThanOrEqual(4);
  });
});
