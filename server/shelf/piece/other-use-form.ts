import { sql } from 'kysely';
import { z } from 'zod';
import { freeTicks, OTHER_USES, type OtherUseKind } from '../../../src/ledger/entries.ts';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { prepared } from '../../database/statements.ts';
import { choiceField, field, optionalLength, optionalText, tickField } from '../../kit/fields.ts';
import { asked, drawFields } from '../../kit/form-drawing.ts';
import { piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { openOtherUse, readOtherUse, sayOtherUse } from '../../ledger/other-use.ts';
import { readHeldFor, readPiece, sayLeft } from '../../ledger/state.ts';
import { cutLength, holdForUse, releaseFromUse } from '../../ledger/verbs.ts';
import { conflict } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { PieceFacts } from './facts.ts';
import { readPartOrAll } from './forms.ts';

const USE_CHOICES: Record<OtherUseKind, string> = {
  repair: 'Repair',
  sample: 'Sample',
  swatch: 'Swatch',
  part: 'Part, such as a sash',
  sold: 'Sold',
  lent: 'Lent',
  other: 'Something else',
};
const MOST_SUGGESTED = 50;

/** `free` is what is free of the piece, as the page says it. */
function otherUseFields(reader: Reader, { units }: Asker, free = '') {
  return {
    length: optionalLength(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS, label: 'Length' }),
    all: tickField({ label: `All that is free (${free})` }),
    kind: choiceField(OTHER_USES, 'what it is for', {
      label: 'What for',
      options: OTHER_USES.map((value) => ({ value, label: USE_CHOICES[value] })),
    }),
    garment: garmentField(reader),
    note: optionalText({
      max: 200,
      label: 'Note',
      hint: 'What is repaired, or who gets it.',
    }),
  };
}

/** A garment by its code, finished ones too: those are repaired. The code may be followed by the name. */
export function garmentField(reader: Reader) {
  const read = field((typed, refuse) => {
    const [code = ''] = typed.trim().split(/\s+/);
    if (code === '') return null;
    const garment = reader.first(
      reader.db.selectFrom('garment').select('id').where(sql`code collate nocase`, '=', code),
    );
    return garment?.id ?? refuse(`There is no garment ${code.slice(0, 40)}: check the code.`);
  });
  return asked(read, {
    label: 'Garment',
    hint: 'Its code. Blank: none.',
    required: false,
    maxlength: 120,
    suggest: readOpenGarments(reader),
  });
}

const openGarments = prepared((db) =>
  db
    .selectFrom('garment')
    .select(['code', 'name'])
    .where('finished_at', 'is', null)
    .orderBy('id', 'desc')
    .limit(MOST_SUGGESTED),
);

function readOpenGarments(reader: Reader): string[] {
  const rows = reader.all(openGarments());
  return rows.map(({ code, name }) => `${code} ${name}`);
}

/** The form of a piece's page that cuts or holds a length for something besides a tier. */
export function otherUseForm(reader: Reader, asker: Asker) {
  return z.strictObject({
    ...otherUseFields(reader, asker),
    doing: choiceField(['cut', 'hold'], 'whether to cut it or hold it'),
  });
}

export function cutOrHold(
  tx: Tx,
  pieceId: number,
  form: z.output<ReturnType<typeof otherUseForm>>,
  { units }: Asker,
): Answer {
  const piece = readPiece(tx, pieceId);
  const { code } = piece;
  const length = readPartOrAll(form, freeTicks(piece), code);
  const otherUseId = openOtherUse(tx, { kind: form.kind, garmentId: form.garment, note: form.note });
  const isCut = form.doing === 'cut';
  if (isCut) cutLength(tx, pieceId, { ...length, otherUseId });
  else holdForUse(tx, pieceId, otherUseId, length);
  const use = sayOtherUse(readOtherUse(tx, otherUseId));
  const said = `${showLength(length.lengthTicks, units, 'down')} of ${code} ${isCut ? 'cut' : 'held'} for ${use}.`;
  return {
    location: piecePath(code),
    said,
    ...(isCut ? { after: sayLeft(tx, pieceId, units) } : {}),
  };
}

function heldUseFields({ units }: Asker) {
  const hint = 'Blank: all that is held.';
  return {
    length: optionalLength(lengthUnit(units), { min: 1, max: MOST_LENGTH_TICKS, label: 'Length', hint }),
  };
}

/** The form that cuts or releases what is held for such a use. */
export function heldUseForm(asker: Asker) {
  return z.strictObject(heldUseFields(asker));
}

type HeldUseForm = z.output<ReturnType<typeof heldUseForm>>;

/** Cuts a length for the use that it is held for; a longer one comes out of what is free besides. */
export function cutHeld(tx: Tx, pieceId: number, otherUseId: number, form: HeldUseForm, asker: Asker) {
  const { length, said } = readHeldUse(tx, pieceId, otherUseId, form, asker);
  cutLength(tx, pieceId, { ...length, otherUseId });
  return { ...said('cut'), after: sayLeft(tx, pieceId, asker.units) };
}

export function releaseHeld(tx: Tx, pieceId: number, otherUseId: number, form: HeldUseForm, asker: Asker) {
  const { length, said } = readHeldUse(tx, pieceId, otherUseId, form, asker);
  releaseFromUse(tx, pieceId, otherUseId, length);
  return said('released; it was held');
}

function readHeldUse(tx: Tx, pieceId: number, otherUseId: number, form: HeldUseForm, { units }: Asker) {
  const { code } = readPiece(tx, pieceId);
  const use = sayOtherUse(readOtherUse(tx, otherUseId));
  const heldTicks = readHeldFor(tx, pieceId, { otherUseId });
  if (heldTicks === 0) throw conflict(`Nothing of ${code} is held for ${use}.`);
  const length = form.length
    ? { lengthTicks: form.length.value, typed: form.length.typed }
    : { lengthTicks: heldTicks, typed: 'all that is held' };
  const said = (done: string): Answer => ({
    location: piecePath(code),
    said: `${showLength(length.lengthTicks, units, 'down')} of ${code} ${done} for ${use}.`,
  });
  return { length, said };
}

/** A refused form of these, to be drawn again: the number of the use that is held, or 0 for the form of a new one. */
export interface RefusedUse {
  readonly otherUseId: number;
  readonly typed: Typed;
}

type UseForms = ReturnType<typeof drawUseForms>;
export type NewUseForm = NonNullable<UseForms['newUse']>;
export type HeldUses = UseForms['heldUses'];

/** The form that cuts or holds a length of a piece for something besides a tier, wherever that is offered. */
export function drawNewUse(
  reader: Reader,
  piece: Pick<PieceFacts, 'code' | 'free'>,
  asker: Asker,
  typed: Typed,
) {
  return {
    code: piece.code,
    action: `${piecePath(piece.code)}/uses`,
    requestKey: mintKey(),
    fields: drawFields(otherUseFields(reader, asker, piece.free), typed),
  };
}

/** The forms for such uses as the piece's page draws them; a new one is null where nothing of the piece is left. */
export function drawUseForms(
  reader: Reader,
  piece: PieceFacts,
  asker: Asker,
  refused: RefusedUse | undefined,
) {
  const uses = `${piecePath(piece.code)}/uses`;
  const typedOf = (otherUseId: number) => (refused?.otherUseId === otherUseId ? refused.typed : {});
  return {
    newUse:
      piece.onHandTicks === 0
        ? null
        : { ...drawNewUse(reader, piece, asker, typedOf(0)), open: refused?.otherUseId === 0 },
    heldUses: piece.holds.flatMap(({ otherUseId, heldFor }) =>
      otherUseId === null
        ? []
        : [
            {
              otherUseId,
              heldFor,
              cuts: `${uses}/${otherUseId}/cuts`,
              releases: `${uses}/${otherUseId}/releases`,
              requestKey: mintKey(),
              open: refused?.otherUseId === otherUseId,
              fields: drawFields(heldUseFields(asker), typedOf(otherUseId)),
            },
          ],
    ),
  };
}
