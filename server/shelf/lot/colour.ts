import { z } from 'zod';
import { checkLab, deltaE00, type Lab } from '../../../src/colour/lab.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import type { Choice } from '../../kit/choices.ts';
import { choiceField } from '../../kit/fields.ts';
import { lotPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import { coordinateField, HOW_WORDS } from '../shade/form.ts';
import { readLotColours } from './colours.ts';

/** A lot is looked at itself: nobody picks its colour on a screen. */
const HOW = ['instrument', 'typed'] as const;

/** A lot's own colour: CIELAB for D65 and the 2° observer. */
export function lotColourForm() {
  return z
    .strictObject({
      l: coordinateField('L*'),
      a: coordinateField('a*'),
      b: coordinateField('b*'),
      how: choiceField(HOW, 'how the colour was got'),
    })
    .transform(({ l, a, b, how }, context) => {
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
}

/** Records what a lot really looks like, in place of what was recorded before. */
export function recordLotColour(
  tx: Tx,
  code: string,
  { lab, how }: z.output<ReturnType<typeof lotColourForm>>,
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
export interface LotColourView {
  /** '' where none was recorded */
  readonly said: string;
  readonly others: readonly { readonly code: string; readonly href: string; readonly apart: string }[];
  readonly action: string;
  readonly requestKey: string;
  readonly typed: { readonly l: string; readonly a: string; readonly b: string; readonly how: string };
  readonly hows: readonly Choice[];
}

export function lotColourView(
  reader: Reader,
  lot: { readonly id: number; readonly code: string; readonly cloth_id: number; readonly shade_id: number },
  typed: Typed | null,
): LotColourView {
  const row = readRow(reader, lot.id);
  const lab = row ? { l: row.lab_l, a: row.lab_a, b: row.lab_b } : null;
  return {
    said: row && lab ? `${sayLab(lab)}, ${HOW_WORDS[row.how]} (${row.person}, ${showMoment(row.at)}).` : '',
    others: lab ? othersOf(reader, lot, lab) : [],
    action: `${lotPath(lot.code)}/colour`,
    requestKey: mintKey(),
    typed: {
      l: typed?.l ?? (lab ? String(lab.l) : ''),
      a: typed?.a ?? (lab ? String(lab.a) : ''),
      b: typed?.b ?? (lab ? String(lab.b) : ''),
      how: typed?.how ?? row?.how ?? 'instrument',
    },
    hows: HOW.map((how) => ({ value: how, label: HOW_WORDS[how] })),
  };
}

function readRow(reader: Reader, lotId: number) {
  return reader.first(
    reader.db
      .selectFrom('lot_colour')
      .innerJoin('person', 'person.id', 'lot_colour.person_id')
      .select(['lab_l', 'lab_a', 'lab_b', 'how', 'at', 'person.name as person'])
      .where('lot_id', '=', lotId),
  );
}

function othersOf(
  reader: Reader,
  lot: { readonly id: number; readonly cloth_id: number; readonly shade_id: number },
  lab: Lab,
): LotColourView['others'] {
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
