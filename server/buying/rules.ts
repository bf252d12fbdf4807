import { z } from 'zod';
import { showPercent, WHOLE_SHARE_BP, writePercent } from '../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { type Choice, chosenField, clothChoices, withBlank } from '../kit/choices.ts';
import { choiceField, percentField, wholeField } from '../kit/fields.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { readGradingRule } from '../shelf/inspection/rule.ts';
import type { Page } from '../web/page-frame.ts';
import { readSpares } from './basket/form.ts';

export const GRADING_FORM = z.strictObject({
  holes: choiceField(['by size', 'always four'], 'how holes are charged'),
  most_points: wholeField({ min: 0, max: 400 }),
  short: percentField({ maxBp: WHOLE_SHARE_BP }),
});

export function spareForm(reader: Reader) {
  return z.strictObject({
    cloth_id: chosenField(clothChoices(reader), 'a cloth'),
    spare: percentField({ maxBp: WHOLE_SHARE_BP }),
  });
}

export interface RulesData {
  readonly requestKey: string;
  readonly typed: Readonly<Record<'holes' | 'most_points' | 'short' | 'cloth_id' | 'spare', string>>;
  readonly cloths: readonly Choice[];
  readonly spares: readonly { readonly cloth: string; readonly spare: string }[];
}

/** The rules of buying: grading, short measure, and each cloth's spare. */
export function rulesPage(reader: Reader, typed: Typed = {}): Page {
  const rule = readGradingRule(reader);
  const spares = readSpares(reader);
  const cloths = clothChoices(reader);
  const data: RulesData = {
    requestKey: mintKey(),
    typed: {
      holes: typed.holes ?? rule.holes,
      most_points: typed.most_points ?? String(rule.mostPoints),
      short: typed.short ?? writePercent(rule.shortBp),
      cloth_id: typed.cloth_id ?? '',
      spare: typed.spare ?? '',
    },
    cloths: withBlank(cloths, 'choose a cloth'),
    spares: cloths.flatMap(({ value, label }) => {
      const spareBp = spares.get(Number(value)) ?? 0;
      return spareBp === 0 ? [] : [{ cloth: label, spare: showPercent(spareBp) }];
    }),
  };
  return { view: 'buying/rules', data, title: 'Rules of buying', room: 'orders' };
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
    said: `${cloth?.name ?? 'The cloth'} is bought with ${showPercent(row.spare_bp)} to spare.`,
  };
}
