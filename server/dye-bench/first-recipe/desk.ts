import { createHash } from 'node:crypto';
import {
  type PredictionBasis,
  type PredictionDone,
  predictorFrom,
  type RecipeSearch,
} from '../../../src/colour/prediction/basis.ts';
import type { FirstRecipe } from '../../../src/colour/prediction/first-recipes.ts';
import type { FittedSet, ShadePredictor } from '../../../src/colour/prediction/predictor.ts';
import { ProcessRunner, Unanswered } from '../../process.ts';
import { Refusal } from '../../refusal.ts';
import type { Predicting } from './process.ts';

/** A hundred swatches of a dozen dyes take three seconds on a slow machine. */
const MOST_MS = 20_000;
/** Sets of swatches and searches that are remembered: a few cloths with as many shades as are looked for in a day. */
const MOST_KEPT = 60;

/**
 * Learns from swatches in a process of its own, as that may take longer than a page may hold others up, and remembers what
 * came of it by the very figures that it came of.
 */
export class PredictionDesk {
  readonly #runner = new ProcessRunner<Parameters<Predicting>[0], ReturnType<Predicting>>(
    new URL('./process.ts', import.meta.url),
    { mostMs: MOST_MS },
  );
  readonly #fitted = new Map<string, FittedSet>();
  readonly #recipes = new Map<string, readonly FirstRecipe[]>();

  /** What can be predicted from some swatches. @throws {Refusal} too-many, where it takes too long */
  async learn(basis: PredictionBasis): Promise<ShadePredictor> {
    return this.known(basis) ?? predictorFrom(basis, (await this.#ask(basis, null)).fitted);
  }

  /** The same where it is known already; null where it would have to be worked out. */
  known(basis: PredictionBasis): ShadePredictor | null {
    const fitted = this.#fitted.get(hashOf(basis.from));
    return fitted ? predictorFrom(basis, fitted) : null;
  }

  /** Recipes for a shade. @throws {Refusal} too-many, where it takes too long */
  async find(basis: PredictionBasis, search: RecipeSearch): Promise<readonly FirstRecipe[]> {
    const hash = hashOf([basis, search]);
    const found = this.#recipes.get(hash) ?? (await this.#ask(basis, search)).recipes;
    keep(this.#recipes, hash, found);
    return found;
  }

  close(): Promise<void> {
    return this.#runner.close();
  }

  async #ask(basis: PredictionBasis, search: RecipeSearch | null): Promise<PredictionDone> {
    const hash = hashOf(basis.from);
    try {
      const done = await this.#runner.ask({ basis, fitted: this.#fitted.get(hash) ?? null, search });
      keep(this.#fitted, hash, done.fitted);
      return done;
    } catch (error) {
      if (!(error instanceof Unanswered)) throw error;
      throw new Refusal(
        'too-many',
        'Learning from these swatches took too long and was stopped. Ask again in a moment.',
      );
    }
  }
}

function hashOf(figures: unknown): string {
  return createHash('sha256').update(JSON.stringify(figures)).digest('hex');
}

/** Keeps what was asked last. */
function keep<T>(kept: Map<string, T>, hash: string, value: T): void {
  kept.delete(hash);
  kept.set(hash, value);
  const [oldest] = kept.keys();
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
}
