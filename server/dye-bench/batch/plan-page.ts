import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { fibreOf, readFibreNames } from '../../../src/dye/fibre.ts';
import { showLength, showSize } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { withBlank } from '../../kit/choices.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { clothPath, piecePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { sayTapeStep, shapeTape } from '../../kit/tape.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { orProblems } from '../../refusal.ts';
import type { Needed } from '../../shelf/lengths.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showCard } from '../card/show.ts';
import { choosePage } from '../recipe/choose-page.ts';
import { newestRecipes } from '../recipe/list-page.ts';
import { inBathWith, readRecipe, recipePath, type StoredRecipe } from '../recipe/store.ts';
import { foundStrengths } from '../swatch/strength.ts';
import { readVesselsInUse } from '../vessels/store.ts';
import {
  type DyeablePiece,
  readDyeablePieces,
  readDyeCloths,
  readGroundCloths,
  whyNotDyed,
} from './dyeable.ts';
import { batchPlanForm, MOST_POTS, workOutTyped } from './plan.ts';
import { lineNames, offersByVessel, sayToSend, toSend } from './plan-offers.ts';
import { placeRows, readPlannedOf } from './plan-rows.ts';

/** Pieces offered at once; where there are more, a cloth is chosen first. */
const MOST_OFFERED = 50;
/** Pieces that a phone shows before the others are folded out. */
const SEEN_AT_ONCE = 6;

/**
 * Planning a batch: first the recipe, then the lengths. Asked with a vessel and lengths in the address, it works the
 * batch out without writing; refused, it keeps what was typed.
 */
export function batchPlanPage(
  reader: Reader,
  asker: Asker,
  needed: Needed,
  typed: Typed,
  opened: 'asked' | 'refused',
) {
  const named = /^[1-9][0-9]{0,14}$/.test(typed.recipe_id ?? '') ? Number(typed.recipe_id) : null;
  const recipeId = named ?? (opened === 'asked' && !typed.choose ? onlyRecipe(reader, typed) : null);
  return recipeId === null
    ? choosePage(reader, typed)
    : lengthsPage(reader, asker, needed, readRecipe(reader, recipeId), typed, opened);
}

/** The recipe of the shade that is asked for, where there is one alone and it dyes the cloth that is asked for. */
function onlyRecipe(reader: Reader, typed: Typed): number | null {
  const shadeId = queryNumber(typed, 'shade');
  if (shadeId === null) return null;
  const rows = reader.all(newestRecipes(reader, shadeId, null).select('recipe.id').limit(2));
  const [only] = rows;
  if (!only || rows.length > 1) return null;
  const clothId = queryNumber(typed, 'cloth');
  const cloth = clothId === null ? undefined : readDyeCloths(reader, [clothId]).get(clothId);
  return cloth && whyNotDyed(reader, readRecipe(reader, only.id), cloth) !== null ? null : only.id;
}

export function lengthsPage(
  reader: Reader,
  asker: Asker,
  needed: Needed,
  stored: StoredRecipe,
  typed: Typed,
  opened: 'asked' | 'refused',
) {
  const asked = opened === 'asked' && typed.vessel_id !== undefined;
  const { value: card, problems } = orProblems(() => (asked ? workOutTyped(reader, typed, asker) : null));
  const over = (typed.over ?? '') !== '';
  const all = readGroundCloths(reader, over);
  const onScale = (typed.scale ?? '') !== '';
  const also = readFibreNames(typed.also ?? '');
  const inBath = also.ok ? inBathWith(stored, also.value) : stored;
  const cloths = all.filter((cloth) => whyNotDyed(reader, inBath, cloth, onScale) === null);
  const chosen = cloths.filter(({ id }) => String(id) === typed.cloth);
  const clothIds = (chosen.length > 0 ? chosen : cloths).map(({ id }) => id);
  const found = readDyeablePieces(reader, { clothIds, limit: MOST_OFFERED + 1, over });
  const names = lineNames(stored);
  const {
    pieces: _,
    stocks,
    strengths,
    pots,
    cloth,
    ...fields
  } = drawFields(batchPlanForm(reader, asker).shape, typed, {
    stocks: names.length,
    strengths: stored.recipe.dyes.length,
    pots: MOST_POTS,
  });
  const offered = found.slice(0, MOST_OFFERED);
  const send = toSend(stored, typed, asker.units);
  const isBlank =
    opened === 'asked' && !asked && !Object.keys(typed).some((name) => name.startsWith('pieces.'));
  const fitting = isBlank && send ? fittingLength(reader, offered, send.sendTicks, asker) : {};
  const { pieces, tapeStep } = shapePieces(reader, asker, needed, offered, { ...typed, ...fitting });
  const clothsShown = cloths.map(({ id, name }) => ({ value: String(id), label: name }));
  const data = {
    requestKey: mintKey(),
    recipe: {
      id: stored.id,
      name: `${stored.name}, version ${stored.version}`,
      href: recipePath(stored.id),
      chip: shadeChip(stored.shade, { href: shadePath(stored.shade.id) }),
      fibre: fibreOf(stored.fibre).name,
      dyeClass: DYE_CLASS_NAMES[stored.recipe.dyeClass],
      newest: stored.followedById === null ? null : recipePath(stored.followedById),
    },
    otherRecipe: address('/dye-bench/batches/new', {
      cloth: typed.cloth ?? '',
      shade: typed.shade ?? '',
      wanted: typed.wanted ?? '',
      over: typed.over ?? '',
      choose: 'yes',
    }),
    /** the same page with dyed pieces too; '' where they are shown */
    dyedToo: over ? '' : address('/dye-bench/batches/new', { recipe_id: stored.id, over: 'yes' }),
    hasVessel: readVesselsInUse(reader).length > 0,
    fields: {
      ...fields,
      cloth: {
        ...cloth,
        options: withBlank(clothsShown, 'All that take this dye'),
        value: chosen.length > 0 ? cloth.value : '',
      },
    },
    /** the strength of stock solution for each line of the bath */
    stocks: stocks
      .slice(0, names.length)
      .map(({ strength }, at) => ({ ...strength, label: names[at] ?? '' })),
    /** the strength of the lot of each dye */
    strengths: stored.recipe.dyes.flatMap(({ name }, at) => {
      const row = strengths[at];
      return row ? [{ name, ...row, found: foundStrengths(reader, name) }] : [];
    }),
    /** the pots of further baths, where they are of several sizes */
    pots: pots
      .slice(0, MOST_POTS)
      .map(({ vessel_id }, at) => ({ ...vessel_id, label: `Pot of bath ${at + 2}` })),
    /** in how many baths each vessel in use would do it; none before it is worked out */
    byVessel: card ? offersByVessel(reader, stored.recipe, card) : [],
    waiting: needed.waiting,
    pieces,
    tapeStep,
    /** so many rows are seen at once on a phone: some, and all down to the last that has something typed */
    firstPieces: Math.max(
      SEEN_AT_ONCE,
      1 + pieces.findLastIndex(({ fields: { length, bath } }) => length.value !== '' || bath.value !== ''),
    ),
    /** true where more pieces would do than are offered here */
    more: found.length > MOST_OFFERED,
    /** cloths whose undyed ground is free and that this recipe cannot dye, and why */
    refused: all.flatMap((cloth) => {
      const why = whyNotDyed(reader, inBath, cloth, onScale);
      return why ? [{ cloth: cloth.name, reason: why.reason, href: clothPath(cloth.id) }] : [];
    }),
    /** what to send for the length wanted after dyeing; '' where none is asked */
    send: sayToSend(send, stored, asker.units),
    unit: lengthUnit(asker.units),
    /** what was worked out, in words and in plain figures; null before that */
    card: card ? showCard(card, asker.units) : null,
    figures: card,
  };
  return {
    view: 'dye-bench/batch/plan',
    data,
    title: 'New batch',
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

/** What is to be sent stands beside the shortest piece that gives it whole, where one does, to be changed or left so. */
function fittingLength(
  reader: Reader,
  offered: readonly DyeablePiece[],
  sendTicks: number,
  { units }: Asker,
): Typed {
  const planned = readPlannedOf(
    reader,
    offered.map(({ id }) => id),
  );
  const left = ({ id, freeTicks }: DyeablePiece) => freeTicks - (planned.get(id) ?? 0);
  const [piece] = offered
    .filter((one) => one.ground && left(one) >= sendTicks)
    .sort((a, b) => left(a) - left(b) || a.id - b.id);
  if (!piece) return {};
  const length = showLength(sendTicks, units, 'up').replace(/^≈ /, '');
  return { 'pieces.0.piece': piece.code, 'pieces.0.length': length };
}

function shapePieces(
  reader: Reader,
  asker: Asker,
  needed: Needed,
  offered: readonly DyeablePiece[],
  typed: Typed,
) {
  const rows = placeRows(reader, asker, offered, typed);
  const planned = readPlannedOf(
    reader,
    rows.map(({ piece }) => piece.id),
  );
  const maxTicks = Math.max(1, ...rows.map(({ piece }) => piece.onHandTicks));
  const { units } = asker;
  const pieces = rows.map(({ piece, fields }) => ({
    code: piece.code,
    href: piecePath(piece.code),
    cloth: piece.cloth.name,
    lot: piece.lotCode,
    /** the shade of a piece that is dyed already; '' for an undyed ground */
    dyed: piece.ground ? '' : piece.shade.name,
    place: piece.place,
    free: showLength(piece.freeTicks, units, 'down'),
    freeTicks: piece.freeTicks,
    usableWidth: showSize(piece.usableWidthTicks, units, 'down'),
    /** what planned batches want of it already; '' where none does */
    planned: planned.has(piece.id) ? showLength(planned.get(piece.id) ?? 0, units, 'near') : '',
    tape: shapeTape({
      name: piece.code,
      onHandTicks: piece.onHandTicks,
      heldTicks: piece.heldTicks,
      neededTicks: needed.ofPieces.get(piece.id)?.neededTicks ?? 0,
      maxTicks,
      units,
    }),
    fields,
  }));
  return { pieces, tapeStep: sayTapeStep(maxTicks, units) };
}
