import type { Tx } from '../../../../server/database/book.ts';
import { length, makeBolt, makeLot, newKey, type Stock, type TestHouse } from '../../support.ts';

/** A cloth by its fibres in percent, with a lot of it in an undyed ground. Widths and mass as a label says them. */
export function makeGround(
  tx: Tx,
  cloth: {
    readonly name: string;
    readonly content: Readonly<Record<string, number>>;
    readonly width?: string;
    readonly usableWidth?: string;
    readonly gramsPerM2: number | null;
  },
): Stock {
  const width = cloth.width ?? '150 cm';
  const { lastId: clothId } = tx.run(
    tx.db.insertInto('cloth').values({
      name: cloth.name,
      construction: 'organza',
      width_ticks: length(width),
      usable_width_ticks: length(cloth.usableWidth ?? width),
      mass_per_area_mg_m2: cloth.gramsPerM2 === null ? null : cloth.gramsPerM2 * 1000,
      supplier_id: null,
    }),
  );
  for (const [fibre, percent] of Object.entries(cloth.content)) {
    tx.run(tx.db.insertInto('cloth_fibre').values({ cloth_id: clothId, fibre, share_bp: percent * 100 }));
  }
  const shadeId = makeShade(tx, `${cloth.name} ground`, 1);
  return { clothId, shadeId, lotId: makeLot(tx, clothId, shadeId) };
}

export function makeShade(tx: Tx, name: string, ground: 0 | 1 = 0): number {
  const lab = { lab_l: null, lab_a: null, lab_b: null, lab_how: null };
  return tx.run(tx.db.insertInto('shade').values({ name, ground, ...lab })).lastId;
}

/** Nylon organza, 150 cm with its selvedges, 147 cm usable, 30 g/m²: a metre weighs 45 g. */
export function makeOrganza(tx: Tx, bolt = '10 m', costMinor = 0) {
  const stock = makeGround(tx, {
    name: 'Nylon organza',
    content: { nylon: 100 },
    usableWidth: '147 cm',
    gramsPerM2: 30,
  });
  return { ...stock, piece: makeBolt(tx, stock.lotId, bolt, costMinor) };
}

/** A recipe as its form takes it; what is left out is that of a levelling acid dye on nylon. */
export function recipeFields(shadeId: number, changed: Record<string, string> = {}): Record<string, string> {
  return {
    name: 'Moss on nylon',
    shade_id: String(shadeId),
    fibre: 'nylon',
    dye_class: 'acid-levelling',
    'dyes.0.name': 'Fern A',
    'dyes.0.owf': '2',
    'auxiliaries.0.what': 'levelling-agent/as-sold',
    'auxiliaries.0.amount': '0.5 %',
    'auxiliaries.1.what': 'acetic-acid/56',
    'auxiliaries.1.amount': '1 g/L',
    liquor_ratio: '1:20',
    liquor_ratio_label: 'yes',
    temperature: '98',
    hold: '45',
    shrinkage: '2.5',
    ...changed,
  };
}

/** The same as the form of a new version takes it, which asks for no name, shade or fibre. */
export function versionFields(shadeId: number, changed: Record<string, string> = {}): Record<string, string> {
  const { name: _name, shade_id: _shade, fibre: _fibre, ...fields } = recipeFields(shadeId, changed);
  return fields;
}

/** Keeps a recipe by its form. Gives its number. */
export async function keepRecipe(house: TestHouse, fields: Record<string, string>): Promise<number> {
  const answer = await house.submit('/dye-bench/recipes/new', fields);
  if (answer.status !== 303) throw new Error(`the recipe was refused: ${answer.text.slice(0, 4000)}`);
  return Number(/recipes\/(\d+)/.exec(answer.headers.location ?? '')?.[1]);
}

/** Adds a vessel by its form. Gives its number. */
export async function addVessel(house: TestHouse, name: string, volume: string): Promise<number> {
  await house.submit('/dye-bench/vessels', { name, volume }).expect(303);
  const { body } = await house.data('/dye-bench/vessels');
  return body.vessels.find((vessel: { name: string }) => vessel.name === name).id;
}

/** Plans a batch by its form. Gives its code. */
export async function plan(
  house: TestHouse,
  batch: { recipeId: number; vesselId: number; lengths: Record<string, string>; due?: string },
): Promise<string> {
  const answer = await house.send('/dye-bench/batches/new', planFields(batch)).expect(200);
  return answer.body.location.split('/').at(-1);
}

export function planFields(batch: {
  recipeId: number;
  vesselId: number;
  lengths: Record<string, string>;
  due?: string;
}) {
  return {
    recipe_id: String(batch.recipeId),
    vessel_id: String(batch.vesselId),
    due_on: batch.due ?? '',
    pieces: Object.entries(batch.lengths).map(([piece, text]) => ({ piece, length: text })),
  };
}

/**
 * The bench as most tests want it: organza, the recipe of recipeFields, and a vessel, of 5 litres unless it is said: 4 m of
 * the organza make two baths of that.
 */
export async function furnish(house: TestHouse, bolt = '10 m', costMinor = 0, volume = '5') {
  const { piece, moss, ...stock } = house.write((tx) => ({
    ...makeOrganza(tx, bolt, costMinor),
    moss: makeShade(tx, 'Moss'),
  }));
  const recipeId = await keepRecipe(house, recipeFields(moss));
  const vesselId = await addVessel(house, 'Small pot', volume);
  return { piece, stock, moss, recipeId, vesselId };
}

/** Starts a batch; gives the request's key, by which it is undone. */
export async function start(house: TestHouse, code: string): Promise<string> {
  const key = newKey();
  await house.send(`/dye-bench/batches/${code}/starts`, { request_key: key }).expect(200);
  return key;
}

/** Brings back what is in the pot, in the order of sending; gives the request's key. */
export async function finish(house: TestHouse, code: string, measured: readonly string[]): Promise<string> {
  const key = newKey();
  const { body } = await house.data(`/dye-bench/batches/${code}/finish`);
  const pieces = measured.map((text, place) => ({
    sent_id: body.rows[place].sent_id.value,
    length: text,
  }));
  await house.send(`/dye-bench/batches/${code}/finish`, { request_key: key, pieces }).expect(200);
  return key;
}

export async function undo(house: TestHouse, key: string) {
  return house.send('/undo', { undoes: key });
}

/** What a piece has, in ticks, and what was paid for it. */
export function balance(house: TestHouse, code: string) {
  const { db } = house.book;
  const row = house.book.first(
    db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['on_hand_ticks', 'held_ticks', 'cost_minor', 'lot.code as lot'])
      .where('piece.code', '=', code),
  );
  if (!row) throw new Error(`there is no piece ${code}`);
  return { onHand: row.on_hand_ticks, held: row.held_ticks, cost: row.cost_minor, lot: row.lot };
}

/** What stands in the fields of a form as it is drawn, by name. */
export function textsOf(fields: object): Record<string, string> {
  const drawn = Object.entries(fields).filter(([, field]) => typeof field?.value === 'string');
  return Object.fromEntries(drawn.map(([name, field]) => [name, field.value]));
}
