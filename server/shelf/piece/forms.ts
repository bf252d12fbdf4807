import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { type Choice, optionalChosen, placeChoices } from '../../kit/choices.ts';
import {
  lengthField,
  optionalLength,
  optionalMoney,
  optionalText,
  type Quantity,
  textField,
  tickField,
} from '../../kit/fields.ts';
import { lotPath, piecePath } from '../../kit/paths.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { readPiece } from '../../ledger/state.ts';
import { recountPiece, returnLength, splitPiece, writeOffLength } from '../../ledger/verbs.ts';
import { conflict, invalid } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { MOST_WIDTH_TICKS } from '../cloth/form.ts';
import { MOST_COST_MINOR } from '../receive/rows.ts';

/** The small forms of a piece's page: each posts to a resource of its own. */
export const PIECE_FORMS = {
  split: {
    resource: 'splits',
    title: 'Split off a length',
    hint: 'It gets a code of its own.',
    button: 'Split off',
  },
  move: { resource: 'moves', title: 'Move', hint: '', button: 'Move' },
  recount: {
    resource: 'recounts',
    title: 'Recount',
    hint: 'Measure the whole piece.',
    button: 'Enter the count',
  },
  width: {
    resource: 'widths',
    title: 'Measure its width again',
    hint: 'Without selvedges. Lays of cut plans that need more width are taken back.',
    button: 'Enter the width',
  },
  'write-off': { resource: 'write-offs', title: 'Write off', hint: '', button: 'Write off' },
  return: { resource: 'returns', title: 'Return to supplier', hint: '', button: 'Return' },
} as const;

export type PieceFormName = keyof typeof PIECE_FORMS;
/** In the order in which the page offers them. */
export const PIECE_FORM_NAMES = Object.keys(PIECE_FORMS) as PieceFormName[];

const MOST_WHY = 200;

/** Who fills the forms of a piece in: their units, and the workroom's money. */
type In = Pick<Asker, 'units' | 'currency'>;

export function pieceFields({ units, currency }: In, places: readonly Choice[]) {
  const unit = lengthUnit(units);
  const most = { max: MOST_LENGTH_TICKS };
  const why = optionalText({ max: MOST_WHY, label: 'Why' });
  const place = (label: string, blank: string) =>
    optionalChosen(places, 'a place', { label, blank, required: true });
  const partOrAll = {
    length: optionalLength(unit, { min: 1, ...most, label: 'Length', required: true }),
    all: tickField({ label: 'All that is free' }),
  };
  return {
    split: {
      length: lengthField(unit, { ...most, label: 'Length to split off' }),
      place_id: place('Place for it', 'the same place'),
      why,
    },
    move: { place_id: place('Place', 'no place') },
    recount: { length: lengthField(unit, { min: 0, ...most, label: 'Length as measured' }), why },
    width: {
      width: lengthField(sizeUnit(units), {
        min: 1,
        max: MOST_WIDTH_TICKS,
        label: 'Usable width',
      }),
      why,
    },
    'write-off': {
      ...partOrAll,
      why: textField({
        max: MOST_WHY,
        what: 'The reason',
        label: 'Reason',
        suggest: ['spoiled', 'stained', 'flaw', 'used for samples', 'too small to use', 'lost'],
      }),
    },
    return: {
      ...partOrAll,
      why,
      credit: optionalMoney(currency, {
        max: MOST_COST_MINOR,
        label: 'Credit expected',
        hint: 'Blank: what it cost.',
      }),
    },
  } satisfies Record<PieceFormName, object>;
}

type PieceFields = ReturnType<typeof pieceFields>;
export type PieceForm<Name extends PieceFormName> = z.output<z.ZodObject<PieceFields[Name], z.core.$strict>>;

export function pieceForms(
  asker: In,
  places: readonly Choice[],
): { readonly [Name in PieceFormName]: z.ZodType<PieceForm<Name>> } {
  const fields = pieceFields(asker, places);
  return {
    split: z.strictObject(fields.split),
    move: z.strictObject(fields.move),
    recount: z.strictObject(fields.recount),
    width: z.strictObject(fields.width),
    'write-off': z.strictObject(fields['write-off']),
    return: z.strictObject(fields.return),
  };
}

export function writeSplit(tx: Tx, pieceId: number, form: PieceForm<'split'>, asker: Asker): Answer {
  const piece = readPiece(tx, pieceId);
  const made = splitPiece(tx, pieceId, {
    ...measured(form.length),
    ...(form.place_id === null ? {} : { placeId: form.place_id }),
    why: form.why,
  });
  const length = showLength(form.length.value, asker.units, 'down');
  return { location: piecePath(made.code), said: `${length} split off ${piece.code} as ${made.code}.` };
}

export function writeRecount(tx: Tx, pieceId: number, form: PieceForm<'recount'>, asker: Asker): Answer {
  const piece = readPiece(tx, pieceId);
  recountPiece(tx, pieceId, { ...measured(form.length), why: form.why });
  const difference = form.length.value - piece.onHandTicks;
  const show = (ticks: number) => showLength(Math.abs(ticks), asker.units, 'down');
  const said = `${piece.code} recounted: ${show(form.length.value)}, ${show(difference)} ${difference < 0 ? 'less' : 'more'} than was booked.`;
  return { location: piecePath(piece.code), said };
}

export function writeOffFromForm(
  tx: Tx,
  pieceId: number,
  form: PieceForm<'write-off'>,
  asker: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  const off = readPartOrAll(form, piece.onHandTicks - piece.heldTicks, piece.code);
  writeOffLength(tx, pieceId, { ...off, why: form.why });
  const length = showLength(off.lengthTicks, asker.units, 'down');
  return { location: piecePath(piece.code), said: `${length} of ${piece.code} written off: ${form.why}.` };
}

export function giveBack(tx: Tx, pieceId: number, form: PieceForm<'return'>, asker: Asker): Answer {
  const piece = readPiece(tx, pieceId);
  refuseDyed(tx, piece.lotId, piece.code);
  const off = readPartOrAll(form, piece.onHandTicks - piece.heldTicks, piece.code);
  const { entryId, costMinor } = returnLength(tx, pieceId, { ...off, why: form.why });
  tx.run(
    tx.db.insertInto('return_credit').values({
      entry_id: entryId,
      expected_minor: form.credit?.value ?? costMinor,
      come_minor: null,
      come_on: null,
    }),
  );
  const length = showLength(off.lengthTicks, asker.units, 'down');
  return { location: piecePath(piece.code), said: `${length} of ${piece.code} returned to the supplier.` };
}

/** Puts a piece in another place. No length changes, so the ledger has nothing to say of it. */
export function movePiece(tx: Tx, pieceId: number, form: PieceForm<'move'>): Answer {
  const piece = readPiece(tx, pieceId);
  if (piece.placeId === form.place_id)
    throw invalid('place_id', `${piece.code} is there already: choose another place.`);
  tx.run(tx.db.updateTable('piece').set({ place_id: form.place_id }).where('id', '=', pieceId));
  const place = placeChoices(tx).find(({ value }) => value === String(form.place_id));
  const said = place ? `${piece.code} is in ${place.label} now.` : `${piece.code} has no place now.`;
  return { location: piecePath(piece.code), said };
}

/** All that is free is asked for by a tick, because a shown length is rounded and typing it would leave a sliver. */
export function readPartOrAll(
  form: { readonly length: Quantity | null; readonly all: boolean },
  freeTicks: number,
  code: string,
): { lengthTicks: number; typed: string } {
  if (form.length && form.all) throw invalid('length', 'Give a length or tick all that is free, not both.');
  if (form.length) return measured(form.length);
  if (!form.all) throw invalid('length', 'Give a length, or tick all that is free.');
  if (freeTicks === 0) throw conflict(`Nothing of ${code} is free.`);
  return { lengthTicks: freeTicks, typed: 'all that is free' };
}

function measured(length: Quantity): { lengthTicks: number; typed: string } {
  return { lengthTicks: length.value, typed: length.typed };
}

function refuseDyed(tx: Tx, lotId: number, code: string): void {
  const lot = tx.first(tx.db.selectFrom('lot').select(['code', 'origin']).where('id', '=', lotId));
  if (lot?.origin === 'dyed') {
    throw conflict(`${code} was dyed here, so no supplier takes it back.`, {
      text: `Lot ${lot.code}`,
      href: lotPath(lot.code),
    });
  }
}
