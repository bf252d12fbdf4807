import type { Share } from '../../src/fit/sharing.ts';
import { heldStripsAt } from '../../src/fit/short.ts';
import { showLength } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import type { Garment } from '../garments/garment/records.ts';
import { stripRowsIn } from '../garments/garment/strip-rows.ts';
import { tiersIn } from '../garments/garment/worked.ts';
import { grouped } from '../kit/grouped.ts';
import { batchPath, clothPath, cuttingPath, garmentPath, shadePath, shortPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import type { WayOn } from '../refusal.ts';
import type { Needs, ShortLine } from '../short/queries.ts';
import { readSelling, type SellingOf } from '../short/selling.ts';
import { sayToGet, toGetOf, waysToGet } from '../short/to-get.ts';
import type { Asker } from '../web/house.ts';
import { nearness } from './days.ts';
import { PROGRESS_KEY, shapeProgress } from './progress.ts';

const MOST_GARMENTS = 12;
const MOST_SHORT = 12;

export type OpenGarments = ReturnType<typeof readInHand>;

/** The garments in hand by the day they are due, and what each of them is short of. */
export function readInHand(reader: Reader, asker: Asker, today: string, needs: Needs) {
  const { garments } = needs;
  const shares = grouped(
    needs.lines.flatMap((line) => line.shares.map((share) => ({ line, share }))),
    ({ share }) => share.garment.code,
  );
  const shown = garments.slice(0, MOST_GARMENTS);
  const shorts = garments.flatMap((garment) =>
    (shares.get(garment.code) ?? [])
      .filter(({ share }) => share.short.shortStrips > 0)
      .map((short) => ({ garment, short })),
  );
  const shownShorts = shorts.slice(0, MOST_SHORT);
  const clothIds = shownShorts.map(({ short }) => short.line.cloth.id);
  const sellingOf = readSelling(reader, today, clothIds, asker.units);
  return {
    due: shown.map((garment) => shapeDue(garment, shares.get(garment.code) ?? [], needs, today)),
    /** what the bars of their strips mean */
    key: PROGRESS_KEY,
    moreDue: garments.length - shown.length,
    waiting: needs.waiting,
    short: [...grouped(shownShorts, ({ garment }) => garment)].map(([garment, own]) => ({
      code: garment.code,
      name: garment.name,
      href: garmentPath(garment.code),
      /** where the reasons stand */
      whyHref: shortPath(garment.code),
      rows: own.map(({ short }) => shapeRow(short, sellingOf, asker)),
    })),
    moreShort: shorts.length - shownShorts.length,
  };
}

interface ShareOfLine {
  readonly line: ShortLine;
  readonly share: Share<Garment>;
}

function shapeDue(garment: Garment, shares: readonly ShareOfLine[], needs: Needs, today: string) {
  const near = nearness(garment.dueOn, today);
  const sum = (of: (share: Share<Garment>) => number) =>
    shares.reduce((total, { share }) => total + of(share), 0);
  const strips = {
    wanted: sum(({ short }) => short.wantedStrips),
    cut: sum(({ short }) => short.cutStrips),
    held: sum(({ short }) => short.heldStrips),
    short: sum(({ short }) => short.shortStrips),
  };
  return {
    code: garment.code,
    name: garment.name,
    href: garmentPath(garment.code),
    /** the first tier of which strips can be cut now */
    next: nextToCut(garment, shares),
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    when: near.words,
    overdue: near.past,
    soon: near.soon,
    progress: shapeProgress(strips),
    /** what keeps it from being counted, else '' */
    note: noteOn(garment, needs),
  };
}

/** Strips can be cut where some that are not cut yet fit into what the tier holds, or into what is free. */
function nextToCut(garment: Garment, shares: readonly ShareOfLine[]): WayOn | null {
  const ready = new Set(
    shares.flatMap(({ share: { need, short } }) =>
      need.demands.flatMap(({ tierId }, place) => {
        const held = heldStripsAt(short, place);
        const strips = held + (short.freeFit.made[place]?.count ?? 0);
        return strips > 0 ? [tierId] : [];
      }),
    ),
  );
  const tier = stripRowsIn(garment).find(({ id }) => ready.has(id));
  return tier ? { text: `Cut ${tier.name}`, href: cuttingPath(garment.code, tier.id) } : null;
}

function noteOn(garment: Garment, { troubles }: Needs): string {
  if (tiersIn(garment).length === 0) return 'No tiers yet.';
  const tierIds = new Set(
    troubles.filter(({ garmentCode }) => garmentCode === garment.code).map(({ tierId }) => tierId),
  );
  return tierIds.size === 0 ? '' : `${countOf(tierIds.size, 'tier', 'tiers')} cannot be worked out.`;
}

/** What one garment cannot cut of a cloth and shade, and how to get it. */
function shapeRow({ line, share }: ShareOfLine, sellingOf: SellingOf, asker: Asker) {
  const { cloth, shade } = line;
  const fresh = toGetOf(line, [share], sellingOf);
  return {
    clothName: cloth.name,
    clothHref: clothPath(cloth.id),
    chip: { colour: shade.colour, name: shade.name, href: shadePath(shade.id) },
    strips: countOf(share.short.shortStrips, 'strip', 'strips'),
    /** fresh cloth to get for them, or why there is no length */
    length: sayToGet(fresh.ticks, asker.units),
    coming: comingOf(line, asker),
    ways: waysToGet(line, { ...line, neededTicks: fresh.neededTicks }, asker.units),
  };
}

/** What is on its way already: ordered, in the pot, planned. */
function comingOf({ onOrderTicks, dyeing }: ShortLine, asker: Asker) {
  const show = (ticks: number) => showLength(ticks, asker.units, 'near');
  const ordered = onOrderTicks === 0 ? [] : [{ text: `on order: ${show(onOrderTicks)}`, href: '/orders' }];
  return [
    ...ordered,
    ...dyeing.map(({ lengthTicks, inPot, code }) => ({
      text: `${inPot ? 'in the pot' : 'planned'}, ${code}: ${show(lengthTicks)} dyed`,
      href: batchPath(code),
    })),
  ];
}
