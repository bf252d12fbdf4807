import type { RecipeClass } from '../../../src/dye/dye-class.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { prepared } from '../../database/statements.ts';
import { readTyped } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';

/** A dye that the workroom has, as its label and its own lot say. */
export type Dye = ReturnType<typeof readDyes>[number];

export const dyePath = (id: number) => `/dye-bench/dyes/${id}`;

const allDyes = prepared((db) => db.selectFrom('dye').selectAll().orderBy('dye_class').orderBy('name'));

/** All dyes by class and name, those put away too. */
export const readDyes = keptUntilWritten((reader) => {
  const dyes = reader.all(allDyes()).map((row) => ({
    id: row.id,
    name: row.name,
    dyeClass: row.dye_class as RecipeClass,
    method: row.method,
    /** of the maker's standard, in hundredths of a percent; null where the label gives none */
    strengthBp: row.strength_bp,
    lot: row.lot,
    priceMinor: row.price_minor,
    priceMg: row.price_mg,
    labelNotes: row.label_notes,
    isFluorescent: row.fluorescent === 1,
    typed: readTyped(row.typed),
    /** when it was put away, '' while it is in use */
    gone: row.gone_at === null ? '' : showMoment(row.gone_at),
  }));
  return dyes as readonly (typeof dyes)[number][];
});

/** A dye by its number. @throws {Refusal} unknown */
export function readDye(reader: Reader, id: number): Dye {
  const dye = readDyes(reader).find((each) => each.id === id);
  if (!dye) throw unknown('such dye');
  return dye;
}

/** What the label of a dye on the list says, in a few words; '' for a dye that is not on it. */
export function sayDye(dye: Dye | undefined): string {
  if (!dye) return '';
  const said = [
    dye.lot === '' ? '' : `lot ${dye.lot}`,
    dye.strengthBp === null ? '' : `${showPercent(dye.strengthBp)} of the maker’s standard`,
    dye.labelNotes,
  ];
  return said.filter((each) => each !== '').join('; ');
}
