import { type LabelPlace, type LabelSheet, PAPER_TICKS, placeLabels } from '../../src/labels/label-sheet.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';
import type { Reader } from '../database/book.ts';
import { showMoment } from '../kit/when.ts';
import { unknown } from '../refusal.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { drawLabel, type LabelDrawing } from './drawing.ts';
import { readSheet } from './sheets.ts';
import { shortAddress } from './things.ts';
import { readWords } from './words.ts';

/** The sheets of one run, as they are printed: the lengths are those of the moment it was asked for. */
export function runPage(reader: Reader, runId: number, { units }: Asker) {
  const run = reader.first(
    reader.db
      .selectFrom('label_run')
      .innerJoin('label_address', 'label_address.id', 'label_run.label_address_id')
      .innerJoin('person', 'person.id', 'label_run.person_id')
      .select(['label_sheet_id', 'label_run.at', 'first_place', 'address', 'person.name as who'])
      .where('label_run.id', '=', runId),
  );
  if (!run) throw unknown('such labels');
  const sheet = readSheet(reader, run.label_sheet_id);
  const words = readWords(reader, runId, run.at, units);
  // A sheet that got smaller since has no such place any more: its labels start at its first one then.
  const first = Math.min(run.first_place, sheet.columns * sheet.rows);
  const placed = placeLabels(sheet, first, words.length).map((place, index) => {
    const said = words[index];
    if (!said) throw new Error('every place has its label');
    const address = shortAddress(run.address, said.thing);
    return { ...place, address, drawing: drawLabel(sheet, said, address) };
  });
  const data = {
    ...onPaper(sheet, placed),
    when: showMoment(run.at),
    who: run.who,
    address: run.address,
    labels: words.length,
    things: words.map(({ thing }) => thing.code).join(', '),
  };
  return { view: 'labels/run', data, title: 'Labels', room: 'setup' } satisfies Page;
}

/** Every label's outline with its number, to be held against the sheet before labels are spent. */
export function testPage(reader: Reader, sheetId: number) {
  const sheet = readSheet(reader, sheetId);
  const places = placeLabels(sheet, 1, sheet.columns * sheet.rows);
  const data = {
    ...onPaper(
      sheet,
      places.map((place) => ({ ...place, address: '', drawing: null })),
    ),
    name: sheet.name,
    href: `/setup/labels/sheets/${sheet.id}`,
  };
  return { view: 'labels/test', data, title: `Test of ${sheet.name}`, room: 'setup' } satisfies Page;
}

interface Placed extends LabelPlace {
  /** what its code says; '' on a test sheet */
  readonly address: string;
  readonly drawing: LabelDrawing | null;
}

/** Sheets of paper, drawn in ticks. */
function onPaper(sheet: LabelSheet, placed: readonly Placed[]) {
  const paper = PAPER_TICKS[sheet.paper];
  const last = placed.at(-1)?.page ?? 1;
  return {
    paper: sheet.paper,
    widthMm: paper.width / TICKS_PER.mm,
    heightMm: paper.height / TICKS_PER.mm,
    viewBox: `0 0 ${paper.width} ${paper.height}`,
    label: { width: sheet.widthTicks, height: sheet.heightTicks },
    pages: Array.from({ length: last }, (_, index) => ({
      number: index + 1,
      labels: placed
        .filter(({ page }) => page === index + 1)
        .map(({ place, xTicks: x, yTicks: y, address, drawing }) => ({ place, x, y, address, drawing })),
    })),
  };
}

export type PrintedSheets = ReturnType<typeof onPaper>;
