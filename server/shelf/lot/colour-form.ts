import { z } from 'zod';
import { sayViewing } from '../../../src/colour/colour-reading.ts';
import type { Lab } from '../../../src/colour/lab.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { choiceField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { lotPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import {
  CHOOSE_VIEWING,
  HOW_READ_WORDS,
  labFields,
  readLab,
  viewingField,
  viewingValue,
} from '../colour/fields.ts';
import { addReading, plainReading, readReadingsOfLots, readUsualViewing } from '../colour/readings.ts';

/** A lot is looked at itself: nobody picks its colour on a screen. */
const HOW = ['instrument', 'list'] as const;

/** A lot's own colour in CIELAB. */
const LOT_COLOUR_FIELDS = {
  ...labFields(),
  how: choiceField(HOW, 'how the colour was got', {
    label: 'How it was got',
    options: HOW.map((how) => ({ value: how, label: HOW_READ_WORDS[how] })),
  }),
  viewing: viewingField(),
};

export const LOT_COLOUR_FORM = z
  .strictObject(LOT_COLOUR_FIELDS)
  .transform(({ l, a, b, how, viewing }, context) => {
    const refuse = (name: string, message: string) =>
      context.issues.push({ code: 'custom', message, path: [name], input: null });
    const lab = readLab({ l, a, b }, refuse);
    if (!lab && context.issues.length === 0) refuse('l', 'Give the colour: L*, a* and b*.');
    if (!viewing) refuse('viewing', CHOOSE_VIEWING);
    if (!lab || !viewing) return z.NEVER;
    return { lab, how, viewing };
  });

/** Records what a lot really looks like; what was recorded last counts. */
export function recordLotColour(tx: Tx, code: string, form: z.output<typeof LOT_COLOUR_FORM>): Answer {
  const lot = tx.first(tx.db.selectFrom('lot').select('id').where('code', '=', code));
  if (!lot) throw unknown(`lot ${code.slice(0, 40)}`);
  addReading(tx, { lotId: lot.id }, plainReading({ ...form, state: 'dry' }));
  return { location: lotPath(code), said: `The colour of lot ${code} is recorded: ${sayLab(form.lab)}.` };
}

/** The colour of a lot on its page, and the form. */
export function shapeLotColour(reader: Reader, lot: OneLot & { readonly code: string }, typed: Typed | null) {
  const row = readReadingsOfLots(reader, [lot.id]).at(-1);
  const lab = row?.lab ?? null;
  const recorded = lab && { l: String(lab.l), a: String(lab.a), b: String(lab.b) };
  return {
    /** '' where none was recorded */
    said: row
      ? `${sayLab(row.lab)} (${sayViewing(row)}), ${HOW_READ_WORDS[row.how]} (${row.person}, ${showMoment(row.at)}).`
      : '',
    action: `${lotPath(lot.code)}/colour`,
    requestKey: mintKey(),
    fields: drawFields(LOT_COLOUR_FIELDS, {
      ...recorded,
      how: row?.how ?? 'instrument',
      viewing: viewingValue(row ?? readUsualViewing(reader)),
      ...typed,
    }),
  };
}

interface OneLot {
  readonly id: number;
}

function sayLab({ l, a, b }: Lab): string {
  return `L* ${sign(l)}, a* ${sign(a)}, b* ${sign(b)}`;
}

function sign(value: number): string {
  return String(value).replace('-', '−');
}
