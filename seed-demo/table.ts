import { cutByForm, cutForm } from '../server/cutting-table/tier/cut-form.ts';
import { holdForm, holdForTier, releaseForm, releaseForTier } from '../server/cutting-table/tier/holding.ts';
import { sendStripsToPleater, stripsToPleaterForm } from '../server/cutting-table/tier/pleating.ts';
import { placeChoices } from '../server/kit/choices.ts';
import {
  giveBack,
  pieceForms,
  writeOffFromForm,
  writeRecount,
  writeSplit,
} from '../server/shelf/piece/forms.ts';
import type { Hand } from './hand.ts';

/** The longest piece of a cloth and shade, of one of the mill's lots where that is named: its code. */
export function pieceOf(hand: Hand, cloth: string, shade: string, lot?: string): string {
  return findPiece(hand, cloth, shade, lot).code;
}

function findPiece(hand: Hand, cloth: string, shade: string, lot?: string) {
  let query = hand.book.db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select(['piece.id', 'piece.code'])
    .where('lot.cloth_id', '=', Number(hand.id('cloth', cloth)))
    .where('lot.shade_id', '=', Number(hand.id('shade', shade)))
    .orderBy('piece.on_hand_ticks', 'desc')
    .orderBy('piece.id');
  if (lot !== undefined) query = query.where('lot.mill_lot', '=', lot);
  const piece = hand.book.first(query);
  if (!piece) throw new Error(`the story knows no piece of ${cloth} in ${shade}`);
  return piece;
}

interface ForTier {
  readonly who: string;
  readonly tier: string;
  readonly piece: string;
}

export function hold(hand: Hand, when: string, asked: ForTier & { readonly length: string }): string {
  const { garmentCode, tierId } = placeOf(hand, asked.tier);
  return hand.fillsIn(
    when,
    asked.who,
    { piece: asked.piece, length: asked.length },
    {
      schema: ({ units }) => holdForm(units),
      write: (tx, form, asker) => holdForTier(tx, garmentCode, tierId, form, asker),
    },
  );
}

export function release(hand: Hand, when: string, asked: ForTier & { readonly length?: string }): string {
  const { garmentCode, tierId } = placeOf(hand, asked.tier);
  return hand.fillsIn(
    when,
    asked.who,
    { piece: asked.piece, length: asked.length ?? '' },
    {
      schema: ({ units }) => releaseForm(units),
      write: (tx, form, asker) => releaseForTier(tx, garmentCode, tierId, form, asker),
    },
  );
}

interface Cut extends ForTier {
  readonly strips: number;
  /** as measured; left out, what the strips need */
  readonly length?: string;
  readonly keepRest?: boolean;
  readonly why?: string;
}

export function cut(hand: Hand, when: string, asked: Cut): string {
  const { garmentCode, tierId } = placeOf(hand, asked.tier);
  const form = {
    piece: asked.piece,
    strips: String(asked.strips),
    length: asked.length ?? '',
    rest: asked.keepRest ? 'keep' : 'waste',
    place_id: asked.keepRest ? hand.id('place', 'Remnant chest') : '',
    why: asked.why ?? '',
  };
  return hand.fillsIn(when, asked.who, form, {
    schema: ({ units }) => cutForm(units, placeChoices(hand.book)),
    write: (tx, read, asker) => cutByForm(tx, garmentCode, tierId, read, asker),
  });
}

/** Strips that are cut go to a pleater, whose name and days are invented. */
export function sendStrips(
  hand: Hand,
  when: string,
  asked: {
    readonly who: string;
    readonly tier: string;
    readonly fields: Readonly<Record<string, string>>;
  },
): string {
  const { garmentCode, tierId } = placeOf(hand, asked.tier);
  return hand.fillsIn(when, asked.who, asked.fields, {
    schema: (asker) => stripsToPleaterForm(hand.book, asker),
    write: (tx, form) => sendStripsToPleater(tx, garmentCode, tierId, form),
  });
}

export function placeOf(hand: Hand, tier: string): { garmentCode: string; tierId: number } {
  const tierId = Number(hand.id('tier', tier));
  const garment = hand.book.first(
    hand.book.db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select('garment.code')
      .where('tier.id', '=', tierId),
  );
  return { garmentCode: garment?.code ?? '', tierId };
}

/** What is done to a piece on the shelf, by its cloth, shade and lot. */
export interface OnShelf {
  readonly who: string;
  readonly cloth: string;
  readonly shade: string;
  readonly lot?: string;
  readonly length: string;
  readonly why: string;
}

export function countAgain(hand: Hand, when: string, asked: OnShelf): void {
  const { id } = findPiece(hand, asked.cloth, asked.shade, asked.lot);
  hand.fillsIn(
    when,
    asked.who,
    { length: asked.length, why: asked.why },
    {
      schema: (asker) => pieceForms(asker, placeChoices(hand.book)).recount,
      write: (tx, form, asker) => writeRecount(tx, id, form, asker),
    },
  );
}

export function writeOffPart(hand: Hand, when: string, asked: OnShelf): void {
  const { id } = findPiece(hand, asked.cloth, asked.shade, asked.lot);
  hand.fillsIn(
    when,
    asked.who,
    { length: asked.length, why: asked.why },
    {
      schema: (asker) => pieceForms(asker, placeChoices(hand.book))['write-off'],
      write: (tx, form, asker) => writeOffFromForm(tx, id, form, asker),
    },
  );
}

export function sendBack(hand: Hand, when: string, asked: OnShelf): void {
  const { id } = findPiece(hand, asked.cloth, asked.shade, asked.lot);
  hand.fillsIn(
    when,
    asked.who,
    { length: asked.length, why: asked.why },
    {
      schema: (asker) => pieceForms(asker, placeChoices(hand.book)).return,
      write: (tx, form, asker) => giveBack(tx, id, form, asker),
    },
  );
}

/** Splits a length off to a piece of its own. */
export function splitOff(hand: Hand, when: string, asked: OnShelf & { readonly place: string }): void {
  const { id } = findPiece(hand, asked.cloth, asked.shade, asked.lot);
  const form = { length: asked.length, place_id: hand.id('place', asked.place), why: asked.why };
  hand.fillsIn(when, asked.who, form, {
    schema: (asker) => pieceForms(asker, placeChoices(hand.book)).split,
    write: (tx, read, asker) => writeSplit(tx, id, read, asker),
  });
}
