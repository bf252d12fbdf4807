import type { Units } from '../../../src/quantity/length-show.ts';
import { showColourDifference } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { garmentPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { readKept, type Typed, typedAgain } from '../../kit/typed.ts';
import { sizeUnit } from '../../kit/units.ts';
import type { Page } from '../../web/page-frame.ts';
import { sayLocked } from '../versions/slip.ts';
import { MOST_GIRTHS, USUAL_CENTI_DELTA_E } from './form-fields.ts';
import { NO_OUTCOME, type Outcome } from './outcome.ts';
import type { Garment } from './records.ts';

const FIRST_ROWS = 4;
const SPARE_ROWS = 2;
const MORE_ROWS = 4;

export interface GarmentFormData {
  readonly requestKey: string;
  readonly action: string;
  readonly cancel: string;
  readonly version: string;
  readonly unit: string;
  /** the text of every single field by its name */
  readonly typed: Readonly<Record<(typeof FIELDS)[number], string>>;
  readonly rows: readonly Readonly<Record<'drop' | 'girth' | 'width' | 'depth', string>>[];
  /** whether the rest of the form says anything, so that it stands open */
  readonly more: boolean;
  readonly moreRows: boolean;
}

export interface GarmentEditData extends GarmentFormData {
  /** from which version the garment is cut, so that a change is told; '' where nothing is cut */
  readonly cutFrom: string;
  readonly outcome: Outcome;
}

/** The form of a garment that is in the book: as the book has it, or as it was typed. */
export function garmentFormPage(
  reader: Reader,
  garment: Garment,
  units: Units,
  typed: Typed | null,
  outcome = NO_OUTCOME,
): Page {
  const cutFrom = sayLocked(reader, garment);
  const data: GarmentEditData = { ...garmentFormData(garment, units, typed), cutFrom, outcome };
  return { view: 'garments/garment/form', data, title: `${garment.name}: name and form`, room: 'garments' };
}

/** Name, day and form of a garment in texts: blank, as the book has it, or as it was typed. */
export function garmentFormData(garment: Garment | null, units: Units, typed: Typed | null): GarmentFormData {
  const shown = typed ?? (garment ? textsOf(garment, units) : FRESH);
  const path = garment ? garmentPath(garment.code) : '/garments';
  const rows = rowsOf(shown, typed);
  return {
    requestKey: mintKey(),
    action: garment ? `${path}/edit` : '/garments/new',
    cancel: path,
    version: shown.version ?? '',
    unit: sizeUnit(units),
    typed: textsByName(shown),
    more: [...MORE, 'note' as const].some(
      (name) => (shown[name] ?? '') !== '' && shown[name] !== USUAL[name],
    ),
    rows,
    moreRows: rows.length < MOST_GIRTHS,
  };
}

const MORE = [
  'waist_height',
  'clearance',
  'profile',
  'foundation_ease',
  'front_drop',
  'side_drop',
  'back_drop',
  'meet',
] as const;
const FIELDS = ['name', 'due_on', 'note', ...MORE] as const;

const USUAL: Typed = { profile: 'straight', meet: showColourDifference(USUAL_CENTI_DELTA_E) };

// A form begins at the waist.
const FRESH: Typed = { ...USUAL, 'girths.0.drop': '0' };

function textsByName(shown: Typed): GarmentFormData['typed'] {
  const texts = FIELDS.map((name) => [name, shown[name] ?? ''] as const);
  return Object.fromEntries(texts) as GarmentFormData['typed'];
}

function textsOf(garment: Garment, units: Units): Typed {
  const kept = readKept(garment.typed);
  const again = (field: string, ticks: number | null) => typedAgain(kept, field, ticks, units);
  const texts: Record<string, string> = {
    name: garment.name,
    due_on: garment.dueOn ?? '',
    note: garment.note,
    profile: garment.profile,
    waist_height: again('waist_height', garment.waistHeightTicks),
    clearance: again('clearance', garment.clearanceTicks),
    foundation_ease: again('foundation_ease', garment.foundationEaseTicks || null),
    front_drop: again('front_drop', garment.frontDropTicks),
    side_drop: again('side_drop', garment.sideDropTicks),
    back_drop: again('back_drop', garment.backDropTicks),
    meet: showColourDifference(garment.meetCentiDeltaE),
    version: String(garment.version),
  };
  garment.girths.forEach((point, row) => {
    const kept = readKept(point.typed);
    texts[`girths.${row}.drop`] = typedAgain(kept, 'drop', point.dropTicks, units);
    const girthTicks = point.hoopWidthTicks === null ? point.girthTicks : null;
    texts[`girths.${row}.girth`] = typedAgain(kept, 'girth', girthTicks, units);
    texts[`girths.${row}.width`] = typedAgain(kept, 'width', point.hoopWidthTicks, units);
    texts[`girths.${row}.depth`] = typedAgain(kept, 'depth', point.hoopDepthTicks, units);
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
    width: shown[`girths.${row}.width`] ?? '',
    depth: shown[`girths.${row}.depth`] ?? '',
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
