import type { Response } from 'supertest';
import type { GarmentTierView, garmentPage } from '../../../server/garment-book/garment-page.ts';
import type { TierView } from '../../../server/garments/tier/view.ts';
import { makeStock, type Stock, type TestHouse } from '../support.ts';

/** A cone of 95 cm at the waist and 295 cm at a drop of 100 cm: 2 cm more round for each centimetre down. */
export const CONE = {
  name: 'Petticoat',
  due_on: '2026-04-01',
  note: '',
  girths: [
    { drop: '0', girth: '95' },
    { drop: '100', girth: '295' },
  ],
};

/** A ring at a drop of 0 with no allowances but the seam, so that every figure can be checked in the head. */
export const RING = {
  name: 'Tier 1',
  hangs: 'form',
  drop: '0',
  depth: '30',
  fullness: '3',
  closing: 'ring',
  seam: '1',
  end: '',
  heading: '',
  hang_seam: '0',
  hem: '0',
  strip_length: '',
  finish_repeat: '',
};

interface Shown {
  readonly value: string;
  readonly checked?: boolean;
}
type Row = Readonly<Record<string, Shown | number>>;

/** What stands in the fields of a page's form, as a script sends it again. */
export function standingIn(fields: Readonly<Record<string, Shown | readonly Row[]>>) {
  const text = ({ value, checked }: Shown) => (checked === false ? '' : value);
  const row = ({ index: _, ...of }: Row) =>
    Object.fromEntries(Object.entries(of).map(([name, field]) => [name, text(field as Shown)]));
  // biome-ignore lint/suspicious/noExplicitAny: the body of an answer has no type
  const typed: Record<string, any> = {};
  for (const [name, field] of Object.entries(fields))
    typed[name] = 'value' in field ? text(field) : field.map(row);
  return typed;
}

/** Makes a garment by its form, as a script does. Gives its code. */
export async function makeGarment(house: TestHouse, fields: object = {}): Promise<string> {
  const made = await house.send('/garments/new', { ...CONE, ...fields });
  if (made.status !== 200) throw new Error(JSON.stringify(made.body));
  return made.body.location.split('/').at(-1);
}

/** Adds a tier by its form. Gives its number. */
export async function makeTierOf(
  house: TestHouse,
  code: string,
  stock: Pick<Stock, 'clothId' | 'shadeId'>,
  fields: object = {},
): Promise<number> {
  const made = await house.send(`/garments/${code}/tiers/new`, tierFields(stock, fields));
  if (made.status !== 200) throw new Error(JSON.stringify(made.body));
  return Number(made.body.location.split('#tier-').at(-1));
}

export function tierFields(stock: Pick<Stock, 'clothId' | 'shadeId'>, fields: object = {}) {
  const blocks = [{ shade_id: String(stock.shadeId), strips: '1' }];
  return { ...RING, cloth_id: String(stock.clothId), blocks, ...fields };
}

/** The same fields by the names that an HTML form sends. */
export function asForm(fields: object, path = ''): Record<string, string> {
  return Object.assign(
    {},
    ...Object.entries(fields).map(([name, value]) => {
      const full = path === '' ? name : `${path}.${name}`;
      return typeof value === 'object' ? asForm(value, full) : { [full]: String(value) };
    }),
  );
}

export function stockOf(house: TestHouse, options: { usableWidth?: string; ground?: boolean } = {}): Stock {
  return house.write((tx) => makeStock(tx, options));
}

export async function pageOf(
  house: TestHouse,
  code: string,
): Promise<ReturnType<typeof garmentPage>['data']> {
  return (await house.data(`/garments/${code}`)).body;
}

/** The tier with that name, whatever its label. */
export async function tierOfPage(house: TestHouse, code: string, name = 'Tier 1'): Promise<GarmentTierView> {
  const tier = (await pageOf(house, code)).tiers.find(
    (one) => one.name === name || one.name === `${name} (${one.label})`,
  );
  if (!tier) throw new Error(`${code} has a ${name}`);
  return tier;
}

/** A tier of a page that could be worked out. */
export function workedOf(tier: GarmentTierView): TierView {
  if (!tier.worked) throw new Error(`${tier.name}: ${tier.problems.join(' ')}`);
  return tier.worked;
}

/** Problems of an answer by field. */
export function problemsOf(answer: Response): Record<string, string> {
  const problems: { field: string; message: string }[] = answer.body.error.problems;
  return Object.fromEntries(problems.map(({ field, message }) => [field, message]));
}

export function useImperial(house: TestHouse): void {
  house.write((tx) => tx.run(tx.db.updateTable('workroom').set({ length_system: 'imperial' })));
}
