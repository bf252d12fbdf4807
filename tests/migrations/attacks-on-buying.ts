import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';

const CHECK = /CHECK constraint failed/;

/** What was offered, priced and found stays as it was written. */
export const ATTACKS_ON_BUYING: readonly Attack[] = [
  ...stays('supplier_terms', 'tax_bp', /newer ones, not changed/, /terms stay/),
  ...stays('offer', 'withdrawn', /newer one, not changed/, /an offer stays/, ' WHERE id = 3'),
  ...stays('offer_price', 'price_minor', /newer one, not changed/, /a price stays/),
  ...stays('inspection', 'most_points', /newer one, not changed/, /an inspection stays/),
  {
    name: 'offer: a step without a least length',
    table: 'offer',
    statements: put('offer', { least_ticks: null }),
    refused: CHECK,
  },
  {
    name: 'offer: a least length without a step',
    table: 'offer',
    statements: put('offer', { step_ticks: null }),
    refused: CHECK,
  },
  {
    name: 'inspection: a swatch that was not weighed',
    table: 'inspection',
    statements: put('inspection', { swatch_mass_mg: null }),
    refused: CHECK,
  },
  {
    name: 'inspection: a mass of no swatch',
    table: 'inspection',
    statements: put('inspection', { swatch_area_mm2: null }),
    refused: CHECK,
  },
];

function stays(table: string, column: string, change: RegExp, removal: RegExp, which = ''): Attack[] {
  return [
    {
      name: `${table}: a change`,
      table,
      statements: [...put(table), `UPDATE ${table} SET ${column} = 1`],
      refused: change,
    },
    {
      name: `${table}: its removal`,
      table,
      statements: [...put(table), `DELETE FROM ${table}${which}`],
      refused: removal,
    },
  ];
}
