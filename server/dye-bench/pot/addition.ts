import { z } from 'zod';
import { additionFor, MOST_ADDITIONS, NO_MORE_ADDITIONS } from '../../../src/dye/addition.ts';
import { dyedMassMg } from '../../../src/dye/bath.ts';
import { readOwf } from '../../../src/dye/bench-figures.ts';
import { orderWarnings } from '../../../src/dye/card-warnings.ts';
import { REACTIVE_YIELD } from '../../../src/dye/correction.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { readingField, textField } from '../../kit/fields.ts';
import { drawRow } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { wordFor } from '../../kit/words.ts';
import { conflict, invalid, orProblems, Refusal } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { readBatch } from '../batch/store.ts';
import { showGrams } from '../card/amounts-show.ts';
import { numberedRows } from '../numbered-rows.ts';
import { readRecipe } from '../recipe/store.ts';
import { type BathState, bathStands, canAdd, isAlkaliIn } from './bath-state.ts';
import { type AtThePot, insertLog, potPath, readAtThePot } from './log-verbs.ts';
import { withHeads } from './step.ts';

export const ADDITION = z.strictObject({
  dyes: numberedRows(
    {
      name: textField({ max: 120, what: 'The dye' }),
      target: readingField(readOwf, { label: 'Target', unit: '% owf' }),
      reached: readingField(readOwf, { label: 'Reached', unit: '% owf' }),
    },
    { min: 1, what: 'dyes' },
  ),
});
type AdditionForm = z.output<typeof ADDITION>;

/** Bringing a shade up while the bath stands. Asked with what is reached in the address, it works it out. */
export function additionPage(
  reader: Reader,
  code: string,
  typed: Typed,
  opened: 'asked' | 'refused' = 'asked',
) {
  const pot = readAtThePotOrNull(reader, code);
  const open = pot?.baths.filter(bathStands) ?? [];
  const stored = readRecipe(reader, readBatch(reader, code).recipeId);
  const asked = opened === 'asked' && typed['dyes.0.reached'] !== undefined;
  const { value: worked, problems } = orProblems(() => (asked && pot ? workTyped(pot, typed) : []));
  const data = {
    requestKey: mintKey(),
    code,
    href: batchPath(code),
    action: `${batchPath(code)}/addition`,
    chip: shadeChip(stored.shade),
    cautions: { due: [], all: withHeads(pot?.cautions ?? []) },
    /** what the bath that it goes into is near to, and the orders to keep in it */
    warnings: pot
      ? [...orderWarnings(pot.recipe), ...checkRecipe(pot.recipe, pot.content, pot.water).warnings]
      : [],
    /** why nothing can be added; '' where something can */
    refused: whyNot(pot, open),
    /** what else may be done */
    correction: `${batchPath(code)}/correction?trouble=too-light`,
    /** a batch of its own from pieces that are dyed already */
    dyeOver: address('/dye-bench/batches/new', { shade: stored.shade.id, over: 'yes' }),
    made: additionsMade(open),
    most: MOST_ADDITIONS,
    baths: wordFor(open.length, 'one bath', `each of ${open.length} baths`),
    dyes: stored.recipe.dyes.map(({ name, owfMilli }, index) => ({
      ...drawRow('dyes', ADDITION.shape.dyes.rowFields, index, {
        [`dyes.${index}.target`]: decimal(owfMilli),
        ...typed,
      }),
      name,
    })),
    /** what it comes to for each bath, with its sum; none before it is worked out */
    worked: worked ?? [],
  };
  return {
    view: 'dye-bench/pot/addition',
    data,
    title: `Addition to batch ${code}`,
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

function readAtThePotOrNull(reader: Reader, code: string): AtThePot | null {
  try {
    return readAtThePot(reader, code);
  } catch (error) {
    if (error instanceof Refusal && error.kind === 'conflict') return null;
    throw error;
  }
}

function whyNot(pot: AtThePot | null, open: readonly BathState[]): string {
  if (!pot) return 'The batch is not in the pot, and an addition needs its bath.';
  if (open.length === 0) {
    return 'The bath is gone: what is rinsed is dyed again as a batch of its own, after its swatch.';
  }
  const { problems } = checkRecipe(pot.recipe, pot.content, pot.water);
  if (problems.length > 0) {
    return `${problems.map(({ message }) => message).join(' ')} Add nothing to this bath: take the cloth out and rinse it.`;
  }
  if (pot.recipe.dyeClass === 'reactive' && open.some((state) => isAlkaliIn(state, pot.recipe))) {
    return `The soda is in. ${REACTIVE_YIELD} Rinse, and dye what is missing in a fresh bath with fresh salt and soda.`;
  }
  if (!open.some(canAdd)) return 'No bath has come to its hold yet: judge the shade then.';
  return additionsMade(open) >= MOST_ADDITIONS ? NO_MORE_ADDITIONS : '';
}

function additionsMade(open: readonly BathState[]): number {
  return Math.max(0, ...open.map(({ additions }) => additions.length));
}

/** @throws {Refusal} invalid */
function workTyped(pot: AtThePot, typed: Typed) {
  const form = readForm(ADDITION, readBody(typed).body);
  const [state] = pot.baths.filter(bathStands);
  if (!state) return [];
  const massMg = dyedMg(pot, state);
  return workOut(pot, state, form).map((dye) => sayDye(dye, massMg, form));
}

function sayDye(
  { name, missingMg, nowMg }: { name: string; missingMg: number; nowMg: number },
  massMg: number,
  form: AdditionForm,
) {
  const row = form.dyes.find((each) => each.name === name);
  const [target, reached] = [decimal(row?.target ?? 0), decimal(row?.reached ?? 0)];
  return {
    name,
    sum: `${showGrams(massMg)} × (${target} − ${reached}) ÷ 100 = ${showGrams(missingMg)}${nowMg < missingMg ? ', half of it first' : ''}`,
    now: showGrams(nowMg),
  };
}

/** The cloth of a bath that takes the dye, in mg. */
function dyedMg({ batch }: AtThePot, { bath }: BathState): number {
  return dyedMassMg(bath.massMg, batch.card?.dyedBp ?? 10_000);
}

/** What is missing of each dye in a bath. @throws {Refusal} invalid */
function workOut(pot: AtThePot, state: BathState, form: AdditionForm) {
  const made = additionsMade(pot.baths.filter(bathStands));
  const dyes = form.dyes.map(({ name, target, reached }) => ({
    name,
    targetOwfMilli: target,
    reachedOwfMilli: reached,
  }));
  const addition = additionFor(dyedMg(pot, state), dyes, made);
  if (!addition.ok) throw invalid(addition.field, addition.reason);
  return addition.dyes;
}

/**
 * Adds dye to every bath that still stands. What is added is logged with its batch: the lot of the pieces, once they
 * are back, tells of it. @throws {Refusal} conflict where no bath can take it, invalid where nothing is missing
 */
export function addToBatch(tx: Tx, code: string, form: AdditionForm): Answer {
  const pot = readAtThePot(tx, code);
  const open = pot.baths.filter(bathStands);
  const refused = whyNot(pot, open);
  if (refused !== '') throw conflict(refused, { text: `Batch ${code}`, href: batchPath(code) });
  const names = readRecipe(tx, pot.batch.recipeId).recipe.dyes.map(({ name }) => name);
  const strange = form.dyes.find(({ name }) => !names.includes(name));
  if (strange) throw invalid(`dyes.${strange.place}.name`, `${strange.name} is not in the recipe.`);
  const said: string[] = [];
  for (const state of open) {
    for (const { name, nowMg } of workOut(pot, state, form)) {
      const row = form.dyes.find((each) => each.name === name);
      const note = `${decimal(row?.reached ?? 0)} of ${decimal(row?.target ?? 0)} % owf reached`;
      insertLog(tx, pot.batch.id, {
        bath: state.number,
        kind: 'addition',
        what: name,
        figure: nowMg,
        note,
      });
      if (state === open[0]) said.push(`${showGrams(nowMg)} of ${name}`);
    }
  }
  const each = open.length === 1 ? '' : ' in each bath';
  return {
    location: potPath(code, open[0]?.number ?? 1),
    said: `Addition ${additionsMade(open) + 1} to ${code}: ${said.join(', ')}${each}. Its steps come after the hold.`,
  };
}

function decimal(milli: number): string {
  return showDecimal(BigInt(milli), 3);
}
