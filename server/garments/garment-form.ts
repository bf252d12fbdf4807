import type { Units } from '../../src/length-show.ts';
import type { Typed } from '../web/body.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { MOST_GIRTHS } from './fields.ts';
import { garmentPath } from './paths.ts';
import type { Garment } from './records.ts';
import { readKept, sizeUnit, typedAgain } from './typed.ts';

const FIRST_ROWS = 4;
const SPARE_ROWS = 2;
const MORE_ROWS = 4;

export interface GarmentFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly cancel: string;
  readonly version: string;
  readonly unit: string;
  readonly typed: { readonly name: string; readonly due_on: string; readonly note: string };
  readonly rows: readonly { readonly drop: string; readonly girth: string }[];
  readonly moreRows: boolean;
}

/** The form of a garment: blank, as the book has it, or as it was typed. */
export function garmentFormPage(garment: Garment | null, units: Units, typed: Typed | null): Page {
  const shown = typed ?? (garment ? textsOf(garment, units) : FRESH);
  const path = garment ? garmentPath(garment.code) : '/garments';
  const rows = rowsOf(shown, typed);
  const data: GarmentFormData = {
    requestKey: mintKey(),
    action: garment ? `${path}/edit` : '/garments/new',
    cancel: path,
    version: shown.version ?? '',
    unit: sizeUnit(units),
    typed: { name: shown.name ?? '', due_on: shown.due_on ?? '', note: shown.note ?? '' },
    rows,
    moreRows: rows.length < MOST_GIRTHS,
  };
  const title = garment ? `${garment.name}: name and form` : 'New garment';
  return { view: 'garments/form', data, title, room: 'garments' };
}

// A form begins at the waist.
const FRESH: Typed = { 'girths.0.drop': '0' };

function textsOf(garment: Garment, units: Units): Typed {
  const texts: Record<string, string> = {
    name: garment.name,
    due_on: garment.dueOn ?? '',
    note: garment.note,
    version: String(garment.version),
  };
  garment.girths.forEach((point, row) => {
    const kept = readKept(point.typed);
    texts[`girths.${row}.drop`] = typedAgain(kept, 'drop', point.dropTicks, units);
    texts[`girths.${row}.girth`] = typedAgain(kept, 'girth', point.girthTicks, units);
  });
  return texts;
}

function rowsOf(shown: Typed, typed: Typed | null) {
  const given = countRows(shown, 'girths');
  const asked = typed?.act === 'more-girths' ? given + MORE_ROWS : given;
  const count = typed ? asked : Math.max(FIRST_ROWS, given + (given > 1 ? SPARE_ROWS : 0));
  return Array.from({ length: Math.min(count, MOST_GIRTHS) }, (_, row) => ({
    drop: shown[`girths.${row}.drop`] ?? '',
    girth: shown[`girths.${row}.girth`] ?? '',
  }));
}

/** Rows of a list in what was typed, blank ones between them included. */
export function countRows(typed: Typed, list: string): number {
  const places = Object.keys(typed).flatMap((name) => {
    const [first, row] = name.split('.');
    return first === list ? [Number(row)] : [];
  });
  return places.reduce((most, place) => Math.max(most, place + 1), 0);
}
