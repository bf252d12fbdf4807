import { z } from 'zod';
import { checkLab, deltaE00, type Lab } from '../../../src/colour/lab.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { choiceField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { lotPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { HOW_WORDS, labFields } from '../shade/form.ts';
import { readLotColours } from './store.ts';

/** A lot is looked at itself: nobody picks its colour on a screen. */
const HOW = ['instrument', 'typed'] as const;

/** A lot's own colour: CIELAB for D65 and the 2° observer. */
const LOT_COLOUR_FIELDS = {
  ...labFields(),
  how: choiceField(HOW, 'how the colour was got', {
    label: 'How it was got',
    options: HOW.map((how) => ({ value: how, label: HOW_WORDS[how] })),
  }),
};

export const LOT_COLOUR_FORM = z.strictObject(LOT_COLOUR_FIELDS).transform(({ l, a, b, how }, context) => {
  const refuse = (name: string, message: string) =>
    context.issues.push({ code: 'custom', message, path: [name], input: null });
  const given = { l, a, b };
  for (const axis of ['l', 'a', 'b'] as const) {
    if (given[axis] === null) refuse(axis, 'CIELAB needs all three: L*, a* and b*.');
  }
  const lab: Lab = { l: l ?? 0, a: a ?? 0, b: b ?? 0 };
  for (const problem of checkLab(lab)) refuse(problem.field, problem.message);
  return { lab, how };
});

/** Records what a lot really looks like, in place of what was recorded before. */
export function recordLotColour(
  tx: Tx,
  code: string,
  { lab, how }: z.output<typeof LOT_COLOUR_FORM>,
): Answer {
  const lot = tx.first(tx.db.selectFrom('lot').select('id').where('code', '=', code));
  if (!lot) throw unknown(`lot ${code.slice(0, 40)}`);
  const row = { lab_l: lab.l, lab_a: lab.a, lab_b: lab.b, how, at: tx.at, person_id: tx.personId };
  tx.run(
    tx.db
      .insertInto('lot_colour')
      .values({ lot_id: lot.id, ...row })
      .onConflict((on) => on.column('lot_id').doUpdateSet(row)),
  );
  return { location: lotPath(code), said: `The colour of lot ${code} is recorded: ${sayLab(lab)}.` };
}

/** The colour of a lot on its page, how far other lots of its cloth and shade are from it, and the form. */
export function shapeLotColour(reader: Reader, lot: OneLot & { readonly code: string }, typed: Typed | null) {
  const row = readRow(reader, lot.id);
  const lab = row ? { l: row.lab_l, a: row.lab_a, b: row.lab_b } : null;
  const recorded = lab && { l: String(lab.l), a: String(lab.a), b: String(lab.b) };
  return {
    /** '' where none was recorded */
    said: row && lab ? `${sayLab(lab)}, ${HOW_WORDS[row.how]} (${row.person}, ${showMoment(row.at)}).` : '',
    others: lab ? othersOf(reader, lot, lab) : [],
    action: `${lotPath(lot.code)}/colour`,
    requestKey: mintKey(),
    fields: drawFields(LOT_COLOUR_FIELDS, { ...recorded, how: row?.how ?? 'instrument', ...typed }),
  };
}

interface OneLot {
  readonly id: number;
  readonly cloth_id: number;
  readonly shade_id: number;
}

const colourOfLot = prepared((db, lotId: Param<number>) =>
  db
    .selectFrom('lot_colour')
    .innerJoin('person', 'person.id', 'lot_colour.person_id')
    .select(['lab_l', 'lab_a', 'lab_b', 'how', 'at', 'person.name as person'])
    .where('lot_id', '=', lotId),
);

function readRow(reader: Reader, lotId: number) {
  return reader.first(colourOfLot(lotId));
}

function othersOf(reader: Reader, lot: OneLot, lab: Lab) {
  const lots = reader.all(
    reader.db
      .selectFrom('lot')
      .select(['id', 'code'])
      .where('cloth_id', '=', lot.cloth_id)
      .where('shade_id', '=', lot.shade_id)
      .where('id', '<>', lot.id)
      .orderBy('id'),
  );
  const colours = readLotColours(
    reader,
    lots.map(({ id }) => id),
  );
  return lots.map(({ id, code }) => {
    const other = colours.find(({ lotId }) => lotId === id)?.lab;
    return {
      code,
      href: lotPath(code),
      apart: other ? deltaE00(lab, other).toFixed(2) : 'no colour recorded',
    };
  });
}

function sayLab({ l, a, b }: Lab): string {
  return `L* ${sign(l)}, a* ${sign(a)}, b* ${sign(b)}`;
}

function sign(value: number): string {
  return String(value).replace('-', '−');
}
