import type { Selectable } from 'kysely';
import { type ClothState, FINISHES, showClothState } from '../../../src/dye/cloth-finish.ts';
import { type Content, type FibreCode, showContent } from '../../../src/dye/fibre.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { showMassPerArea } from '../../../src/quantity/mass.ts';
import { writePercent } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import type { ClothTable } from '../../database/schema.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { clothPath } from '../../kit/paths.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import { readTyped, rowsAsTyped, storeTyped, type Typed } from '../../kit/typed.ts';
import { massPerAreaUnit, sizeUnit } from '../../kit/units.ts';
import { unknown } from '../../refusal.ts';
import { type ClothForm, typedCloth } from './form.ts';

const clothRow = prepared((db, clothId: Param<number>) =>
  db
    .selectFrom('cloth')
    .leftJoin('supplier', 'supplier.id', 'cloth.supplier_id')
    .selectAll('cloth')
    .select('supplier.name as supplier_name')
    .where('cloth.id', '=', clothId),
);

/** A cloth with its fibre content. @throws {Refusal} unknown */
export function readCloth(reader: Reader, clothId: number) {
  const row = reader.first(clothRow(clothId));
  if (!row) throw unknown('such cloth');
  return {
    id: row.id,
    name: row.name,
    construction: row.construction,
    content: readContent(reader, clothId),
    widthTicks: row.width_ticks,
    usableWidthTicks: row.usable_width_ticks,
    massPerAreaMgM2: row.mass_per_area_mg_m2,
    /** how many plies of it are cut at once */
    plyLimit: row.ply_limit,
    /** how often a length of it is folded lengthwise to be cut, at most */
    foldLimit: row.fold_limit,
    foldLineInStrips: row.fold_line_in_strips === 1,
    oneWay: row.one_way === 1,
    /** along the cloth; null where it has no pattern that has to meet */
    repeatTicks: row.repeat_ticks,
    halfDrop: row.half_drop === 1,
    finish: row.finish,
    state: clothStateOf(row),
    supplierId: row.supplier_id,
    supplierName: row.supplier_name ?? '',
    article: row.article,
    note: row.note,
    /** width, usable width and mass per area, each with its unit */
    typed: readTyped(row.typed),
  };
}

export type Cloth = ReturnType<typeof readCloth>;

const fibresOf = prepared((db, clothId: Param<number>) =>
  db
    .selectFrom('cloth_fibre')
    .select(['fibre', 'share_bp'])
    .where('cloth_id', '=', clothId)
    .orderBy('share_bp', 'desc')
    .orderBy('fibre'),
);

type StateColumns = Pick<
  Selectable<ClothTable>,
  'construction' | 'state' | 'nylon' | 'flame_retardant' | 'water_repellent' | 'parchment' | 'starched'
>;

/** What a cloth was given before it came, as it was chosen. */
export function clothStateOf(row: StateColumns): ClothState {
  const given = {
    'flame-retardant': row.flame_retardant,
    'water-repellent': row.water_repellent,
    parchment: row.parchment,
    starched: row.starched,
  };
  return {
    state: row.state,
    finishes: FINISHES.filter((finish) => given[finish] === 1),
    nylon: row.nylon,
    construction: row.construction,
  };
}

/** The fibres of a cloth, the largest share first. */
function readContent(reader: Reader, clothId: number): Content {
  const rows = reader.all(fibresOf(clothId));
  return rows.map((row) => ({ fibre: row.fibre as FibreCode, shareBp: row.share_bp }));
}

/** A cloth's facts as a person reads them; '' for what is not known. */
export function showCloth(cloth: Cloth, units: Units) {
  const unit = massPerAreaUnit(units);
  return {
    content: cloth.content.length === 0 ? '' : showContent(cloth.content),
    width: showSize(cloth.widthTicks, units, 'near'),
    usableWidth: showSize(cloth.usableWidthTicks, units, 'down'),
    massPerArea: cloth.massPerAreaMgM2 === null ? '' : showMassPerArea(cloth.massPerAreaMgM2, unit, 'near'),
    cutIn: [sayPlies(cloth), ...sayWay(cloth, units)].join('; '),
    /** what dyeing must know of how it came */
    came: showClothState(cloth.state),
  };
}

/** "up to 4 plies at once, folded once at most; no fold line in a strip". */
function sayPlies({ plyLimit, foldLimit, foldLineInStrips }: Cloth): string {
  const plies = plyLimit === 1 ? 'one ply' : `up to ${plyLimit} plies at once`;
  if (foldLimit === 0) return `${plies}, lying flat`;
  const often = ['', 'once', 'twice', 'three times'][foldLimit];
  return `${plies}, folded ${often} at most${foldLineInStrips ? '' : '; no fold line in a strip'}`;
}

function sayWay({ oneWay, repeatTicks, halfDrop }: Cloth, units: Units): string[] {
  return [
    ...(oneWay ? ['one way'] : []),
    ...(repeatTicks === null
      ? []
      : [`in whole repeats of ${showSize(repeatTicks, units, 'near')}${halfDrop ? ', half-drop' : ''}`]),
  ];
}

export function addCloth(tx: Tx, form: ClothForm, units: Units): Answer {
  refuseSameName(tx, { table: 'cloth', name: form.name, id: null, hrefOf: clothPath });
  return { location: clothPath(putCloth(tx, form, units)), said: `${form.name} is among the cloths now.` };
}

/** Writes a cloth down whose name no other has. Gives its id. */
export function putCloth(tx: Tx, form: ClothForm, units: Units): number {
  const { lastId } = tx.run(tx.db.insertInto('cloth').values(columnsOf(form, units)));
  putContent(tx, lastId, form);
  return lastId;
}

/** Changes what is said of a cloth. Pieces keep the width they were received with. */
export function changeCloth(tx: Tx, clothId: number, form: ClothForm, units: Units): Answer {
  readCloth(tx, clothId);
  refuseSameName(tx, { table: 'cloth', name: form.name, id: clothId, hrefOf: clothPath });
  tx.run(tx.db.updateTable('cloth').set(columnsOf(form, units)).where('id', '=', clothId));
  tx.run(tx.db.deleteFrom('cloth_fibre').where('cloth_id', '=', clothId));
  putContent(tx, clothId, form);
  return { location: clothPath(clothId), said: `${form.name} is changed; its pieces are as they were.` };
}

function columnsOf(form: ClothForm, units: Units) {
  return {
    name: form.name,
    construction: form.construction,
    width_ticks: form.width.value,
    usable_width_ticks: form.usable_width.value,
    mass_per_area_mg_m2: form.mass_per_area?.value ?? null,
    ply_limit: form.ply_limit?.value ?? 1,
    fold_limit: Number(form.fold_limit),
    fold_line_in_strips: form.no_fold_line ? 0 : 1,
    one_way: form.one_way ? 1 : 0,
    repeat_ticks: form.repeat?.value ?? null,
    half_drop: form.half_drop ? 1 : 0,
    finish: form.finish,
    state: form.state,
    nylon: form.nylon,
    flame_retardant: form.flame_retardant ? 1 : 0,
    water_repellent: form.water_repellent ? 1 : 0,
    parchment: form.parchment ? 1 : 0,
    starched: form.starched ? 1 : 0,
    supplier_id: form.supplier_id,
    article: form.article,
    note: form.note,
    typed: storeTyped(typedCloth(form, units)),
  };
}

function putContent(tx: Tx, clothId: number, form: ClothForm): void {
  for (const { fibre, shareBp } of form.fibres) {
    tx.run(tx.db.insertInto('cloth_fibre').values({ cloth_id: clothId, fibre, share_bp: shareBp }));
  }
}

/** A cloth as its form would have been typed, to begin a change with. */
export function clothAsTyped(cloth: Cloth, units: Units): Typed {
  const exactSize = (ticks: number) => showSize(ticks, EXACT, 'near');
  const mass = cloth.massPerAreaMgM2;
  return {
    name: cloth.name,
    construction: cloth.construction,
    width: bare(cloth.typed.width ?? exactSize(cloth.widthTicks), sizeUnit(units)),
    usable_width: bare(cloth.typed.usable_width ?? exactSize(cloth.usableWidthTicks), sizeUnit(units)),
    mass_per_area: bare(
      cloth.typed.mass_per_area ?? (mass === null ? '' : `${mass / 1000} g/m²`),
      massPerAreaUnit(units),
    ),
    ply_limit: String(cloth.plyLimit),
    fold_limit: String(cloth.foldLimit),
    no_fold_line: cloth.foldLineInStrips ? '' : 'yes',
    one_way: cloth.oneWay ? 'yes' : '',
    repeat: bare(
      cloth.typed.repeat ?? (cloth.repeatTicks === null ? '' : exactSize(cloth.repeatTicks)),
      sizeUnit(units),
    ),
    half_drop: cloth.halfDrop ? 'yes' : '',
    finish: cloth.finish,
    state: cloth.state.state ?? '',
    nylon: cloth.state.nylon ?? '',
    ...Object.fromEntries((cloth.state.finishes ?? []).map((finish) => [finish.replace('-', '_'), 'yes'])),
    supplier_id: String(cloth.supplierId ?? ''),
    article: cloth.article,
    note: cloth.note,
    ...rowsAsTyped(
      'fibres',
      cloth.content.map(({ fibre, shareBp }) => ({ fibre, share: writePercent(shareBp) })),
    ),
  };
}

/** Shows to the tick, so that saving an unchanged form changes nothing. */
const EXACT: Units = { system: 'metric', stepTicks: 1 };

/** The field shows its unit already; only another one, or one of several, has to be written. */
function bare(typed: string, unit: string): string {
  const number = typed.slice(0, -unit.length - 1);
  return typed === `${number} ${unit}` && !/\p{L}|['"]/u.test(number) ? number : typed;
}
