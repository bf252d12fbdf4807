import { afterShrinkage } from '../../../src/dye/bath.ts';
import { showLength, showSize } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Reader } from '../../database/book.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { type Choice, placeChoices, withBlank } from '../../kit/choices.ts';
import { batchPath, piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readRecipe } from '../recipe/store.ts';
import { readDyeingAdded, reckonDyeing } from './cost.ts';
import { sayState } from './page.ts';
import { MOST_LENGTHS } from './plan.ts';
import { readBatch, readSentLengths, type StoredBatch, stateOf } from './store.ts';

export interface FinishPageData {
  readonly requestKey: string;
  readonly code: string;
  readonly href: string;
  readonly action: string;
  readonly chip: Chip;
  /** the state of the batch in a sentence */
  readonly said: string;
  /** the lengths in the pot; none where nothing is there any more */
  readonly rows: readonly {
    readonly index: number;
    readonly sentId: number;
    readonly piece: { readonly code: string; readonly href: string };
    readonly cloth: string;
    readonly sent: string;
    readonly expected: string;
    readonly usableWidth: string;
    readonly typed: { readonly length: string; readonly usable_width: string; readonly place_id: string };
  }[];
  readonly places: readonly Choice[];
  /** what the dyeing cost, filled in as it was reckoned; '' where nothing of it has a price */
  readonly cost: string;
  readonly currency: string;
  /** how it was reckoned, and what has no price */
  readonly costSaid: string;
  readonly unit: { readonly length: string; readonly width: string };
}

/** Measuring what comes out of the pot. */
export function finishPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}): Page {
  const batch = readBatch(reader, code);
  const sent = readSentLengths(reader, batch.id);
  const recipe = readRecipe(reader, batch.recipeId);
  const { units } = asker;
  const cost = sayCost(reader, batch, asker);
  const path = batchPath(batch.code);
  // A length that was not in the form that was sent gets a place that no row of it has.
  const spare = Object.keys(typed).length === 0 ? 0 : MOST_LENGTHS;
  const data: FinishPageData = {
    requestKey: mintKey(),
    code: batch.code,
    href: path,
    action: `${path}/finish`,
    chip: shadeChip(recipe.shade),
    said: sayState(batch, stateOf(batch, sent), sent),
    rows: sent
      .filter(({ back }) => back === null)
      .map((length, place) => {
        const index = rowOf(typed, length.entryId) ?? spare + place;
        const cell = (name: string) => typed[`pieces.${index}.${name}`] ?? '';
        return {
          index,
          sentId: length.entryId,
          piece: { code: length.pieceCode, href: piecePath(length.pieceCode) },
          cloth: length.cloth.name,
          sent: showLength(length.lengthTicks, units, 'near'),
          expected: showLength(afterShrinkage(length.lengthTicks, recipe.shrinkageBp), units, 'down'),
          usableWidth: showSize(length.usableWidthTicks, units, 'down'),
          typed: { length: cell('length'), usable_width: cell('usable_width'), place_id: cell('place_id') },
        };
      }),
    cost: typed.cost ?? cost.typed,
    currency: asker.currency,
    costSaid: cost.said,
    places: withBlank(placeChoices(reader), 'where it came from'),
    unit: { length: lengthUnit(units), width: sizeUnit(units) },
  };
  return { view: 'dye-bench/batch/finish', data, title: `Finish batch ${batch.code}`, room: 'dye-bench' };
}

/** What is left to add of the reckoned cost, and the words that say how it came about. */
function sayCost(reader: Reader, batch: StoredBatch, { currency }: Asker): { typed: string; said: string } {
  const cost = reckonDyeing(reader, batch);
  if (cost === null) return { typed: '', said: '' };
  const money = (minor: number) => showMoney(minor, currency);
  const added = readDyeingAdded(reader, batch.id);
  const left = Math.max(0, cost.totalMinor - added);
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
