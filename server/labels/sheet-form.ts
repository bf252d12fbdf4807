import { z } from 'zod';
import { checkSheet } from '../../src/labels/label-sheet.ts';
import { readLength, TICKS_PER } from '../../src/quantity/length.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { choiceField, field, textField, wholeField } from '../kit/fields.ts';
import { asked, drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { invalid, refuseAny } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { type KeptSheet, readSheet, readSheets, sheetOf } from './sheets.ts';

const PAPERS = ['A4', 'Letter'] as const;
const MOST_TICKS = 160_000;
const MOST_NUDGE_TICKS = 10 * TICKS_PER.mm;

/** Bare numbers are millimetres for those who read metres, inches for those who read inches. */
function unitOf(asker: Asker): 'mm' | 'in' {
  return asker.units.system === 'metric' ? 'mm' : 'in';
}

function sheetFields(asker: Asker) {
  const unit = unitOf(asker);
  const look = { unit, size: 'short', maxlength: 64 } as const;
  const size = (label: string, least: number) => {
    const read = field((typed, refuse) => {
      const reading = readLength(typed, unit);
      if (!reading.ok) return refuse(reading.reason);
      if (reading.value < least || reading.value > MOST_TICKS)
        return refuse('Enter a size that a label sheet can have, up to 1 m.');
      return reading.value;
    });
    return asked(read, { ...look, label });
  };
  const nudge = (label: string) => {
    const read = field((typed, refuse) => {
      const text = typed.trim();
      if (text === '') return 0;
      const back = /^[-−]/.test(text);
      const reading = readLength(back ? text.slice(1) : text, unit);
      if (!reading.ok) return refuse(reading.reason);
      if (reading.value > MOST_NUDGE_TICKS) return refuse('A nudge is at most 10 mm.');
      return back ? -reading.value : reading.value;
    });
    return asked(read, { ...look, label });
  };
  return {
    name: textField({ max: 80, what: 'The name', label: 'Name' }),
    paper: choiceField(PAPERS, 'the paper', {
      label: 'Paper',
      options: [
        { value: 'A4', label: 'A4, 210 × 297 mm' },
        { value: 'Letter', label: 'Letter, 8½ × 11 in' },
      ],
    }),
    columns: wholeField({ min: 1, max: 10, label: 'Side by side', size: 'short' }),
    rows: wholeField({ min: 1, max: 20, label: 'Down the sheet', size: 'short' }),
    width: size('Width of a label', 1),
    height: size('Height of a label', 1),
    left: size('From the left edge', 0),
    top: size('From the top edge', 0),
    across: size('Gap side by side', 0),
    down: size('Gap down the sheet', 0),
    nudge_right: nudge('Move to the right'),
    nudge_down: nudge('Move down'),
  };
}

export function sheetForm(asker: Asker) {
  return z.strictObject(sheetFields(asker));
}

type SheetForm = z.output<ReturnType<typeof sheetForm>>;

const FLUSH = { across: '0', down: '0', nudge_right: '0', nudge_down: '0' };

// Grids that fill their paper evenly, as a start.
const START: Readonly<Record<'mm' | 'in', Typed>> = {
  mm: {
    name: 'Labels 95 × 45 mm',
    paper: 'A4',
    columns: '2',
    rows: '6',
    width: '95',
    height: '45',
    left: '10',
    top: '13.5',
    ...FLUSH,
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
    ...FLUSH,
  },
};

/** The form of one sheet, or of a new one. */
export function labelSheetPage(reader: Reader, asker: Asker, sheetId: number | null, typed: Typed = {}) {
  const kept = sheetId === null ? null : readSheet(reader, sheetId);
  const before = kept === null ? START[unitOf(asker)] : writtenOut(kept, asker);
  const data = {
    requestKey: mintKey(),
    action: sheetId === null ? '/setup/labels/sheets' : `/setup/labels/sheets/${sheetId}`,
    fields: drawFields(sheetFields(asker), { ...before, ...typed }),
  };
  return {
    view: 'labels/sheet-form',
    data,
    title: kept === null ? 'New label sheet' : kept.name,
    room: 'setup',
  } satisfies Page;
}

/** A sheet as it would be typed, so that saving it untouched changes nothing. */
function writtenOut(sheet: KeptSheet, { units }: Asker): Typed {
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

/** Adds a sheet, or changes the one of that number. @throws {Refusal} invalid */
export function saveSheet(tx: Tx, form: SheetForm, sheetId: number | null): Answer {
  const values = {
    name: form.name,
    paper: form.paper,
    columns: form.columns.value,
    rows: form.rows.value,
    width_ticks: form.width,
    height_ticks: form.height,
    left_ticks: form.left,
    top_ticks: form.top,
    across_ticks: form.across,
    down_ticks: form.down,
    nudge_right_ticks: form.nudge_right,
    nudge_down_ticks: form.nudge_down,
  };
  refuseAny(checkSheet(sheetOf(values)));
  const same = readSheets(tx).find(({ name }) => name === form.name);
  if (same && same.id !== sheetId) throw invalid('name', `There is a label sheet ${form.name} already.`);
  if (sheetId === null) tx.run(tx.db.insertInto('label_sheet').values(values));
  else {
    readSheet(tx, sheetId);
    tx.run(tx.db.updateTable('label_sheet').set(values).where('id', '=', sheetId));
  }
  return { location: '/setup/labels', said: `The label sheet ${form.name} is kept.` };
}
