import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { WHOLE_SHARE_BP, writePercent } from '../../../src/quantity/whole.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { chosenField, clothChoices, shadeChoices } from '../../kit/choices.ts';
import { lengthField, optionalDay, optionalPercent, optionalWhole, rowsField } from '../../kit/fields.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { readToGet, type ToGet } from '../../short/to-get.ts';
import type { Asker } from '../../web/house.ts';

export const MOST_NEEDS = 25;

/** What is to be bought, and by when it is wanted. */
export function basketForm(reader: Reader, asker: Asker) {
  const need = z.strictObject({
    cloth_id: chosenField(clothChoices(reader), 'a cloth'),
    shade_id: chosenField(shadeChoices(reader), 'a shade'),
    length: lengthField(lengthUnit(asker.units), { max: MOST_LENGTH_TICKS / 2 }),
    spare: optionalPercent({ maxBp: WHOLE_SHARE_BP }),
  });
  return z
    .strictObject({
      needed_by: optionalDay(),
      // The total that was seen when the drafts are asked for; the needs alone have none.
      total_minor: optionalWhole({ min: 0, max: 1_000_000_000_000 }),
      needs: rowsField(need, { min: 0, max: MOST_NEEDS, what: 'needs' }),
    })
    .transform((form, context) => {
      const keys = form.needs.map((row) => `${row.cloth_id} ${row.shade_id}`);
      const again = keys.findIndex((key, i) => keys.indexOf(key) < i);
      if (again >= 0)
        context.issues.push({
          code: 'custom',
          path: ['needs', again, 'shade_id'],
          message: 'This cloth and shade stands above already: write the length together.',
          input: form,
        });
      return form;
    });
}

export type BasketForm = z.output<ReturnType<typeof basketForm>>;

/** What is short and can be bought, beyond what is on order. */
export function readToBuy(reader: Reader, asker: Asker, today: string): ToGet[] {
  return readToGet(reader, asker, today).filter(({ toGet }) => toGet.ticks !== null);
}

/**
 * The form as what is short now fills it in: with each cloth's spare, and the day of the garment that is due first.
 * `further` is what one basket has no room for.
 */
export function typedFromShort(
  reader: Reader,
  asker: Asker,
  today: string,
  toBuy = readToBuy(reader, asker, today),
): { typed: Typed; further: ToGet[] } {
  const spares = readSpares(reader);
  const dues = toBuy
    .flatMap(({ line: { shares } }) => shares.map(({ garment }) => garment.dueOn))
    .filter((due): due is string => due !== null && due > today)
    .sort();
  const typed = Object.fromEntries([
    ['needed_by', dues[0] ?? ''],
    ...toBuy.slice(0, MOST_NEEDS).flatMap(({ line, toGet }, i) => [
      [`needs.${i}.cloth_id`, String(line.cloth.id)],
      [`needs.${i}.shade_id`, String(line.shade.id)],
      [`needs.${i}.length`, writeLength(toGet.neededTicks ?? 0, asker.units)],
      [`needs.${i}.spare`, writePercent(spares.get(line.cloth.id) ?? 0)],
    ]),
  ]);
  return { typed, further: toBuy.slice(MOST_NEEDS) };
}

/** What is bought of each cloth beyond the need, in hundredths of a percent. */
export function readSpares(reader: Reader): Map<number, number> {
  const rows = reader.all(reader.db.selectFrom('cloth_spare').selectAll());
  return new Map(rows.map((row) => [row.cloth_id, row.spare_bp]));
}
