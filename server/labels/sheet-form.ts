import { z } from 'zod';
import { checkSheet, type LabelSheet } from '../../src/labels/label-sheet.ts';
import { readLength, TICKS_PER } from '../../src/quantity/length.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { choiceField, field, textField, wholeField } from '../kit/fields.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { invalid, refuseAny, unknown } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';

const PAPERS = ['A4', 'Letter'] as const;
const MOST_TICKS = 160_000;
const MOST_NUDGE_TICKS = 10 * TICKS_PER.mm;

/** Bare numbers are millimetres for those who read metres, inches for those who read inches. */
function unitOf(asker: Asker): 'mm' | 'in' {
  return asker.units.system === 'metric' ? 'mm' : 'in';
}

export function sheetForm(asker: Asker) {
  const unit = unitOf(asker);
  const size = (least: number) =>
    field((typed, refuse) => {
      const reading = readLength(typed, unit);
      if (!reading.ok) return refuse(reading.reason);
      if (reading.value < least || reading.value > MOST_TICKS) return refuse('No sheet has such a size.');
      return reading.value;
    });
  const nudge = field((typed, refuse) => {
    const text = typed.trim();
    if (text === '') return 0;
    const back = /^[-−]/.test(text);
    const reading = readLength(back ? text.slice(1) : text, unit);
    if (!reading.ok) return refuse(reading.reason);
    if (reading.value > MOST_NUDGE_TICKS) return refuse('A nudge is at most 10 mm.');
    return back ? -reading.value : reading.value;
  });
  return z.strictObject({
    name: textField({ max: 80, label: 'The name' }),
    paper: choiceField(PAPERS, 'the paper'),
    columns: wholeField({ min: 1, max: 10 }),
    rows: wholeField({ min: 1, max: 20 }),
    width: size(1),
    height: size(1),
    left: size(0),
    top: size(0),
    across: size(0),
    down: size(0),
    nudge_right: nudge,
    nudge_down: nudge,
  });
}

type SheetForm = z.output<ReturnType<typeof sheetForm>>;

const FIELDS = [
  'name',
  'paper',
  'columns',
  'rows',
  'width',
  'height',
  'left',
  'top',
  'across',
  'down',
  'nudge_right',
  'nudge_down',
] as const;
type SheetTyped = Readonly<Record<(typeof FIELDS)[number], string>>;

// Grids that fill their paper evenly, as a start.
const START: Readonly<Record<'mm' | 'in', SheetTyped>> = {
  mm: {
    name: 'Labels 95 × 45 mm',
    paper: 'A4',
    columns: '2',
    rows: '6',
    width: '95',
    height: '45',
    left: '10',
    top: '13.5',
    across: '0',
    down: '0',
    nudge_right: '0',
    nudge_down: '0',
  },
  in: {
    name: 'Labels 4 × 2 in',
    paper: 'Letter',
    columns: '2',
    rows: '5',
    width: '4',
    height: '2',
    left: '1/4',
    top: '1/2',
    across: '0',
    down: '0',
    nudge_right: '0',
    nudge_down: '0',
  },
};

export interface SheetPageData {
  readonly requestKey: string;
  readonly action: string;
  readonly unit: string;
  readonly typed: SheetTyped;
}

/** The form of one sheet, or of a new one. */
export function labelSheetPage(
  reader: Reader,
  asker: Asker,
  sheetId: number | null,
  typed: Typed = {},
): Page {
  const kept = sheetId === null ? null : readSheet(reader, sheetId);
  const before = kept === null ? START[unitOf(asker)] : writtenOut(kept, asker);
  const data: SheetPageData = {
    requestKey: mintKey(),
    action: sheetId === null ? '/setup/labels/sheets' : `/setup/labels/sheets/${sheetId}`,
    unit: unitOf(asker),
    typed: Object.fromEntries(FIELDS.map((name) => [name, typed[name] ?? before[name]])) as SheetTyped,
  };
  return {
    view: 'labels/sheet-form',
    data,
    title: kept === null ? 'New label sheet' : kept.name,
    room: 'setup',
  };
}

/** A sheet as it would be typed, so that saving it untouched changes nothing. */
function writtenOut(sheet: KeptSheet, { units }: Asker): SheetTyped {
  const size = (ticks: number) => {
    if (ticks < 0) return `-${written(-ticks)}`;
    return ticks === 0 ? '0' : written(ticks);
  };
  // A tick is 0.00625 mm, so millimetres write it out in full.
  const written = (ticks: number) =>
    units.system === 'metric' ? `${ticks / TICKS_PER.mm} mm` : writeSize(ticks, units);
  return {
    name: sheet.name,
    paper: sheet.paper,
    columns: String(sheet.columns),
    rows: String(sheet.rows),
    width: size(sheet.widthTicks),
    height: size(sheet.heightTicks),
    left: size(sheet.leftTicks),
    top: size(sheet.topTicks),
    across: size(sheet.acrossTicks),
    down: size(sheet.downTicks),
    nudge_right: size(sheet.nudgeRightTicks),
    nudge_down: size(sheet.nudgeDownTicks),
  };
}

export interface KeptSheet extends LabelSheet {
  readonly id: number;
  readonly name: string;
}

export function readSheets(reader: Reader): KeptSheet[] {
  return reader.all(reader.db.selectFrom('label_sheet').selectAll().orderBy('name')).map((row) => ({
    id: row.id,
    name: row.name,
    paper: row.paper,
    columns: row.columns,
    rows: row.rows,
    widthTicks: row.width_ticks,
    heightTicks: row.height_ticks,
    leftTicks: row.left_ticks,
    topTicks: row.top_ticks,
    acrossTicks: row.across_ticks,
    downTicks: row.down_ticks,
    nudgeRightTicks: row.nudge_right_ticks,
    nudgeDownTicks: row.nudge_down_ticks,
  }));
}

/** @throws {Refusal} unknown */
export function readSheet(reader: Reader, sheetId: number): KeptSheet {
  const sheet = readSheets(reader).find(({ id }) => id === sheetId);
  if (!sheet) throw unknown('such label sheet');
  return sheet;
}

/** Adds a sheet, or changes the one of that number. @throws {Refusal} invalid */
export function saveSheet(tx: Tx, form: SheetForm, sheetId: number | null): Answer {
  const sheet: LabelSheet = {
    paper: form.paper,
    columns: form.columns.value,
    rows: form.rows.value,
    widthTicks: form.width,
    heightTicks: form.height,
    leftTicks: form.left,
    topTicks: form.top,
    acrossTicks: form.across,
    downTicks: form.down,
    nudgeRightTicks: form.nudge_right,
    nudgeDownTicks: form.nudge_down,
  };
  refuseAny(checkSheet(sheet));
  const same = readSheets(tx).find(({ name }) => name === form.name);
  if (same && same.id !== sheetId) throw invalid('name', `There is a label sheet ${form.name} already.`);
  const values = {
    name: form.name,
    paper: sheet.paper,
    columns: sheet.columns,
    rows: sheet.rows,
    width_ticks: sheet.widthTicks,
    height_ticks: sheet.heightTicks,
    left_ticks: sheet.leftTicks,
    top_ticks: sheet.topTicks,
    across_ticks: sheet.acrossTicks,
    down_ticks: sheet.downTicks,
    nudge_right_ticks: sheet.nudgeRightTicks,
    nudge_down_ticks: sheet.nudgeDownTicks,
  };
  if (sheetId === null) tx.run(tx.db.insertInto('label_sheet').values(values));
  else {
    readSheet(tx, sheetId);
    tx.run(tx.db.updateTable('label_sheet').set(values).where('id', '=', sheetId));
  }
  return { location: '/setup/labels', said: `The label sheet ${form.name} is kept.` };
}
