import { z } from 'zod';
import type { Wish } from '../../../src/cut-plan/alternative.ts';
import {
  type Flaw,
  MOST_COPIES,
  MOST_FLAWS,
  MOST_KINDS,
  MOST_PIECES,
  MOST_TICKS,
  meetingPairs,
  type PlanJob,
  type PlanKind,
  type PlanPiece,
} from '../../../src/cut-plan/job.ts';
import { readTypedFlaws } from '../../../src/cut-plan/typed-flaws.ts';
import { MAX_STRIPS } from '../../../src/garment/band.ts';
import { type LengthUnit, TICKS_PER } from '../../../src/quantity/length.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import {
  choiceField,
  field,
  lengthField,
  optionalLength,
  optionalText,
  optionalWhole,
  rowsField,
  wholeField,
} from '../../kit/fields.ts';
import { invalid } from '../../refusal.ts';
import { readForm } from '../../web/post.ts';

export const DIRECTIONS = ['', 'across', 'along', 'either'] as const;
export const LOT_RULES = ['', 'one', 'meet', 'any'] as const;
const WISHES = ['fewest lays', 'longest remnants'] as const;
const UNITS = ['', 'mm', 'cm', 'm', 'in', 'ft', 'yd'] as const;
const SEED = 1;
/** What the cutting table takes at once, where nothing else is said: 3 m. */
const TABLE_TICKS = 3 * TICKS_PER.m;
export const MOST_SECONDS = 60;

/** What was typed, as a job for the planner, with the names that people gave to strips and lots. */
export interface QuickAsked {
  readonly job: PlanJob;
  readonly kindNames: readonly string[];
  /** by the number of a lot in the job */
  readonly lotNames: readonly string[];
  readonly plies: number;
  readonly seconds: number | null;
  readonly wish: Wish | null;
  /** whether it is worked out what would cure a short plan */
  readonly cures: boolean;
}

/** Reads the quick plan's form or JSON. @throws {Refusal} invalid, with every problem at its field */
export function readQuick(body: unknown, units: Units): QuickAsked {
  const { unit: asked = '' } = (body ?? {}) as { unit?: string };
  const bare = UNITS.find((unit) => unit === asked) ?? '';
  const form = readForm(quickForm(bareUnits(bare, units)), body);
  const lotNames = [...new Set(form.pieces.map(({ lot }) => lot))];
  const pieces = form.pieces.map(
    (piece, pieceId): PlanPiece => ({
      pieceId,
      lotId: lotNames.indexOf(piece.lot),
      widthTicks: piece.width.value,
      lengthTicks: piece.length.value,
      flaws: piece.flaws,
      count: piece.count?.value ?? 1,
    }),
  );
  const groups = [...new Set(form.strips.map((strip) => groupOf(strip, form.lot_rule)))];
  const kinds = form.strips.map(
    (strip, kindId): PlanKind => ({
      kindId,
      depthTicks: strip.width.value,
      lengthTicks: strip.length.value,
      count: strip.count.value,
      direction: strip.direction || 'across',
      lots: strip.lots || form.lot_rule || 'any',
      group: groups.indexOf(groupOf(strip, form.lot_rule)),
    }),
  );
  checkTotals(pieces, kinds);
  const job: PlanJob = {
    kinds,
    pieces: pieces.map((piece, i) => ({ ...piece, flaws: onPiece(piece, form.pieces[i]?.flaws ?? [], i) })),
    meets: meetingPairs(readMeets(form.lots_that_meet, lotNames)),
    usefulTicks: form.useful?.value ?? 0,
    tableTicks: form.table?.value ?? TABLE_TICKS,
    flaws: form.flaws === 'skip' ? 'skip' : 'straddle',
    stacks: form.stacks !== 'no',
    seed: form.seed?.value ?? SEED,
  };
  const kindNames = form.strips.map(({ name }, i) => name || `Strip ${i + 1}`);
  return {
    job,
    kindNames,
    lotNames,
    plies: form.plies?.value ?? 1,
    seconds: form.seconds?.value ?? null,
    wish: WISHES.find((wish) => wish === form.wish) ?? null,
    cures: form.cures !== 'no',
  };
}

/** The units of bare numbers: those asked for, else those of the house. */
export function bareUnits(asked: LengthUnit | '', units: Units): { length: LengthUnit; size: LengthUnit } {
  if (asked !== '') return { length: asked, size: asked };
  return units.system === 'metric' ? { length: 'm', size: 'cm' } : { length: 'yd', size: 'in' };
}

function quickForm(bare: { length: LengthUnit; size: LengthUnit }) {
  const most = { max: MOST_TICKS };
  const piece = z.strictObject({
    count: optionalWhole({ min: 1, max: MOST_COPIES }),
    width: lengthField(bare.size, { ...most, what: 'width' }),
    length: lengthField(bare.length, most),
    lot: optionalText({ max: 40 }),
    flaws: z
      .unknown()
      .optional()
      .transform((raw, context): readonly Flaw[] => {
        const read = readTypedFlaws(raw, bare);
        if (read.ok) return read.value;
        context.issues.push({ code: 'custom', message: read.reason, input: raw });
        return z.NEVER;
      }),
  });
  const strip = z.strictObject({
    name: optionalText({ max: 40 }),
    width: lengthField(bare.size, { ...most, what: 'width' }),
    length: lengthField(bare.size, most),
    count: wholeField({ min: 0, max: MAX_STRIPS }),
    direction: choiceField(DIRECTIONS, 'across, along or either'),
    lots: choiceField(LOT_RULES, 'one, meet or any'),
    group: optionalText({ max: 40 }),
  });
  return z.strictObject({
    pieces: rowsField(piece, { max: MOST_PIECES, what: 'pieces' }),
    strips: rowsField(strip, { max: MOST_KINDS, what: 'kinds of strips' }),
    unit: choiceField(UNITS, 'mm, cm, m, in, ft or yd'),
    lot_rule: choiceField(LOT_RULES, 'one, meet or any'),
    lots_that_meet: optionalText({ max: 2000 }),
    useful: optionalLength(bare.size, { ...most, what: 'length' }),
    table: optionalLength(bare.length, { ...most, min: 1, what: 'length' }),
    flaws: choiceField(['', 'straddle', 'skip'], 'straddle or skip'),
    stacks: choiceField(['', 'yes', 'no'], 'yes or no'),
    plies: optionalWhole({ min: 1, max: 100 }),
    wish: choiceField(['', 'least length', ...WISHES], 'least length, fewest lays or longest remnants'),
    cures: choiceField(['', 'yes', 'no'], 'yes or no'),
    seconds: optionalWhole({ min: 1, max: MOST_SECONDS }),
    seed: field((typed, refuse) => {
      if (typed === '') return null;
      return /^[0-9]{1,9}$/.test(typed) ? { value: Number(typed) } : refuse('A seed is a whole number.');
    }),
    act: optionalText({ max: 20 }),
  });
}

/** Strips of one named group match each other; without a name, all that follow the rule of the plan do. */
function groupOf(strip: { group: string; lots: string }, planRule: string): string {
  return `${strip.lots || planRule || 'any'} ${strip.group}`;
}

function checkTotals(pieces: readonly PlanPiece[], kinds: readonly PlanKind[]): void {
  const strips = kinds.reduce((sum, { count }) => sum + count, 0);
  if (strips > MAX_STRIPS) throw invalid('strips', 'A quick plan takes at most 10 000 strips in all.');
  if (strips === 0) throw invalid('strips', 'No strip is wanted.');
  const copies = pieces.reduce((sum, { count }) => sum + count, 0);
  if (copies > MOST_COPIES) throw invalid('pieces', 'A quick plan takes at most 10 000 pieces in all.');
}

function onPiece(piece: PlanPiece, flaws: readonly Flaw[], row: number): Flaw[] {
  if (flaws.length > MOST_FLAWS)
    throw invalid(`pieces.${row}.flaws`, `A piece takes at most ${MOST_FLAWS} flaws.`);
  return flaws.map((flaw) => {
    const toTicks = Math.min(flaw.toTicks, piece.lengthTicks);
    const rightTicks = Math.min(flaw.rightTicks, piece.widthTicks);
    if (flaw.fromTicks >= toTicks || flaw.leftTicks >= rightTicks)
      throw invalid(`pieces.${row}.flaws`, 'This flaw lies beyond the end or the edge of its piece.');
    return { ...flaw, toTicks, rightTicks };
  });
}

/** "A B, C D" gives two groups of lots; every lot of a group may meet every other of it. */
function readMeets(typed: string, lotNames: readonly string[]): number[][] {
  const groups = typed.split(/[,;]/).filter((group) => group.trim() !== '');
  return groups.map((group) =>
    group
      .trim()
      .split(/\s+/)
      .map((name) => {
        const lot = lotNames.indexOf(name);
        if (lot < 0) throw invalid('lots_that_meet', `No piece is of lot ${name}.`);
        return lot;
      }),
  );
}
