import { lengthsOnCard } from '../../../src/dye/card.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { batchPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { readAddress } from '../../labels/address-form.ts';
import { drawCode } from '../../labels/code-picture.ts';
import { shortAddress } from '../../labels/things.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showGrams } from '../card/amounts-show.ts';
import { readRecipe } from '../recipe/store.ts';
import { cardOf } from './page.ts';
import { readBatch, readSentLengths, stateOf } from './store.ts';

/** Tags to tie to the cloth of each bath. */
export function tagPage(reader: Reader, code: string, asker: Asker) {
  const batch = readBatch(reader, code);
  const state = stateOf(batch, readSentLengths(reader, batch.id));
  const { card } = cardOf(reader, batch, state, asker.units);
  const stored = readRecipe(reader, batch.recipeId);
  const baths = card?.baths ?? [];
  const lengths = card ? lengthsOnCard(card) : [];
  const address = readAddress(reader)?.address;
  const data = {
    code: batch.code,
    href: batchPath(batch.code),
    chip: shadeChip(stored.shade),
    recipe: `${stored.name}, version ${stored.version}`,
    /** what a phone reads to get here; null until the workroom's address is written down for its labels */
    picture: address
      ? drawCode(shortAddress(address, { kind: 'batch', id: batch.id, code: batch.code }))
      : null,
    due: batch.dueOn === null ? '' : showDay(batch.dueOn),
    /** one tag a bath: it stays with the cloth from the scour to the shelf */
    tags: baths.map((bath, place) => ({
      bath: baths.length === 1 ? '' : `Bath ${place + 1} of ${baths.length}`,
      mass: showGrams(bath.massMg),
      cloth: lengths
        .filter((length) => length.bath === place + 1)
        .map(
          ({ piece, lengthTicks }) =>
            `${piece.code}, ${piece.cloth}, lot ${piece.lot}: ${showLength(lengthTicks, asker.units, 'near')}`,
        ),
      temperature: `${stored.recipe.temperatureC} °C, ${stored.recipe.holdMinutes} min`,
      address: `${batchPath(batch.code)}/bench?bath=${place + 1}`,
    })),
  };
  return {
    view: 'dye-bench/batch/tag',
    data,
    title: `Tags of batch ${batch.code}`,
    room: 'dye-bench',
  } satisfies Page;
}
