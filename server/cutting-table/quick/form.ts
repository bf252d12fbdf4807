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
import { asked, unasked } from '../../kit/form-drawing.ts';
import { invalid } from '../../refusal.ts';
import { readForm } from '../../web/post.ts';

const DIRECTIONS = ['', 'across', 'along', 'either'] as const;
const LOT_RULES = ['', 'one', 'meet', 'any'] as const;
const WISHES = ['fewest lays', 'longest remnants'] as const;
const UNITS = ['', 'mm', 'cm', 'm', 'in', 'ft', 'yd'] as const;
const SEED = 1;
/** What the cutting table takes at once, where nothing else is said: 3 m. */
const TABLE_TICKS = 3 * TICKS_PER.m;
const MOST_SECONDS = 60;

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
  const { unit } = (body ?? {}) as { unit?: string };
  const form = readForm(z.strictObject(quickFields(bareUnits(unit, units))), body);
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
export function bareUnits(named: string | undefined, units: Units): { length: LengthUnit; size: LengthUnit } {
  const unit = UNITS.find((one) => one === named) ?? '';
  if (unit !== '') return { length: unit, size: unit };
  return units.system === 'metric' ? { length: 'm', size: 'cm' } : { length: 'yd', size: 'in' };
}

/** What is asked of a quick plan. A choice that is left blank is the first of its options. */
export function quickFields(bare: { length: LengthUnit; size: LengthUnit }) {
  const most = { max: MOST_TICKS };
  const piece = z.strictObject({
    count: optionalWhole({ min: 1, max: MOST_COPIES, label: 'How many' }),
    width: lengthField(bare.size, { ...most, label: 'Usable width' }),
    length: lengthField(bare.length, { ...most, label: 'Length' }),
    lot: optionalText({ max: 40, label: 'Lot', size: 'short' }),
    flaws: flawsField(bare),
  });
  const strip = z.strictObject({
    name: optionalText({ max: 40, label: 'Name', size: 'short' }),
    width: lengthField(bare.size, { ...most, label: 'Width' }),
    length: lengthField(bare.size, { ...most, label: 'Length' }),
    count: wholeField({ min: 0, max: MAX_STRIPS, label: 'How many' }),
    direction: choiceField(DIRECTIONS, 'across, along or either', {
      label: 'Length lies',
      size: 'short',
      options: [
        { value: '', label: 'across' },
        { value: 'along', label: 'along' },
        { value: 'either', label: 'either' },
      ],
    }),
    lots: choiceField(LOT_RULES, 'one, meet or any', {
      label: 'Lots',
      size: 'short',
      options: [{ value: '', label: 'as the plan' }, ...SAME_LOTS, { value: 'any', label: 'any lot' }],
    }),
    group: optionalText({ max: 40 }),
  });
  return {
    pieces: rowsField(piece, { max: MOST_PIECES, what: 'pieces' }),
    strips: rowsField(strip, { max: MOST_KINDS, what: 'kinds of strips' }),
    unit: choiceField(UNITS, 'mm, cm, m, in, ft or yd'),
    lot_rule: choiceField(LOT_RULES, 'one, meet or any', {
      label: 'Strips come from',
      options: [{ value: '', label: 'any lot' }, ...SAME_LOTS],
    }),
    lots_that_meet: optionalText({
      max: 2000,
      label: 'Matching lots',
      hint: 'A B, C D: A matches B, and C matches D.',
    }),
    useful: optionalLength(bare.size, {
      ...most,
      label: 'Shortest useful remnant',
    }),
    table: optionalLength(bare.length, {
      ...most,
      min: 1,
      label: 'Length of the table',
      hint: 'Blank: 3 m.',
    }),
    flaws: choiceField(['', 'straddle', 'skip'], 'straddle or skip', {
      label: 'At a flaw',
      options: [
        { value: '', label: 'a lay may run past it' },
        { value: 'skip', label: 'every lay ends before it' },
      ],
    }),
    stacks: choiceField(['', 'yes', 'no'], 'yes or no', {
      label: 'In one lay',
      options: [
        { value: '', label: 'strips may lie behind each other' },
        { value: 'no', label: 'side by side only' },
      ],
    }),
    plies: optionalWhole({ min: 1, max: 100, label: 'Plies cut at once' }),
    wish: choiceField(['', 'least length', ...WISHES], 'least length, fewest lays or longest remnants', {
      label: 'Plan for',
      hint: 'Fewer lays or longer remnants may take up to a tenth more cloth.',
      options: [
        { value: '', label: 'least length' },
        { value: 'fewest lays', label: 'fewest different lays' },
        { value: 'longest remnants', label: 'longest remnants' },
      ],
    }),
    cures: choiceField(['', 'yes', 'no'], 'yes or no', {
      label: 'Where strips are short',
      options: [
        { value: '', label: 'work out ways to fix it' },
        { value: 'no', label: 'only say that they are' },
      ],
    }),
    seconds: optionalWhole({
      min: 1,
      max: MOST_SECONDS,
      label: 'Seconds to try harder',
      hint: 'Up to 60. Blank: about two.',
    }),
    seed: field((typed, refuse) => {
      if (typed === '') return null;
      return /^[0-9]{1,9}$/.test(typed)
        ? { value: Number(typed) }
        : refuse('Enter a whole number, such as 7.');
    }),
    act: unasked(optionalText({ max: 20 })),
  };
}

const SAME_LOTS = [
  { value: 'one', label: 'one lot' },
  { value: 'meet', label: 'matching lots' },
];

/** Flaws as a text, or as a script lists them. */
function flawsField(bare: { length: LengthUnit; size: LengthUnit }) {
  const read = z
    .unknown()
    .optional()
    .transform((raw, context): readonly Flaw[] => {
      const flaws = readTypedFlaws(raw, bare);
      if (flaws.ok) return flaws.value;
      context.issues.push({ code: 'custom', message: flaws.reason, input: raw });
      return z.NEVER;
    });
  return asked(read, { label: 'Flaws', maxlength: 400, required: false });
}

/** Strips of one named group match each other; without a name, all that follow the rule of the plan do. */
function groupOf(strip: { group: string; lots: string }, planRule: string): string {
  return `${strip.lots || planRule || 'any'} ${strip.group}`;
}

function checkTotals(pieces: readonly PlanPiece[], kinds: readonly PlanKind[]): void {
  const strips = kinds.reduce((sum, { count }) => sum + count, 0);
  if (strips > MAX_STRIPS) throw invalid('strips', 'A quick plan takes at most 10 000 strips in all.');
  if (strips === 0) throw invalid('strips', 'Enter at least one strip.');
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
      throw invalid(
        `pieces.${row}.flaws`,
        'This flaw lies beyond the end or the edge of its piece: enter a place within it.',
      );
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
