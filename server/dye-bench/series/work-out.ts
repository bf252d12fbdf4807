import { NOTHING_ASKED } from '../../../src/dye/batch-amounts.ts';
import { lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import type { Card } from '../../../src/dye/card.ts';
import { type DealtStep, dealLots, type UndyedLot } from '../../../src/dye/deal-lots.ts';
import { type SeriesStep, seriesSteps, whyNotTogether } from '../../../src/dye/series.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { findNamed, nameKey } from '../../kit/same-name.ts';
import { listed } from '../../kit/words.ts';
import { invalid, type Problem, refuseAny } from '../../refusal.ts';
import { type DyeablePiece, readDyeablePieces, readDyeCloths, whyNotDyed } from '../batch/dyeable.ts';
import { type TypedLength, workOutBatch } from '../batch/plan.ts';
import { readPlannedOf } from '../batch/plan-rows.ts';
import { readRecipe, type StoredRecipe } from '../recipe/store.ts';
import { readVessel } from '../vessels/store.ts';
import { depthsOf, type SeriesForm } from './form.ts';

/** One step as it will be made. */
export interface WorkedStep extends SeriesStep {
  /** null for a new shade of that name */
  readonly shadeId: number | null;
  readonly shadeName: string;
  /** what is wanted after dyeing, as it was typed; null where the step gets no batch yet */
  readonly length: { readonly value: number; readonly typed: string } | null;
  readonly lengths: readonly TypedLength[];
  readonly mixed: boolean;
  readonly card: Card | null;
}

export interface WorkedSeries {
  readonly source: StoredRecipe;
  readonly target: StoredRecipe | null;
  readonly steps: readonly WorkedStep[];
}

/**
 * Works a series out without writing: each step's recipe, the lots dealt to the steps, and each batch.
 * @throws {Refusal} invalid, by field, where recipes do not go together, a step fits no lot or a bath cannot be had
 */
export function workOutSeries(
  reader: Reader,
  form: SeriesForm,
  { units, leastTicks }: { readonly units: Units; readonly leastTicks: ReadonlyMap<number, number> },
): WorkedSeries {
  const source = readRecipe(reader, form.from_recipe_id);
  const target = form.to_recipe_id === null ? null : readRecipe(reader, form.to_recipe_id);
  const apart = target ? whyNotTogether(source, target) : '';
  if (apart !== '') throw invalid('to_recipe_id', apart);
  const steps = seriesSteps(source, target, depthsOf(form));
  const cloth = readDyeCloths(reader, [form.cloth_id]).get(form.cloth_id);
  const cannot = cloth ? whyNotDyed(reader, source, cloth) : null;
  if (cannot) throw invalid('cloth_id', cannot.reason);
  const asked = steps.map((step, at) => askedStep(form, at, step));
  refuseShades(reader, asked);
  const pieces = freePieces(reader, form.cloth_id);
  const wanted = asked.map(({ shadeId, length }) => ({
    lengthTicks: length ? lengthToPrepareTicks(length.value, source.shrinkageBp) : 0,
    leastTicks: (shadeId === null ? undefined : leastTicks.get(shadeId)) ?? 1,
  }));
  const dealt = dealLots(wanted, lotsOf(pieces), form.mixing);
  refuseUndealt(form, { wanted, dealt, pieces, units });
  const vessel = readVessel(reader, form.vessel_id);
  const worked = asked.map((step, at): WorkedStep => {
    const lengths = (dealt[at]?.lengths ?? []).flatMap(({ pieceId, lengthTicks }): TypedLength[] => {
      const piece = pieces.find(({ id }) => id === pieceId);
      return piece ? [{ piece, lengthTicks, typed: '' }] : [];
    });
    const mixed = dealt[at]?.mixed ?? false;
    if (lengths.length === 0) return { ...step, lengths, mixed, card: null };
    const stored = { ...source, recipe: step.recipe, shade: { ...source.shade, name: step.shadeName } };
    const bathed = workOutBatch(reader, stored, { vessel, lengths, asked: NOTHING_ASKED });
    if (!bathed.ok) throw invalid('vessel_id', `${step.shadeName}: ${bathed.reason}`);
    return { ...step, lengths, mixed, card: bathed.card };
  });
  return { source, target, steps: worked };
}

/** What is asked of a step: its shade, which may be new, and its length. */
function askedStep(form: SeriesForm, at: number, step: SeriesStep) {
  const row = form.rows.find(({ place }) => place === at);
  const named = row?.shade_name ?? '';
  return {
    ...step,
    shadeId: row?.shade_id ?? null,
    shadeName: named === '' ? `${form.name} ${at + 1}` : named,
    length: row?.length ?? null,
  };
}

type AskedStep = ReturnType<typeof askedStep>;

/** Each step is of a shade of its own, and a new one has a new name. */
function refuseShades(reader: Reader, steps: readonly AskedStep[]): void {
  const problems: Problem[] = [];
  steps.forEach(({ shadeId, shadeName }, at) => {
    const before = steps.slice(0, at);
    if (shadeId === null) {
      const known = findNamed(reader, 'shade', shadeName);
      const twice = before.some(
        (each) => each.shadeId === null && nameKey(each.shadeName) === nameKey(shadeName),
      );
      if (known || twice)
        problems.push({
          field: `rows.${at}.shade_name`,
          message: known
            ? `There is a shade ${known.name} already: choose it, or take another name.`
            : 'Two steps have this name: each is a shade of its own.',
        });
    } else if (before.some((each) => each.shadeId === shadeId)) {
      problems.push({
        field: `rows.${at}.shade_id`,
        message: 'An earlier step has this shade already: choose another.',
      });
    }
  });
  refuseAny(problems);
}

/** Undyed lengths of a cloth, less what planned batches want of them already. */
function freePieces(reader: Reader, clothId: number): DyeablePiece[] {
  const pieces = readDyeablePieces(reader, { clothIds: [clothId] });
  const planned = readPlannedOf(
    reader,
    pieces.map(({ id }) => id),
  );
  return pieces.flatMap((piece) => {
    const freeTicks = piece.freeTicks - (planned.get(piece.id) ?? 0);
    return freeTicks > 0 ? [{ ...piece, freeTicks }] : [];
  });
}

function lotsOf(pieces: readonly DyeablePiece[]): UndyedLot[] {
  const lotIds = [...new Set(pieces.map(({ lotId }) => lotId))];
  return lotIds.map((lotId) => ({
    lotId,
    pieces: pieces
      .filter((piece) => piece.lotId === lotId)
      .map(({ id, freeTicks }) => ({ pieceId: id, freeTicks })),
  }));
}

/** Says of each step that no lot holds how much it takes, and what each lot has. */
function refuseUndealt(
  { mixing }: SeriesForm,
  {
    wanted,
    dealt,
    pieces,
    units,
  }: {
    readonly wanted: readonly { readonly lengthTicks: number }[];
    readonly dealt: readonly DealtStep[];
    readonly pieces: readonly DyeablePiece[];
    readonly units: Units;
  },
): void {
  const lots = new Map<string, number>();
  for (const { lotCode, freeTicks } of pieces) lots.set(lotCode, (lots.get(lotCode) ?? 0) + freeTicks);
  const free = [...lots].map(([code, ticks]) => `${showLength(ticks, units, 'down')} of ${code}`);
  const what = free.length === 0 ? 'Nothing undyed of this cloth is free' : `Free undyed: ${listed(free)}`;
  const ways = mixing ? 'give less, or get more cloth' : 'give less, or let a step take two lots';
  refuseAny(
    wanted.flatMap(({ lengthTicks }, at) =>
      lengthTicks === 0 || (dealt[at]?.lengths.length ?? 0) > 0
        ? []
        : [
            {
              field: `rows.${at}.length`,
              message: `${showLength(lengthTicks, units, 'up')} go in for this step, and no one lot holds that beside the others. ${what}: ${ways}.`,
            },
          ],
    ),
  );
}
