import type { LabelSheet } from '../../src/labels/label-sheet.ts';
import type { Reader } from '../database/book.ts';
import type { LabelSheetTable } from '../database/label-tables.ts';
import { unknown } from '../refusal.ts';

export interface KeptSheet extends LabelSheet {
  readonly id: number;
  readonly name: string;
}

/** The sheet that a row of the book describes. */
export function sheetOf(row: Omit<LabelSheetTable, 'id' | 'name'>): LabelSheet {
  return {
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
  };
}

export function readSheets(reader: Reader): KeptSheet[] {
  const rows = reader.all(reader.db.selectFrom('label_sheet').selectAll().orderBy('name'));
  return rows.map((row) => ({ id: row.id, name: row.name, ...sheetOf(row) }));
}

/** @throws {Refusal} unknown */
export function readSheet(reader: Reader, sheetId: number): KeptSheet {
  const sheet = readSheets(reader).find(({ id }) => id === sheetId);
  if (!sheet) throw unknown('such label sheet');
  return sheet;
}
