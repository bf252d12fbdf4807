import { z } from 'zod';
import { showPercent, WHOLE_SHARE_BP, writePercent } from '../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { prepared } from '../database/statements.ts';
import { chosenField, clothChoices } from '../kit/choices.ts';
import { choiceField, percentField, wholeField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { readGradingRule } from '../shelf/inspection/store.ts';
import type { Page } from '../web/page-frame.ts';

const GRADING_FIELDS = {
  holes: choiceField(['by size', 'always four'], 'how holes are charged', {
    label: 'Holes',
    options: [
      { value: 'by size', label: '2 points to an inch, 4 above' },
      { value: 'always four', label: 'always 4 points' },
    ],
  }),
  most_points: wholeField({ min: 0, max: 400, label: 'Points that pass', unit: 'in 100 yd²' }),
  short: percentField({ maxBp: WHOLE_SHARE_BP, label: 'May be short by' }),
};

export const GRADING_FORM = z.strictObject(GRADING_FIELDS);

function spareFields(reader: Reader) {
  return {
    cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'choose a cloth' }),
    spare: percentField({ maxBp: WHOLE_SHARE_BP, label: 'Spare' }),
  };
}

export function spareForm(reader: Reader) {
  return z.strictObject(spareFields(reader));
}

/** The rules of buying: grading, short measure, and each cloth's spare. */
export function rulesPage(reader: Reader, typed: Typed = {}) {
  const rule = readGradingRule(reader);
  const asTyped = {
    holes: rule.holes,
    most_points: String(rule.mostPoints),
    short: writePercent(rule.shortBp),
  };
  const spares = readSpares(reader);
  const data = {
    requestKey: mintKey(),
    fields: drawFields({ ...GRADING_FIELDS, ...spareFields(reader) }, { ...asTyped, ...typed }),
    spares: clothChoices(reader).flatMap(({ value, label }) => {
      const spareBp = spares.get(Number(value)) ?? 0;
      return spareBp === 0 ? [] : [{ cloth: label, spare: showPercent(spareBp) }];
    }),
  };
  return { view: 'buying/rules', data, title: 'Rules of buying', room: 'orders' } satisfies Page;
}

const clothSpares = prepared((db) => db.selectFrom('cloth_spare').selectAll());

/** What is bought of each cloth beyond the need, in hundredths of a percent. */
export function readSpares(reader: Reader): Map<number, number> {
  const rows = reader.all(clothSpares());
  return new Map(rows.map((row) => [row.cloth_id, row.spare_bp]));
}

/** What was inspected before keeps the rules of its day. */
export function setGradingRule(tx: Tx, form: z.output<typeof GRADING_FORM>): Answer {
  tx.run(
    tx.db.insertInto('grading_rule').values({
      holes: form.holes,
      most_points: form.most_points.value,
      short_bp: form.short.value,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: '/orders/rules', said: 'What comes from now on is judged by these rules.' };
}

export function setSpare(tx: Tx, form: z.output<ReturnType<typeof spareForm>>): Answer {
  const row = { cloth_id: form.cloth_id, spare_bp: form.spare.value };
  tx.run(
    tx.db
      .insertInto('cloth_spare')
      .values(row)
      .onConflict((clash) => clash.column('cloth_id').doUpdateSet({ spare_bp: row.spare_bp })),
  );
  const cloth = tx.first(tx.db.selectFrom('cloth').select('name').where('id', '=', form.cloth_id));
  return {
    location: '/orders/rules',
    said: `${cloth?.name ?? 'The cloth'} is bought with ${showPercent(row.spare_bp)} more than is needed.`,
  };
}
