import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;

/** What was offered, priced and found stays as it was written. */
export const ATTACKS_ON_BUYING: readonly Attack[] = [
  ...stays('supplier_terms', 'tax_bp', /newer ones, not changed/, /terms stay/),
  ...stays('offer', 'withdrawn', /newer one, not changed/, /an offer stays/, ' WHERE id = 3'),
  ...stays('offer_price', 'price_minor', /newer one, not changed/, /a price stays/),
  ...stays('received_cost', 'tax_minor', /never changed/, /stay in the book/),
  ...[
    ['parts that come to less', { tax_minor: 149 }],
    ['parts that come to more, though the tax is reclaimed', { cloth_minor: 701, reclaimed_minor: 6 }],
    [
      'a part by part other cost',
      { cloth_minor: 600, cut_fees_minor: 49, freight_minor: 99, tax_minor: 151 },
    ],
    // Entry 8 joined a remnant for 20, entry 2 came for 100.
    [
      'a cost of what was joined',
      { entry_id: 8, cloth_minor: 20, cut_fees_minor: 0, freight_minor: 0, tax_minor: 0 },
    ],
    ['the cost of another', { entry_id: 2 }],
  ].map(([what, changes]): Attack => costOf(String(what), changes as Row, /add up to what came/)),
  ...['cloth_minor', 'cut_fees_minor', 'freight_minor', 'tax_minor'].flatMap((part) => [
    alone(part, null, /NOT NULL/),
    alone(part, -1, CHECK),
    alone(part, 1_000_000_000_001, CHECK),
  ]),
  costOf('parts of nothing that came', { entry_id: 999_999 }, /FOREIGN KEY/, [
    'DROP TRIGGER received_cost_adds_up',
  ]),
  {
    name: 'received_cost: other parts in their place',
    table: 'received_cost',
    statements: [
      ...put('received_cost'),
      insert('received_cost', { ...LAWFUL.received_cost }, 'INSERT OR REPLACE'),
    ],
    refused: /never replaced/,
  },
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

function costOf(what: string, changes: Row, refused: RegExp, before: readonly string[] = []): Attack {
  const statements = [...before, ...put('received_cost', changes)];
  return { name: `received_cost: ${what}`, table: 'received_cost', statements, refused };
}

/** A part by itself, without the rule of their sum. */
function alone(part: string, value: number | null, refused: RegExp): Attack {
  const statements = ['DROP TRIGGER received_cost_adds_up', ...put('received_cost', { [part]: value })];
  return { name: `received_cost.${part}: ${value} by itself`, table: 'received_cost', statements, refused };
}

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
