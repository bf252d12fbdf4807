import { z } from 'zod';
import { dayNumber, dayText } from '../../src/by-when/work-days.ts';
import type { Reader } from '../database/book.ts';
import { optionalDay, optionalId, optionalWhole } from '../kit/fields.ts';
import { showDay } from '../kit/when.ts';
import { countOf, listed } from '../kit/words.ts';
import type { PlanChange } from './plan.ts';

/** What might happen, asked in the address alone: nothing of it is saved. */
export function changeFields(
  reader: Reader,
  garments: readonly { readonly id: number; readonly code: string; readonly name: string }[],
) {
  const suppliers = reader.all(reader.db.selectFrom('supplier').select(['id', 'name']).orderBy('name'));
  const blank = { value: '', label: 'none' };
  return {
    lost: optionalDay({ label: 'A day is lost' }),
    supplier: optionalId('a supplier', {
      label: 'A supplier is late',
      options: [blank, ...suppliers.map(({ id, name }) => ({ value: String(id), label: name }))],
    }),
    days: optionalWhole({ min: 1, max: 365, label: 'Days later', unit: 'days', size: 'short' }),
    failed: optionalId('a garment', {
      label: 'A bath fails',
      hint: 'One bath is dyed again.',
      options: [
        blank,
        ...garments.map(({ id, code, name }) => ({ value: String(id), label: `${code} ${name}` })),
      ],
    }),
  };
}

export function changeForm(...given: Parameters<typeof changeFields>) {
  return z.strictObject(changeFields(...given)).superRefine(({ supplier, days }, context) => {
    const wrong = (field: string, message: string) =>
      context.addIssue({ code: 'custom', message, path: [field] });
    if (supplier !== null && days === null) wrong('days', 'Enter how many, such as 5.');
    if (supplier === null && days !== null) wrong('supplier', 'Choose which supplier.');
  });
}

type Change = z.output<ReturnType<typeof changeForm>>;

export function isAsked({ lost, supplier, failed }: Change): boolean {
  return lost !== null || supplier !== null || failed !== null;
}

export function asPlanChange({ lost, supplier, days, failed }: Change): PlanChange {
  return {
    lostDays: lost === null ? [] : [dayNumber(lost)],
    ...(supplier !== null && days !== null ? { later: { supplierId: supplier, days: days.value } } : {}),
    ...(failed === null ? {} : { failedFor: failed }),
  };
}

/** "5 Mar 2026 is lost and one bath of G2 is dyed again". */
export function sayPlanChange(
  change: PlanChange,
  named: { readonly supplier: string; readonly garment: string },
): string {
  const [lost] = change.lostDays ?? [];
  return listed([
    ...(lost === undefined ? [] : [`${showDay(dayText(lost))} is lost`]),
    ...(change.later ? [`${named.supplier} is ${countOf(change.later.days, 'day', 'days')} late`] : []),
    ...(change.failedFor === undefined ? [] : [`one bath for ${named.garment} is dyed again`]),
  ]);
}
