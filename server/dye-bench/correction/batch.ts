import type { Aftertreatment, ToCorrect } from '../../../src/dye/correction.ts';
import type { RecipeClass } from '../../../src/dye/dye-class.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { isLabelClass } from '../../../src/dye/label-class.ts';
import { lastChemicals } from '../../../src/dye/order-of-work.ts';
import { depthOwfMilli, type Recipe } from '../../../src/dye/recipe.ts';
import type { Water } from '../../../src/dye/water.ts';
import type { Reader } from '../../database/book.ts';
import { batchPath } from '../../kit/paths.ts';
import { conflict } from '../../refusal.ts';
import { readWater } from '../../setup/water/store.ts';
import { readPiecesToDye } from '../batch/dyeable.ts';
import { readSentLengths } from '../batch/store.ts';
import { type BathState, bathStands, isAlkaliIn } from '../pot/bath-state.ts';
import { type AtThePot, readAtThePot } from '../pot/log-verbs.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';

/** A batch that was dyed, as far as correcting it goes. */
export interface BatchToCorrect {
  readonly stored: StoredRecipe;
  readonly dyeClass: RecipeClass;
  readonly content: Content;
  /** of thread, trim and lining in it */
  readonly also: readonly FibreCode[];
  readonly massMg: number;
  readonly stands: boolean;
  /** the baths that stand, to which something may still be added */
  readonly standing: readonly BathState[];
  readonly dyedBp: number;
  readonly alkaliIn: boolean;
  /** what its own order of work put on after the dye, where that was done */
  readonly fixedWith: Aftertreatment;
  readonly additionsMade: number;
  /** that of today; null where nobody has measured it */
  readonly water: Water | null;
  /** what the last bath of it held */
  readonly lastHeld: ReturnType<typeof lastChemicals>;
  /** the pieces that came back and of which something is free */
  readonly pieces: ReturnType<typeof readPiecesToDye>;
  readonly log: AtThePot['log'];
}

/** @throws {Refusal} conflict where the batch has not started */
export function readBatchToCorrect(reader: Reader, code: string): BatchToCorrect {
  const { batch, baths, content, recipe, log } = readAtThePot(reader, code);
  if (batch.card === null) throw conflict(`${code} has not started.`, { text: code, href: batchPath(code) });
  const standing = baths.filter(bathStands);
  const sent = readSentLengths(reader, batch.id);
  const back = sent.flatMap(({ back: came }) => came?.pieceCode ?? []);
  return {
    stored: readRecipe(reader, batch.recipeId),
    dyeClass: recipe.dyeClass,
    content,
    also: recipe.also ?? [],
    water: readWater(reader),
    massMg: batch.card.massMg,
    stands: standing.length > 0,
    standing,
    dyedBp: batch.card.dyedBp,
    alkaliIn: standing.some((state) => isAlkaliIn(state, recipe)),
    fixedWith: fixedWith(
      baths,
      recipe,
      sent.every(({ back: came }) => came !== null),
    ),
    additionsMade: Math.max(0, ...baths.map(({ additions }) => additions.length)),
    lastHeld: lastChemicals(recipe, baths[0]?.steps ?? []),
    pieces: readPiecesToDye(reader, back).filter(({ freeTicks }) => freeTicks > 0),
    log,
  };
}

/** The syntan or fixer of a step that was done: by the log, or since all of the batch is back. */
function fixedWith(baths: readonly BathState[], recipe: Recipe, isBack: boolean): Aftertreatment {
  const done = baths.flatMap(({ clock }) =>
    clock.steps.filter(({ step, state }) => step.kind === 'fix' && (isBack || state === 'done')),
  );
  const names = done.flatMap(({ step }) => step.adds.map(({ name }) => name));
  const kinds = recipe.auxiliaries.flatMap(({ name, kind }) => (names.includes(name) ? [kind] : []));
  if (kinds.includes('syntan')) return 'syntan';
  return kinds.includes('fixer') ? 'cationic' : 'none';
}

/** What is asked of the arithmetic; null for a class that is worked by its label, of which nothing is known. */
export function toCorrect(
  { dyeClass, content, stands, alkaliIn, additionsMade, stored }: BatchToCorrect,
  { trouble, after }: Pick<ToCorrect, 'trouble' | 'after'>,
): ToCorrect | null {
  if (isLabelClass(dyeClass)) return null;
  const depth = depthOwfMilli(stored.recipe);
  return { dyeClass, content, trouble, stands, alkaliIn, after, additionsMade, depthOwfMilli: depth };
}
