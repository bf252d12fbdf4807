import { afterShrinkage } from '../../../src/dye/bath.ts';
import { showLength, showSize } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields, drawRow } from '../../kit/form-drawing.ts';
import { batchPath, piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { potPath } from '../pot/log-verbs.ts';
import { readWorking } from '../pot/working.ts';
import { readRecipe } from '../recipe/store.ts';
import { readDyeingAdded, readDyeingLeft, reckonDyeing } from './cost.ts';
import { finishForm } from './finish.ts';
import { sayState } from './page.ts';
import { MOST_LENGTHS } from './plan.ts';
import { readBatch, readSentLengths, type StoredBatch, stateOf } from './store.ts';

/** Measuring what comes out of the pot. */
export function finishPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}) {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const recipe = readRecipe(reader, batch.recipeId);
  const { units } = asker;
  const reckoned = asker.seesPrices ? sayCost(reader, batch, asker) : null;
  const { pieces, cost } = finishForm(reader, asker).shape;
  const path = batchPath(batch.code);
  const working = readWorking(reader, batch.code);
  const several = new Set(sent.map(({ bath }) => bath)).size > 1;
  // A length that was not in the form that was sent gets a place that no row of it has.
  const spare = Object.keys(typed).length === 0 ? 0 : MOST_LENGTHS;
  const data = {
    requestKey: mintKey(),
    code: batch.code,
    href: path,
    action: `${path}/finish`,
    chip: shadeChip(recipe.shade),
    said: sayState(batch, stateOf(batch, sent), sent),
    /** baths that are still being worked: their lengths are measured afterwards */
    working: working.map(({ number, said }) => ({ said, href: potPath(batch.code, number) })),
    /** the lengths in the pot, bath after bath; none where nothing is there any more */
    rows: sent
      .filter(({ back }) => back === null)
      .sort((a, b) => (a.bath ?? 0) - (b.bath ?? 0) || a.entryId - b.entryId)
      .map((length, place) => {
        const index = rowOf(typed, length.entryId) ?? spare + place;
        const sentId = { [`pieces.${index}.sent_id`]: String(length.entryId) };
        return {
          ...drawRow('pieces', pieces.rowFields, index, { ...typed, ...sentId }),
          piece: { code: length.pieceCode, href: piecePath(length.pieceCode) },
          cloth: length.cloth.name,
          undyedLot: length.lotCode,
          bath: several && length.bath !== null ? `Bath ${length.bath}` : '',
          /** true where its bath is still being worked */
          working: working.some(({ number }) => number === length.bath),
          sentLength: showLength(length.lengthTicks, units, 'near'),
          expected: showLength(afterShrinkage(length.lengthTicks, recipe.shrinkageBp), units, 'down'),
          sentWidth: showSize(length.usableWidthTicks, units, 'down'),
        };
      }),
    /** filled in as it was reckoned, with how; null for whoever is told no prices, for whom it is entered as reckoned */
    cost: reckoned && {
      ...drawFields({ cost }, { cost: reckoned.typed, ...typed }).cost,
      said: reckoned.said,
    },
  };
  return {
    view: 'dye-bench/batch/finish',
    data,
    title: `Finish batch ${batch.code}`,
    room: 'dye-bench',
  } satisfies Page;
}

/** What is left to add of the reckoned cost, and the words that say how it came about. */
function sayCost(reader: Reader, batch: StoredBatch, { currency }: Asker): { typed: string; said: string } {
  const cost = reckonDyeing(reader, batch);
  if (cost === null) return { typed: '', said: '' };
  const money = (minor: number) => showMoney(minor, currency);
  const added = readDyeingAdded(reader, batch.id);
  const left = readDyeingLeft(reader, batch);
  const lines = cost.lines.flatMap(({ name, costMinor }) =>
    costMinor === null ? [] : [`${name} ${money(costMinor)}`],
  );
  if (cost.energyMinor !== null) lines.push(`heat ${money(cost.energyMinor)}`);
  const parts = [
    lines.length === 0 ? '' : `Reckoned: ${lines.join(', ')}.`,
    added === 0 ? '' : `${money(added)} went with what is back already.`,
    cost.unknown.length === 0 ? '' : `No price is known of ${cost.unknown.join(', ')}.`,
  ];
  const said = parts.filter((part) => part !== '').join(' ');
  return { typed: left === 0 ? '' : writeMoney(left, currency), said };
}

/** Where a length stood in the form that was sent: another may have come back since. */
function rowOf(typed: Typed, entryId: number): number | undefined {
  const found = Object.entries(typed).find(
    ([name, value]) => /^pieces\.\d+\.sent_id$/.test(name) && value === String(entryId),
  );
  return found === undefined ? undefined : Number(found[0].split('.')[1]);
}
