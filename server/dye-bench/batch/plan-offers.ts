import { lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import type { Card } from '../../../src/dye/card.ts';
import { whyNotInVessel } from '../../../src/dye/card-warnings.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { splitOptions } from '../../../src/dye/splitting.ts';
import { fillMl } from '../../../src/dye/vessel.ts';
import { readLength } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { readWhole, showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { sayOption } from '../card/split-show.ts';
import { sayForm } from '../recipe/figures.ts';
import type { StoredRecipe } from '../recipe/store.ts';
import { readVesselsInUse } from '../vessels/store.ts';

/** Every vessel in use for the bath of a card, fewest baths first: every bath more is a chance of another shade. */
export function offersByVessel(reader: Reader, recipe: Recipe, card: Card) {
  const strips = card.amounts?.lengths.flat().reduce((sum, length) => sum + length.strips, 0) ?? 0;
  return readVesselsInUse(reader)
    .map(({ name, volume, volumeMl, material }) => {
      const eaten = whyNotInVessel(recipe, material);
      const found = splitOptions({
        massMg: card.massMg,
        volumeUl: card.bath.volumeUl,
        holdsUl: fillMl(volumeMl, recipe.temperatureC) * 1000,
        ...(strips > 0 ? { strips } : {}),
      });
      const option = found.ok ? found.options.find(({ addedStrips }) => addedStrips === 0) : undefined;
      const how = found.ok && option ? (strips > 0 ? sayOption(option) : 'all alike') : '';
      return {
        vessel: `${name}, ${volume}`,
        /** 0 where it cannot */
        baths: eaten === '' ? (option?.parts.length ?? 0) : 0,
        how: eaten || (found.ok ? how : found.reason),
        taken: name === card.vessel.name,
      };
    })
    .sort((a, b) => (a.baths || Number.POSITIVE_INFINITY) - (b.baths || Number.POSITIVE_INFINITY));
}

/** What goes into the bath, in the order of its lines: each may be measured from a stock solution. */
export function lineNames({ recipe }: StoredRecipe): string[] {
  return [...recipe.dyes.map(({ name }) => name), ...recipe.auxiliaries.map(sayForm)];
}

/**
 * What to send so that the length wanted, or the strips wanted, are left after shrinkage, and a swatch to test, in ticks:
 * length ÷ (1 − shrinkage) + swatch; null where neither is typed.
 */
export function toSend({ shrinkageBp }: StoredRecipe, typed: Typed, units: Units) {
  const read = (text: string | undefined, unit: Parameters<typeof readLength>[1]) => {
    const reading = readLength(text ?? '', unit);
    return reading.ok ? reading.value : 0;
  };
  const strip = read(typed.strip, lengthUnit(units));
  const count = readWhole(typed.strips ?? '');
  const strips = count.ok ? count.value : 0;
  const bySums = strip > 0 && strips > 0;
  const wanted = bySums ? strip * strips : read(typed.wanted, lengthUnit(units));
  if (wanted === 0 || wanted > 1_600_000_000) return null;
  const swatch = read(typed.swatch, sizeUnit(units));
  const each = lengthToPrepareTicks(strip, shrinkageBp);
  const sendTicks = (bySums ? each * strips : lengthToPrepareTicks(wanted, shrinkageBp)) + swatch;
  return { wanted, swatch, sendTicks, strips: bySums ? { count: strips, ticks: strip } : null };
}

/** The same in words; '' for nothing. */
export function sayToSend(
  send: ReturnType<typeof toSend>,
  { shrinkageBp }: StoredRecipe,
  units: Units,
): string {
  if (!send) return '';
  const show = (ticks: number) => showLength(ticks, units, 'up');
  const { wanted, swatch, strips } = send;
  const what = strips ? `${strips.count} strips of ${show(strips.ticks)}, ${show(wanted)}` : show(wanted);
  const tail = swatch > 0 ? `, and ${show(swatch)} for a test swatch` : '';
  return `To have ${what} after dyeing, send ${show(send.sendTicks)}: the length wanted ÷ (1 − ${showPercent(shrinkageBp)} shrinkage)${tail}.`;
}
