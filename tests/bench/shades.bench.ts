import { firstRecipes } from '../../src/colour/prediction/first-recipes.ts';
import { predictorFor } from '../../src/colour/prediction/predictor.ts';
import {
  BOOTH,
  dyeWorld,
  EXACT,
  type Noise,
  PHONE,
  someMixture,
  swatchesOf,
  UPTAKE_LAWS,
} from '../src/colour/prediction/dye-worlds.ts';
import { quantile, tryIn } from '../src/colour/prediction/trials.ts';

// Tries the prediction of shades on invented dyes whose laws are not the model's, and times it: `node tests/bench/shades.bench.ts
// [worlds of each law]`. Everything is median / 95 % in units of CIEDE2000. Four dyes, each alone at 0.25, 1 and 4 %.

const WORLDS = Number(process.argv[2] ?? 6);
const NOISES: readonly (readonly [string, Noise])[] = [
  ['exact', EXACT],
  ['booth and chart, ΔE about 1', BOOTH],
  ['phone and card, ΔE about 3', PHONE],
];
const MIXTURES = [0, 8, 12, 24];
const MOST_MS = 1000;

say('uptake | colours read | mixtures | forward | band, covers | first dyeing | after one correction');
for (const law of UPTAKE_LAWS) {
  for (const [named, noise] of NOISES) {
    for (const mixtures of MIXTURES) {
      const found = Array.from({ length: WORLDS }, (_, world) =>
        tryIn(dyeWorld(7919 * (world + 1), law), noise, { mixtures, recipes: 40, targets: 12 }),
      );
      const covered = found.flatMap((each) => each.covered);
      const share = Math.round((100 * covered.filter(Boolean).length) / covered.length);
      const band = quantile(
        found.flatMap(({ bands }) => bands),
        0.5,
      );
      const [forward, first, second] = (['forward', 'first', 'second'] as const).map((of) =>
        two(found.flatMap((each) => each[of])),
      );
      say([law, named, mixtures, forward, `${band.toFixed(1)}, ${share} %`, first, second].join(' | '));
    }
  }
}
process.exitCode = time() < MOST_MS ? 0 : 1;

function two(errors: readonly number[]): string {
  return `${quantile(errors, 0.5).toFixed(1)} / ${quantile(errors, 0.95).toFixed(1)}`;
}

/** Milliseconds of the processor, the median of five, for what a page with first recipes asks of a large set of swatches. */
function time(): number {
  const world = dyeWorld(7, 'power', 8);
  const swatches = swatchesOf(world, BOOTH, 34);
  const all = Array.from({ length: 8 }, (_, dye) => dye);
  const hand = { usable: all, deepest: all.map(() => 4), pricePerPercent: all.map(() => 1) };
  const wanted = { lab: world.shadeOf(someMixture(world)), uncertainty: 0 };
  const [learning, finding]: [number[], number[]] = [[], []];
  for (let run = 0; run < 5; run++) {
    const before = processorMs();
    const predictor = predictorFor(swatches, 8, '2');
    const learned = processorMs();
    firstRecipes(predictor, wanted, hand, 6);
    learning.push(learned - before);
    finding.push(processorMs() - learned);
  }
  const [learnMs, findMs] = [quantile(learning, 0.5), quantile(finding, 0.5)];
  say(
    `8 dyes, ${swatches.length} swatches: learned in ${learnMs.toFixed(0)} ms, recipes of 92 sets of dyes in ${findMs.toFixed(0)} ms (processor)`,
  );
  return learnMs + findMs;
}

function processorMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}
