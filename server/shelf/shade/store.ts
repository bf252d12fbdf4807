import {
  type Illuminant,
  type Observer,
  SCREEN_VIEWING,
  sayViewing,
} from '../../../src/colour/colour-reading.ts';
import { labToScreen, sayLabTenths, screenShows } from '../../../src/colour/lab.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import type { Chip } from '../../kit/chip.ts';
import { shadePath } from '../../kit/paths.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import type { Typed } from '../../kit/typed.ts';
import { unknown } from '../../refusal.ts';
import { viewingValue } from '../colour/fields.ts';
import { HOW_WORDS, type LabHow, type ShadeColourForm, type ShadeForm } from './form.ts';

const shadeRow = prepared((db, shadeId: Param<number>) =>
  db.selectFrom('shade').selectAll().where('id', '=', shadeId),
);

/** A shade, and its colour where one is known. @throws {Refusal} unknown */
export function readShade(reader: Reader, shadeId: number) {
  const row = reader.first(shadeRow(shadeId));
  if (!row) throw unknown('such shade');
  return { id: row.id, name: row.name, ground: row.ground === 1, colour: colourOf(row), note: row.note };
}

export type Shade = ReturnType<typeof readShade>;

/** The colour that a row of shades carries. */
export function colourOf(row: {
  readonly lab_l: number | null;
  readonly lab_a: number | null;
  readonly lab_b: number | null;
  readonly lab_how: LabHow | null;
  readonly lab_illuminant: Illuminant;
  readonly lab_observer: Observer;
}): ShadeColourForm | null {
  const { lab_l: l, lab_a: a, lab_b: b, lab_how: how } = row;
  const viewing = { illuminant: row.lab_illuminant, observer: row.lab_observer };
  return l === null || a === null || b === null || how === null ? null : { lab: { l, a, b }, viewing, how };
}

/** The swatch chip of a shade. */
export function chipOf({ name, colour }: Pick<Shade, 'name' | 'colour'>): Chip {
  return { colour: colour && labToScreen(colour.lab), name };
}

/** A colour in words: "L* 52.3, a* −12.5, b* 30.1 (D65, 2°), picked on a screen". */
export function sayColour(colour: ShadeColourForm | null): string {
  if (!colour) return '';
  return `${sayLabTenths(colour.lab)} (${sayViewing(colour.viewing)}), ${HOW_WORDS[colour.how]}`;
}

/** Whether a screen cannot show the colour, so that its chip is only near it. */
export function isOffScreen(colour: ShadeColourForm | null): boolean {
  return colour !== null && colour.how !== 'screen' && !screenShows(colour.lab);
}

export function addShade(tx: Tx, form: ShadeForm): Answer {
  refuseSameName(tx, { table: 'shade', name: form.name, id: null, hrefOf: shadePath });
  return { location: shadePath(putShade(tx, form)), said: `${form.name} is among the shades now.` };
}

/** Writes a shade down whose name no other has. Gives its id. */
export function putShade(tx: Tx, form: ShadeForm): number {
  return tx.run(tx.db.insertInto('shade').values(columnsOf(form))).lastId;
}

export function changeShade(tx: Tx, shadeId: number, form: ShadeForm): Answer {
  readShade(tx, shadeId);
  refuseSameName(tx, { table: 'shade', name: form.name, id: shadeId, hrefOf: shadePath });
  tx.run(tx.db.updateTable('shade').set(columnsOf(form)).where('id', '=', shadeId));
  return { location: shadePath(shadeId), said: `${form.name} is changed.` };
}

function columnsOf({ name, ground, colour, note }: ShadeForm) {
  return {
    name,
    ground: ground ? 1 : 0,
    lab_l: colour?.lab.l ?? null,
    lab_a: colour?.lab.a ?? null,
    lab_b: colour?.lab.b ?? null,
    lab_how: colour?.how ?? null,
    lab_illuminant: colour?.viewing.illuminant ?? SCREEN_VIEWING.illuminant,
    lab_observer: colour?.viewing.observer ?? SCREEN_VIEWING.observer,
    note,
  };
}

/** A shade as its form would have been typed, to begin a change with. */
export function shadeAsTyped(shade: Shade): Typed {
  const { colour } = shade;
  const common = { name: shade.name, ground: shade.ground ? 'yes' : '', note: shade.note };
  if (!colour) return common;
  if (colour.how === 'screen') return { ...common, hex: labToScreen(colour.lab), how: 'screen' };
  const { l, a, b } = colour.lab;
  const viewing = viewingValue(colour.viewing);
  return { ...common, l: coordinate(l), a: coordinate(a), b: coordinate(b), viewing, how: colour.how };
}

function coordinate(value: number): string {
  return String(Number(value.toFixed(4)));
}
