import { showLiquorRatio } from '../../../src/dye/bench-figures.ts';
import type { Card } from '../../../src/dye/card.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { type Compared, compareRepeat, type Sameness } from '../../../src/dye/repeat.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { batchPath, piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { wordFor } from '../../kit/words.ts';
import { conflict, invalid, orProblems } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showGrams } from '../card/amounts-show.ts';
import { readLog } from '../pot/log-store.ts';
import { sayPh } from '../recipe/figures.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';
import { readDyeablePieces, readPiecesToDye } from './dyeable.ts';
import { batchPlanForm, type PlanForm, planBatch, workOutTyped } from './plan.ts';
import { placeRows } from './plan-rows.ts';
import { lotsWeighed } from './repeat-store.ts';
import { readBatch, type StoredBatch } from './store.ts';

const MOST_OFFERED = 20;

/** Repeating a batch for another mass: what must stay equal, then what differs once lengths are given. */
export function repeatPage(
  reader: Reader,
  code: string,
  asker: Asker,
  typed: Typed,
  opened: 'asked' | 'refused',
) {
  const batch = readStarted(reader, code);
  const stored = readRecipe(reader, batch.recipeId);
  const { card } = batch;
  const codes = card.pieces.map((piece) => piece.code);
  const clothIds = [...new Set(readPiecesToDye(reader, codes).map(({ cloth }) => cloth.id))];
  const offered = readDyeablePieces(reader, { clothIds, limit: MOST_OFFERED });
  const { vessel_id, ratio, due_on, note } = batchPlanForm(reader, asker).shape;
  const lots = new Set(card.pieces.map(({ lot }) => lot));
  const asked = opened === 'asked' && typed.vessel_id !== undefined;
  const { value: after, problems } = orProblems(() => (asked ? workOutTyped(reader, typed, asker) : null));
  const data = {
    requestKey: mintKey(),
    code: batch.code,
    href: batchPath(batch.code),
    action: `${batchPath(batch.code)}/repeat`,
    recipeId: batch.recipeId,
    chip: shadeChip(stored.shade),
    /** what must be as it was, with what it was */
    equal: equalOf(reader, batch, stored),
    fields: drawFields(
      { vessel_id, ratio, due_on, note },
      {
        vessel_id: String(batch.vessel.id),
        ratio: showLiquorRatio(card.recipe.liquorRatioMilli),
        note: `Repeats ${batch.code}.`,
        ...typed,
      },
    ),
    unit: lengthUnit(asker.units),
    pieces: placeRows(reader, asker, offered, typed).map(({ piece, fields }) => ({
      code: piece.code,
      href: piecePath(piece.code),
      cloth: piece.cloth.name,
      lot: piece.lotCode,
      sameLot: lots.has(piece.lotCode),
      free: showLength(piece.freeTicks, asker.units, 'down'),
      fields,
    })),
    /** how the batch that is worked out compares; none before that */
    compared: after ? compare(batch.card, after) : [],
  };
  return {
    view: 'dye-bench/batch/repeat',
    data,
    title: `Repeat batch ${batch.code}`,
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

type Started = StoredBatch & { readonly card: Card };

/** @throws {Refusal} conflict where the batch never started: there is nothing to repeat */
function readStarted(reader: Reader, code: string): Started {
  const batch = readBatch(reader, code);
  const { card } = batch;
  if (card === null) {
    throw conflict(`${code} was never started, so there is nothing to repeat.`, {
      text: `Batch ${code}`,
      href: batchPath(code),
    });
  }
  return { ...batch, card };
}

function equalOf(reader: Reader, batch: Started, stored: StoredRecipe) {
  const { card } = batch;
  const { recipe } = stored;
  const lots = lotsWeighed(readLog(reader, batch.id));
  const pH = sayPh(recipe);
  return [
    { what: 'Recipe', was: `${stored.name}, version ${stored.version}` },
    {
      what: 'Class',
      was: `${DYE_CLASS_NAMES[recipe.dyeClass]}${recipe.method === '' ? '' : `, ${recipe.method}`}`,
    },
    {
      what: 'Dyes on weight of fabric',
      was: recipe.dyes.map(({ name, owfMilli }) => `${name} ${owfMilli / 1000} %`).join(', '),
    },
    { what: 'Liquor ratio', was: showLiquorRatio(card.recipe.liquorRatioMilli) },
    {
      what: 'Ramp and hold',
      was: `${recipe.temperatureC} °C for ${recipe.holdMinutes} min, heated as before`,
    },
    ...(pH === '' ? [] : [{ what: 'pH', was: pH }]),
    { what: 'Cloth', was: unlike(card.pieces.map(({ cloth }) => cloth)) },
    { what: 'Undyed lot', was: unlike(card.pieces.map(({ lot }) => lot)) },
    {
      what: 'Lots of the dyes',
      was: lots.size === 0 ? 'none was entered' : [...lots].map(([name, lot]) => `${name} ${lot}`).join(', '),
    },
  ];
}

function unlike(all: readonly string[]): string {
  return [...new Set(all)].join(', ');
}

function compare(before: Card, after: Card) {
  const asRepeated = (card: Card) => ({
    recipe: card.recipe,
    vessel: card.vessel,
    cloths: card.pieces.map(({ cloth }) => cloth),
    lots: card.pieces.map(({ lot }) => lot),
    massMg: card.massMg,
    baths: card.baths,
  });
  return compareRepeat(asRepeated(before), asRepeated(after)).map((each) => ({
    what: WORDS[each.what],
    was: sayOf(each.what, before),
    is: sayOf(each.what, after),
    flag: flagOf(each),
  }));
}

const WORDS: Readonly<Record<Sameness, string>> = {
  recipe: 'Recipe',
  ratio: 'Liquor ratio',
  cloth: 'Cloth',
  'ground lot': 'Undyed lot',
  vessel: 'Vessel',
  baths: 'Cloth in each bath',
  mass: 'Mass',
};

function flagOf({ same, must }: Compared): '' | 'must be equal' | 'differs' {
  if (same) return '';
  return must ? 'must be equal' : 'differs';
}

function sayOf(what: Sameness, card: Card): string {
  switch (what) {
    case 'recipe':
      return `${card.recipe.name}, version ${card.recipe.version}, shrinkage ${showPercent(card.shrinkageBp)}`;
    case 'ratio':
      return showLiquorRatio(card.recipe.liquorRatioMilli);
    case 'cloth':
      return unlike(card.pieces.map(({ cloth }) => cloth));
    case 'ground lot':
      return unlike(card.pieces.map(({ lot }) => lot));
    case 'vessel':
      return card.vessel.name;
    case 'baths':
      return `${showGrams(card.baths[0]?.massMg ?? 0)} in ${wordFor(card.baths.length, 'one bath', `each of ${card.baths.length}`)}`;
    case 'mass':
      return showGrams(card.massMg);
  }
}

/** Plans a batch by the recipe of another, and keeps which one it repeats. */
export function repeatBatch(tx: Tx, code: string, form: PlanForm, asker: Asker): Answer {
  const batch = readStarted(tx, code);
  if (form.recipe_id !== batch.recipeId) {
    throw invalid('recipe_id', `A repeat is dyed by the recipe of ${code}: choose that one.`);
  }
  const answer = planBatch(tx, form, asker.units);
  const made = readBatch(tx, decodeURIComponent(answer.location.split('/').at(-1) ?? ''));
  tx.run(tx.db.insertInto('batch_repeat').values({ batch_id: made.id, of_id: batch.id }));
  return { ...answer, said: `${answer.said} It repeats ${code}.` };
}
