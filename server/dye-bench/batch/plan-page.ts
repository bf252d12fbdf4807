import type { Card } from '../../../src/dye/card.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { fibreOf } from '../../../src/dye/fibre.ts';
import { showLength, showSize } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { type Choice, withBlank } from '../../kit/choices.ts';
import { clothPath, piecePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { sayTapeStep, shapeTape, type Tape } from '../../kit/tape.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { orProblems } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type ShownCard, showCard } from '../card/show.ts';
import { quickChoices } from '../quick/choices.ts';
import { choosePage } from '../recipe/choose-page.ts';
import { recipePath } from '../recipe/making.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';
import { type DyeablePiece, readDyeablePieces, readGroundCloths, whyNotDyed } from './dyeable.ts';
import { vesselChoices, workOutTyped } from './plan.ts';
import { offersByVessel, stockRows, type VesselOffer, whatToSend } from './plan-offers.ts';
import { placeRows, readPlannedOf } from './plan-rows.ts';

/** Pieces offered at once; where there are more, a cloth is chosen first. */
const MOST_OFFERED = 50;

export interface BatchPlanData {
  readonly requestKey: string;
  readonly recipe: {
    readonly id: number;
    readonly name: string;
    readonly href: string;
    readonly chip: Chip;
    readonly fibre: string;
    readonly dyeClass: string;
    readonly newest: string | null;
  };
  readonly otherRecipe: string;
  /** the same page with dyed pieces too; '' where they are shown */
  readonly dyedToo: string;
  readonly vessels: readonly Choice[];
  readonly cloths: readonly Choice[];
  readonly typed: {
    readonly vessel_id: string;
    readonly due_on: string;
    readonly note: string;
    readonly cloth: string;
    readonly shade: string;
    readonly wanted: string;
    readonly strip: string;
    readonly strips: string;
    readonly swatch: string;
    readonly parts: string;
    readonly scale: string;
    readonly basis: string;
    readonly over: string;
  };
  readonly bases: readonly Choice[];
  /** what goes into the bath, and the strength of stock solution that was typed for it */
  readonly stocks: readonly { readonly index: number; readonly name: string; readonly strength: string }[];
  /** in how many baths each vessel in use would do it, fewest first; empty before it is worked out */
  readonly byVessel: readonly VesselOffer[];
  readonly pieces: readonly OfferedPiece[];
  readonly tapeStep: string;
  /** true where more pieces would do than are offered here */
  readonly more: boolean;
  /** cloths whose undyed ground is free and that this recipe cannot dye, and why */
  readonly refused: readonly { readonly cloth: string; readonly reason: string; readonly href: string }[];
  /** what to send for the length wanted after dyeing; '' where none is asked */
  readonly send: string;
  readonly unit: string;
  /** what was worked out, in words and in plain figures; null before that */
  readonly card: ShownCard | null;
  readonly figures: Card | null;
}

export interface OfferedPiece {
  readonly index: number;
  readonly code: string;
  readonly href: string;
  readonly cloth: string;
  readonly lot: string;
  /** the shade of a piece that is dyed already; '' for an undyed ground */
  readonly dyed: string;
  readonly place: string;
  readonly free: string;
  readonly freeTicks: number;
  readonly usableWidth: string;
  /** what planned batches want of it already; '' where none does */
  readonly planned: string;
  readonly tape: Tape;
  readonly typed: string;
}

/**
 * Planning a batch: first the recipe, then the lengths. Asked with a vessel and lengths in the address, it works the
 * batch out without writing; refused, it keeps what was typed.
 */
export function batchPlanPage(reader: Reader, asker: Asker, typed: Typed, opened: 'asked' | 'refused'): Page {
  const recipeId = /^[1-9][0-9]{0,14}$/.test(typed.recipe_id ?? '') ? Number(typed.recipe_id) : null;
  if (recipeId === null) return choosePage(reader, typed);
  const stored = readRecipe(reader, recipeId);
  const asked = opened === 'asked' && typed.vessel_id !== undefined;
  const { value: card, problems } = orProblems(() => (asked ? workOutTyped(reader, typed, asker) : null));
  return {
    view: 'dye-bench/batch/plan',
    data: shapePlan(reader, asker, stored, typed, card),
    title: 'New batch',
    room: 'dye-bench',
    problems,
  };
}

function shapePlan(
  reader: Reader,
  asker: Asker,
  stored: StoredRecipe,
  typed: Typed,
  card: Card | null,
): BatchPlanData {
  const over = (typed.over ?? '') !== '';
  const all = readGroundCloths(reader, over);
  const onScale = (typed.scale ?? '') !== '';
  const cloths = all.filter((cloth) => whyNotDyed(stored, cloth, onScale) === null);
  const chosen = cloths.filter(({ id }) => String(id) === typed.cloth);
  const clothIds = (chosen.length > 0 ? chosen : cloths).map(({ id }) => id);
  const found = readDyeablePieces(reader, { clothIds, limit: MOST_OFFERED + 1, over });
  const { asked, send } = whatToSend(stored, typed, asker.units);
  return {
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
      over: typed.over ?? '',
    }),
    dyedToo: over ? '' : address('/dye-bench/batches/new', { recipe_id: stored.id, over: 'yes' }),
    vessels: vesselChoices(reader),
    cloths: withBlank(
      cloths.map(({ id, name }) => ({ value: String(id), label: name })),
      'All that take this dye',
    ),
    typed: {
      vessel_id: typed.vessel_id ?? '',
      due_on: typed.due_on ?? '',
      note: typed.note ?? '',
      cloth: chosen.length > 0 ? (typed.cloth ?? '') : '',
      shade: typed.shade ?? '',
      wanted: asked,
      strip: typed.strip ?? '',
      strips: typed.strips ?? '',
      swatch: typed.swatch ?? '',
      parts: typed.parts ?? '',
      scale: typed.scale ?? '',
      basis: typed.basis ?? '',
      over: typed.over ?? '',
    },
    bases: quickChoices().weighed,
    stocks: stockRows(stored, typed),
    byVessel: card ? offersByVessel(reader, stored.recipe, card) : [],
    ...shapePieces(reader, asker, found.slice(0, MOST_OFFERED), typed),
    more: found.length > MOST_OFFERED,
    refused: all.flatMap((cloth) => {
      const why = whyNotDyed(stored, cloth, onScale);
      return why ? [{ cloth: cloth.name, reason: why.reason, href: clothPath(cloth.id) }] : [];
    }),
    send,
    unit: lengthUnit(asker.units),
    card: card ? showCard(card, asker.units) : null,
    figures: card,
  };
}

function shapePieces(
  reader: Reader,
  asker: Asker,
  offered: readonly DyeablePiece[],
  typed: Typed,
): Pick<BatchPlanData, 'pieces' | 'tapeStep'> {
  const rows = placeRows(reader, offered, typed);
  const planned = readPlannedOf(
    reader,
    rows.map(({ piece }) => piece.id),
  );
  const maxTicks = Math.max(1, ...rows.map(({ piece }) => piece.onHandTicks));
  const { units } = asker;
  const pieces = rows.map(({ piece, index, typed: length }) => ({
    index,
    code: piece.code,
    href: piecePath(piece.code),
    cloth: piece.cloth.name,
    lot: piece.lotCode,
    dyed: piece.ground ? '' : piece.shade.name,
    place: piece.place,
    free: showLength(piece.freeTicks, units, 'down'),
    freeTicks: piece.freeTicks,
    usableWidth: showSize(piece.usableWidthTicks, units, 'down'),
    planned: planned.has(piece.id) ? showLength(planned.get(piece.id) ?? 0, units, 'near') : '',
    tape: shapeTape({
      name: piece.code,
      onHandTicks: piece.onHandTicks,
      heldTicks: piece.heldTicks,
      maxTicks,
      units,
    }),
    typed: length,
  }));
  return { pieces, tapeStep: sayTapeStep(maxTicks, units) };
}
