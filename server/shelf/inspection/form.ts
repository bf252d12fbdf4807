import { z } from 'zod';
import { readSwatchArea } from '../../../src/buying/swatch.ts';
import { MOST_LENGTH_TICKS, TICKS_PER } from '../../../src/quantity/length.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import type { Answer, Tx } from '../../database/book.ts';
import {
  lengthField,
  optionalLength,
  optionalReading,
  optionalText,
  rowsField,
  tickField,
} from '../../kit/fields.ts';
import { piecePath } from '../../kit/paths.ts';
import { storeTyped, type Typed, withUnits } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { type FoundFlaw, storeFoundFlaws } from '../../ledger/inspected.ts';
import { type PieceState, readPiece } from '../../ledger/state.ts';
import { recountPiece } from '../../ledger/verbs.ts';
import { conflict, type Problem, refuseAny } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { MOST_WIDTH_TICKS } from '../cloth/form.ts';
import { putFlaw } from '../piece/flaw-form.ts';
import { type GradingRule, isUsed, readInspections } from './store.ts';

const FLAW_ROWS = 3;
const MOST_FOUND_FLAWS = 60;
/** How far a flaw reaches across the piece to each side of where it was found. */
const SPOT_TICKS = TICKS_PER.cm;

/** What is measured and found on a piece that came. */
export function inspectionFields({ units }: Asker) {
  const unit = lengthUnit(units);
  const size = sizeUnit(units);
  const along = { max: MOST_LENGTH_TICKS, what: 'length' };
  const flaw = z.strictObject({
    from: lengthField(unit, { min: 0, ...along, label: 'From the free end', filter: true }),
    length: lengthField(size, { ...along, label: 'Long', filter: true }),
    hole: tickField({ label: 'A hole' }),
    left: optionalLength(size, {
      max: MOST_WIDTH_TICKS,
      what: 'width',
      label: 'From the left edge',
      filter: true,
    }),
    what: optionalText({
      max: 80,
      label: 'What it is',
      size: 'short',
      filter: true,
      suggest: ['slub', 'stain', 'pulled thread', 'crease', 'shade bar'],
    }),
  });
  return {
    marked: optionalLength(unit, { min: 1, ...along, label: 'Ordered or on its ticket' }),
    length: lengthField(unit, { max: MOST_LENGTH_TICKS, label: 'Length as measured' }),
    width: lengthField(size, { max: MOST_WIDTH_TICKS, label: 'Width as measured' }),
    swatch_area: optionalReading((typed) => readSwatchArea(typed, size === 'cm' ? 'cm²' : 'in²'), {
      label: 'Swatch',
      unit: size === 'cm' ? 'cm²' : 'sq in',
    }),
    swatch_mass: optionalReading((typed) => readMass(typed, 'g'), { label: 'Its mass', unit: 'g' }).refine(
      (massMg) => massMg === null || (massMg > 0 && massMg <= 1_000_000_000),
      'This is no mass of a swatch.',
    ),
    flaws: rowsField(flaw, {
      min: 0,
      max: MOST_FOUND_FLAWS,
      what: 'flaws',
      rows: FLAW_ROWS,
      spare: FLAW_ROWS,
    }),
    note: optionalText({ max: 500, label: 'Note' }),
  };
}

export function inspectionForm(asker: Asker) {
  return z.strictObject(inspectionFields(asker)).transform((form, context) => {
    if ((form.swatch_area === null) !== (form.swatch_mass === null)) {
      const open = form.swatch_area === null ? 'swatch_area' : 'swatch_mass';
      const message = 'A swatch has an area and a mass: give both, or neither.';
      context.issues.push({ code: 'custom', path: [open], message, input: form });
    }
    return form;
  });
}

type InspectionForm = z.output<ReturnType<typeof inspectionForm>>;

/**
 * Writes down what was measured and found on a piece as it came. A length that measures otherwise is counted anew, and
 * the flaws are marked on the piece, in the place of those that an earlier inspection marked.
 */
export function inspectPiece(
  tx: Tx,
  pieceId: number,
  form: InspectionForm,
  rule: GradingRule,
  typed: Typed,
  asker: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  refuseIfUsed(tx, piece);
  refuseBeyond(form);
  if (form.length.value !== piece.onHandTicks) {
    const why = 'Measured when it was inspected.';
    recountPiece(tx, pieceId, { lengthTicks: form.length.value, typed: form.length.typed, why });
  }
  strikeEarlier(tx, pieceId);
  const flaws = form.flaws.map((flaw) => found(tx, piece, flaw, form.length.value));
  tx.run(
    tx.db.insertInto('inspection').values({
      piece_id: pieceId,
      marked_ticks: form.marked?.value ?? null,
      length_ticks: form.length.value,
      width_ticks: form.width.value,
      swatch_area_mm2: form.swatch_area,
      swatch_mass_mg: form.swatch_mass,
      flaws: storeFoundFlaws(flaws),
      holes: rule.holes,
      most_points: rule.mostPoints,
      short_bp: rule.shortBp,
      note: form.note,
      // The request key stays beside what was typed: by that an undone count takes its inspection with it.
      typed: storeTyped({
        ...withUnits(typed, asker.units, {
          lengths: /^(marked|length)$|\.from$/,
          sizes: /^width$|\.(length|left)$/,
        }),
        request_key: tx.requestKey,
      }),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: `${piecePath(piece.code)}/inspections`, said: `${piece.code} is inspected.` };
}

function refuseIfUsed(tx: Tx, piece: PieceState): void {
  if (!isUsed(tx, piece)) return;
  throw conflict(
    `${piece.code} was cut since, so it can no longer be inspected as it came. What was found on it then stays in the book.`,
    { text: `See ${piece.code}`, href: piecePath(piece.code) },
  );
}

function refuseBeyond(form: InspectionForm): void {
  const problems: Problem[] = form.flaws.flatMap((flaw, row) =>
    flaw.from.value >= form.length.value
      ? [{ field: `flaws.${row}.from`, message: 'The piece is not so long: enter a place within it.' }]
      : (flaw.left?.value ?? 0) >= form.width.value
        ? [{ field: `flaws.${row}.left`, message: 'The piece is not so wide: enter a place within it.' }]
        : [],
  );
  refuseAny(problems);
}

function strikeEarlier(tx: Tx, pieceId: number): void {
  const ids = readInspections(tx, [pieceId])
    .get(pieceId)
    ?.flaws.map(({ flawId }) => flawId);
  if (!ids || ids.length === 0) return;
  tx.run(
    tx.db
      .updateTable('piece_flaw')
      .set({ struck_at: tx.at, struck_by: tx.personId })
      .where('id', 'in', ids)
      .where('struck_at', 'is', null),
  );
}

/** Marks a flaw on a piece that is `lengthTicks` long by now. */
function found(
  tx: Tx,
  piece: PieceState,
  flaw: InspectionForm['flaws'][number],
  lengthTicks: number,
): FoundFlaw {
  const what = flaw.what || (flaw.hole ? 'hole' : 'flaw');
  const widthTicks = piece.usableWidthTicks;
  const leftTicks = flaw.left === null ? null : Math.min(flaw.left.value, widthTicks - 1);
  const place = {
    fromTicks: flaw.from.value,
    toTicks: Math.min(flaw.from.value + flaw.length.value, lengthTicks),
    leftTicks: leftTicks === null ? 0 : Math.max(0, leftTicks - SPOT_TICKS),
    rightTicks: leftTicks === null ? widthTicks : Math.min(widthTicks, leftTicks + SPOT_TICKS),
  };
  return {
    fromTicks: flaw.from.value,
    lengthTicks: flaw.length.value,
    hole: flaw.hole,
    leftTicks: flaw.left?.value ?? null,
    what,
    flawId: putFlaw(tx, piece, place, what),
  };
}
