import { z } from 'zod';
import type { CardVessel } from '../../../src/dye/batch.ts';
import type { AmountsAsked } from '../../../src/dye/batch-amounts.ts';
import { lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import { type Card, type CardWorkedOut, workOutCard } from '../../../src/dye/card.ts';
import type { Warning } from '../../../src/dye/dye-advice.ts';
import { benchOf } from '../../../src/dye/measuring.ts';
import { wholeStrips } from '../../../src/dye/splitting.ts';
import { fillMl, MOST_BATHS } from '../../../src/dye/vessel.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { apportion } from '../../../src/quantity/money.ts';
import { type Answer, nextId, type Reader, type Tx } from '../../database/book.ts';
import { chosenField, optionalChosen } from '../../kit/choices.ts';
import {
  idField,
  optionalDay,
  optionalLength,
  optionalText,
  optionalWhole,
  textField,
  tickField,
} from '../../kit/fields.ts';
import { asked } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { wordFor } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { invalid, type Problem, refuseAny } from '../../refusal.ts';
import { readWater } from '../../setup/water/store.ts';
import { readBody } from '../../web/body.ts';
import type { Asker } from '../../web/house.ts';
import { readForm } from '../../web/post.ts';
import { sayDye } from '../dyes/store.ts';
import { numberedRows } from '../numbered-rows.ts';
import { inBathWith, OWN, readRecipe, type StoredRecipe, sayMark } from '../recipe/store.ts';
import { swatchStandings } from '../swatch/standing.ts';
import { readVessels, type Vessel, vesselChoices } from '../vessels/store.ts';
import { readBathsBefore } from './baths-before.ts';
import { type DyeablePiece, readPiecesToDye, whyNotDyed } from './dyeable.ts';
import { amountFields, amountsAsked, keepAmounts } from './plan-amounts.ts';
import { keepBathPlan } from './pots.ts';

/** Lengths in one batch at most. */
export const MOST_LENGTHS = 100;

/** Pots that may be named beside the vessel. */
export const MOST_POTS = 5;

/** What goes into the pot of one piece. */
export function lengthFields({ units }: Asker) {
  const unit = lengthUnit(units);
  return {
    piece: textField({ max: 40, what: 'The piece' }),
    length: optionalLength(unit, {
      min: 1,
      max: MOST_LENGTH_TICKS,
      what: 'length',
      label: `Length to dye (${unit})`,
    }),
    bath: optionalWhole({ min: 1, max: MOST_BATHS, label: 'Bath', what: 'bath' }),
  };
}

/**
 * What a batch is planned from. Rows without a length do not count; `cloth`, `shade` and `wanted` only narrow the
 * page.
 */
export function batchPlanForm(reader: Reader, asker: Asker) {
  return z.strictObject({
    recipe_id: idField('a recipe'),
    vessel_id: chosenField(vesselChoices(reader), 'a vessel', { label: 'Vessel' }),
    pieces: numberedRows(lengthFields(asker), { min: 0, max: MOST_LENGTHS, what: 'lengths' }),
    pots: numberedRows(
      { vessel_id: optionalChosen(vesselChoices(reader), 'a vessel', { label: 'Pot', blank: 'none' }) },
      { min: 0, max: MOST_POTS, what: 'pots' },
    ),
    ...amountFields(asker.units),
    due_on: optionalDay({ label: 'Wanted by' }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', kind: 'text', size: 'long' }),
    cloth: asked(optionalText({ max: 20 }), {
      label: 'Cloths shown',
      kind: 'select',
      filter: true,
    }),
    shade: optionalText({ max: 20 }),
    wanted: optionalText({
      max: 64,
      label: 'Length wanted after dyeing',
      size: 'short',
      unit: lengthUnit(asker.units),
    }),
    over: tickField({
      label: 'Dyed pieces too, to overdye their shade',
    }),
  });
}

export type PlanForm = z.output<ReturnType<typeof batchPlanForm>>;

/** Writes a batch down as planned. Nothing is promised by that: pieces stay free until it starts. */
export function planBatch(tx: Tx, form: PlanForm, units: Units): Answer {
  const { stored, lengths, asked, pots } = workOutPlan(tx, form, units);
  const { recipe_id: recipeId, vessel_id: vesselId, note, due_on: dueOn } = form;
  const { id, code } = insertBatch(tx, { recipeId, vesselId, note, dueOn, lengths });
  keepAmounts(tx, id, asked);
  for (const [at, vessel] of pots.entries()) {
    keepBathPlan(tx, id, at + 1, { vesselId: vessel.id, beginsAt: null });
  }
  const inAll = lengths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  return {
    location: batchPath(code),
    said: `${code} is planned: ${sayLengthCount(lengths.length)}, ${showLength(inAll, units, 'near')} in all, for ${stored.shade.name}. Nothing is sent yet.`,
  };
}

/** Writes a batch and its lengths down, as they were worked out. */
export function insertBatch(
  tx: Tx,
  batch: {
    readonly recipeId: number;
    readonly vesselId: number;
    readonly note: string;
    readonly dueOn: string | null;
    readonly lengths: readonly TypedLength[];
  },
): { readonly id: number; readonly code: string } {
  const code = `D${nextId(tx, 'batch')}`;
  const { lastId: id } = tx.run(
    tx.db.insertInto('batch').values({
      code,
      recipe_id: batch.recipeId,
      vessel_id: batch.vesselId,
      note: batch.note,
      due_on: batch.dueOn,
      planned_at: tx.at,
      person_id: tx.personId,
      cancelled_at: null,
      cancelled_by: null,
      card: null,
    }),
  );
  for (const { piece, lengthTicks, typed, bath } of batch.lengths) {
    const values = { batch_id: id, piece_id: piece.id, length_ticks: lengthTicks, typed, bath: bath ?? null };
    tx.run(tx.db.insertInto('batch_piece').values(values));
  }
  return { id, code };
}

export function sayLengthCount(lengths: number): string {
  return wordFor(lengths, 'one length', `${lengths} lengths`);
}

/** A length as it was typed for a batch. */
export interface TypedLength {
  readonly piece: DyeablePiece;
  readonly lengthTicks: number;
  readonly typed: string;
  /** the bath that it is put into, where that is not left to the plan */
  readonly bath?: number | null;
}

interface Plan {
  readonly stored: StoredRecipe;
  readonly lengths: readonly TypedLength[];
  readonly card: Card;
  readonly asked: AmountsAsked;
  /** the pot of each bath, where several are named */
  readonly pots: readonly Vessel[];
}

/**
 * Works out what is typed, without writing. @throws {Refusal} invalid, by field, where a length cannot be had or a
 * cloth cannot be dyed so
 */
function workOutPlan(reader: Reader, form: PlanForm, units: Units): Plan {
  const stored = inBathWith(readRecipe(reader, form.recipe_id), form.also ?? []);
  const vessel = readVessels(reader).find(({ id }) => id === form.vessel_id);
  if (!vessel) throw invalid('vessel_id', 'Choose a vessel.');
  const rows = form.pieces.flatMap(({ place, piece, length, bath }) =>
    length ? [{ place, code: piece, length, bath }] : [],
  );
  if (rows.length === 0) throw invalid('pieces', 'Give the length to dye of at least one piece.');
  const found = new Map(
    readPiecesToDye(
      reader,
      rows.map(({ code }) => code),
    ).map((piece) => [piece.code, piece]),
  );
  const problems: Problem[] = [];
  const asked = amountsAsked(form, problems);
  const pots = potsNamed(reader, vessel, form);
  const seen = new Set<string>();
  const lengths = rows.flatMap(({ place, code, length, bath }) => {
    const piece = found.get(code);
    const refuse = (message: string) => problems.push({ field: `pieces.${place}.length`, message });
    if (!piece) {
      refuse(`There is no piece ${code}: check the code.`);
      return [];
    }
    const show = (ticks: number) => showLength(ticks, units, 'down');
    const cannot = whyNotDyed(reader, stored, piece.cloth, asked.scaleMg !== null);
    if (seen.has(code)) refuse(`${code} is named twice: give one length for it.`);
    else if (!piece.ground && !form.over) {
      refuse(`${code} is ${piece.shade.name}, dyed already: tick “dyed pieces too” to overdye it.`);
    } else if (cannot) refuse(cannot.reason);
    else if (length.value > piece.freeTicks) {
      refuse(
        `${show(length.value)} is more than is free of ${code}: enter ${show(piece.freeTicks)} or less.`,
      );
    }
    seen.add(code);
    return [{ piece, lengthTicks: length.value, typed: length.typed, bath: bath?.value ?? null }];
  });
  const mostLine = stored.recipe.dyes.length + stored.recipe.auxiliaries.length;
  for (const { line } of asked.stocks) {
    if (line >= mostLine)
      problems.push({
        field: 'stocks',
        message: 'The recipe has no such line: choose one of its dyes or chemicals.',
      });
  }
  refuseAny(problems);
  const shared = sharedOverPots(stored, asked, pots, lengths);
  const worked = workOutBatch(reader, stored, { vessel, pots, lengths, asked: shared });
  if (!worked.ok) throw invalid(FIELDS[worked.at], worked.reason);
  return { stored, lengths, card: worked.card, asked: shared, pots };
}

/** The pot of each bath where more than one is named: the vessel is that of the first. */
function potsNamed(reader: Reader, vessel: Vessel, form: PlanForm): Vessel[] {
  const all = readVessels(reader);
  const named = form.pots.flatMap(({ vessel_id: id }) => all.find((each) => each.id === id) ?? []);
  return named.length === 0 ? [] : [vessel, ...named];
}

/** Shares by what each pot may hold, in whole strips where they are counted; as they are where somebody said them. */
function sharedOverPots(
  { recipe, shrinkageBp }: StoredRecipe,
  asked: AmountsAsked,
  pots: readonly Vessel[],
  lengths: readonly TypedLength[],
): AmountsAsked {
  const placed = lengths.some(({ bath }) => bath != null);
  if (pots.length === 0 || asked.parts.length > 0 || placed) return asked;
  const holds = pots.map(({ volumeMl }) => fillMl(volumeMl, recipe.temperatureC));
  if (asked.stripTicks === null) return { ...asked, parts: holds };
  const strips = wholeStrips(
    lengths.map(({ lengthTicks }) => lengthTicks),
    lengthToPrepareTicks(asked.stripTicks, shrinkageBp),
  );
  const parts = apportion(strips, holds);
  return parts.every((part) => part > 0) ? { ...asked, parts } : asked;
}

const FIELDS = {
  strip: 'strip',
  mass: 'pieces',
  baths: 'pieces',
  vessel: 'vessel_id',
  parts: 'parts',
  stocks: 'stocks',
} as const;

/** Works out a batch with this workroom's balance and what its list of dyes says. */
export function workOutBatch(
  reader: Reader,
  stored: StoredRecipe,
  batch: {
    readonly vessel: Vessel;
    /** the pot of each bath, where any has one of its own */
    readonly pots?: readonly (Vessel | null)[];
    readonly lengths: readonly TypedLength[];
    readonly asked: AmountsAsked;
  },
): CardWorkedOut {
  const { recipe, dyesOnList, auxiliaryMarks } = stored;
  const sources = [
    ...recipe.dyes.map((_, at) => sayDye(dyesOnList[at])),
    ...recipe.auxiliaries.map((_, at) => sayMark(auxiliaryMarks[at] ?? OWN)),
  ];
  const bench = readWorkroom(reader);
  const vessel = vesselOnCard(batch.vessel);
  const pieces = batch.lengths.map(({ piece }) => piece);
  const named = batch.pots ?? [];
  const pots = named.map((pot) => pot && vesselOnCard(pot));
  const used = new Map([batch.vessel, ...named.flatMap((pot) => pot ?? [])].map((pot) => [pot.id, pot]));
  const before = readBathsBefore(reader, [...used.values()], pieces);
  const water = readWater(reader);
  const worked = workOutCard(stored, { ...batch, vessel, pots, before, ...benchOf(bench), water, sources });
  if (!worked.ok) return worked;
  const { card } = worked;
  const standings = swatchStandings(reader, stored, pieces);
  const unproved = standings.flatMap(({ warning }) => warning ?? []);
  return { ok: true, card: { ...card, warnings: [...unproved, ...otherLabels(stored), ...card.warnings] } };
}

/** Dyes of one bath whose labels say something else than the one that it is worked by. */
function otherLabels({ labelled }: StoredRecipe): Warning[] {
  if (!labelled || labelled.others.length === 0) return [];
  const text = `The bath is worked by the label of ${labelled.dye}; that of ${labelled.others.join(' and ')} says something else: read it first.`;
  return [{ id: 'label-others', text, source: 'our rule: the label of the largest share' }];
}

/** The card of the batch that was typed. @throws {Refusal} invalid */
export function workOutTyped(reader: Reader, typed: Typed, asker: Asker): Card {
  const form = readForm(batchPlanForm(reader, asker), readBody(typed).body);
  return workOutPlan(reader, form, asker.units).card;
}

/** A vessel as the card tells it. */
export function vesselOnCard(vessel: Vessel): CardVessel {
  const { name, volumeMl, material, emptyMg, heaterKind, watts } = vessel;
  return { name, volumeMl, material, emptyMg, heaterKind, watts };
}
