import { NOTHING_ASKED } from '../../../src/dye/batch-amounts.ts';
import type { Card } from '../../../src/dye/card.ts';
import { contentToDye } from '../../../src/dye/card.ts';
import { dyeingDays, workCost } from '../../../src/dye/dyeing-cost.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import type { Reader } from '../../database/book.ts';
import { readHourPrice, reckonCard } from '../../dye-bench/batch/cost.ts';
import type { DyeablePiece, DyeCloth } from '../../dye-bench/batch/dyeable.ts';
import { type TypedLength, workOutBatch } from '../../dye-bench/batch/plan.ts';
import { readRecipe, type StoredRecipe } from '../../dye-bench/recipe/store.ts';
import { swatchStandings } from '../../dye-bench/swatch/standing.ts';
import { readVesselsInUse } from '../../dye-bench/vessels/store.ts';

/** Recipes of a shade that are looked at, the newest first. */
const MOST_RECIPES = 4;

/** What dyeing some lengths by a recipe takes. Money in minor units. */
export interface Dyeing {
  readonly card: Card;
  readonly vesselId: number;
  readonly dyesMinor: number;
  readonly energyMinor: number;
  readonly workMinor: number;
  /** what has no price, by name */
  readonly unknown: readonly string[];
  readonly baths: number;
  /** with the bath, drying left out; one bath after the other */
  readonly workMinutes: number;
  /** batches that were dyed by this very recipe before */
  readonly timesDyed: number;
  /** whether every lot of the cloth has an approved swatch by it; cloth that is still to be bought has none */
  readonly hasSwatch: boolean;
  /** working days until it is dry */
  readonly days: number;
}

export type DyeingTried =
  | { readonly ok: true; readonly dyeing: Dyeing }
  | { readonly ok: false; readonly reason: string };

/** The recipes of a shade that no newer version follows, the newest first. */
export function readRecipesOf(reader: Reader, shadeId: number): StoredRecipe[] {
  const rows = reader.all(
    reader.db
      .selectFrom('recipe')
      .leftJoin('recipe as next', 'next.follows_id', 'recipe.id')
      .select('recipe.id')
      .where('recipe.shade_id', '=', shadeId)
      .where('next.id', 'is', null)
      .orderBy('recipe.id', 'desc')
      .limit(MOST_RECIPES),
  );
  return rows.map(({ id }) => readRecipe(reader, id));
}

/** Works out the dyeing of some lengths in the vessel that takes fewest baths. */
export function tryDyeing(
  reader: Reader,
  stored: StoredRecipe,
  lengths: readonly TypedLength[],
): DyeingTried {
  const vessels = readVesselsInUse(reader);
  const tried = vessels.map((vessel) => ({
    vessel,
    worked: workOutBatch(reader, stored, { vessel, lengths, asked: NOTHING_ASKED }),
  }));
  const cards = tried.flatMap(({ vessel, worked }) => (worked.ok ? [{ vessel, card: worked.card }] : []));
  const [best] = cards.sort((a, b) => a.card.baths.length - b.card.baths.length);
  if (!best) {
    const reasons = tried.flatMap(({ worked }) => (worked.ok ? [] : [worked.reason]));
    return { ok: false, reason: reasons[0] ?? 'There is no vessel to dye in: add one at the dye bench.' };
  }
  return { ok: true, dyeing: reckon(reader, stored, lengths, best.card, best.vessel.id) };
}

function reckon(
  reader: Reader,
  stored: StoredRecipe,
  lengths: readonly TypedLength[],
  card: Card,
  vesselId: number,
): Dyeing {
  const cost = reckonCard(reader, card);
  const cloths = lengths.map(({ piece }, at) => ({
    content: piece.cloth.content,
    massMg: card.pieces[at]?.massMg ?? 0,
  }));
  const steps = orderOfWork(stored.recipe, contentToDye(cloths, stored));
  const minutesOf = (dries: boolean) =>
    steps.reduce((sum, { kind, minutes }) => sum + ((kind === 'dry') === dries ? minutes : 0), 0);
  const workMinutes = minutesOf(false) * card.baths.length;
  const hourMinor = readHourPrice(reader);
  const standings = swatchStandings(
    reader,
    stored,
    lengths.map(({ piece }) => piece),
  );
  const hasSwatch = standings.every(({ approved }) => approved);
  return {
    card,
    vesselId,
    dyesMinor: cost.totalMinor - (cost.energyMinor ?? 0),
    energyMinor: cost.energyMinor ?? 0,
    workMinor: hourMinor === null ? 0 : workCost(workMinutes, hourMinor),
    unknown: [...new Set([...cost.unknown, ...(hourMinor === null ? ['hours of work'] : [])])],
    baths: card.baths.length,
    workMinutes,
    timesDyed: countDyed(reader, stored.id),
    hasSwatch,
    days: dyeingDays(workMinutes + minutesOf(true), hasSwatch),
  };
}

/** How many batches by a recipe came back as a lot. */
function countDyed(reader: Reader, recipeId: number): number {
  const row = reader.first(
    reader.db
      .selectFrom('batch')
      .innerJoin('lot', 'lot.batch_id', 'batch.id')
      .select((of) => of.fn.count<number>('batch.id').distinct().as('batches'))
      .where('batch.recipe_id', '=', recipeId),
  );
  return row?.batches ?? 0;
}

/** A bolt of fresh cloth that is not bought yet, as the dye bench works it out. */
export function freshBolt(cloth: DyeCloth, shade: DyeablePiece['shade'], lengthTicks: number): TypedLength {
  const piece: DyeablePiece = {
    id: 0,
    code: 'to buy',
    kind: 'bolt',
    lotId: 0,
    lotCode: '',
    usableWidthTicks: cloth.usableWidthTicks,
    onHandTicks: lengthTicks,
    heldTicks: 0,
    freeTicks: lengthTicks,
    place: '',
    shade,
    ground: true,
    cloth,
  };
  return { piece, lengthTicks, typed: '' };
}
