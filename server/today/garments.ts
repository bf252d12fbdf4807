import type { Share } from '../../src/fit/sharing.ts';
import { heldStripsAt } from '../../src/fit/short.ts';
import { showLength } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type LengthInDye, readDyeing } from '../dye-bench/batch/dyeing.ts';
import { type Garment, readOpenGarments } from '../garments/garment/records.ts';
import { tiersIn } from '../garments/garment/worked.ts';
import type { Chip } from '../kit/chip.ts';
import { grouped } from '../kit/grouped.ts';
import { batchPath, clothPath, cuttingPath, garmentPath, shadePath, shortPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import type { WayOn } from '../refusal.ts';
import { type Needs, readNeeds, type ShortLine } from '../short/queries.ts';
import { readSelling, type SellingOf } from '../short/selling.ts';
import { sayToGet, toGetOf, waysToGet } from '../short/to-get.ts';
import type { Asker } from '../web/house.ts';
import { nearness } from './days.ts';
import { type GarmentProgress, type Strips, shapeProgress } from './progress.ts';

const MOST_GARMENTS = 12;
const MOST_SHORT = 12;

export interface DueGarment {
  readonly code: string;
  readonly name: string;
  readonly href: string;
  /** the first tier of which strips can be cut now */
  readonly next: WayOn | null;
  readonly due: string;
  readonly when: string;
  readonly overdue: boolean;
  readonly soon: boolean;
  readonly progress: GarmentProgress | null;
  /** what keeps it from being counted, else '' */
  readonly note: string;
}

/** What one garment cannot cut of a cloth and shade, and how to get it. */
export interface ShortRow {
  readonly clothName: string;
  readonly clothHref: string;
  readonly chip: Chip;
  readonly strips: string;
  /** fresh cloth to get for them, or why there is no length */
  readonly length: string;
  /** what is on its way already: ordered, in the pot, planned */
  readonly coming: readonly Coming[];
  readonly ways: readonly WayOn[];
}

export interface Coming {
  readonly text: string;
  readonly href: string;
}

export interface ShortGarment {
  readonly code: string;
  readonly name: string;
  readonly href: string;
  /** where the reasons stand */
  readonly whyHref: string;
  readonly rows: readonly ShortRow[];
}

export interface OpenGarments {
  readonly due: readonly DueGarment[];
  readonly moreDue: number;
  readonly short: readonly ShortGarment[];
  readonly moreShort: number;
}

/** The garments in hand by the day they are due, and what each of them is short of. */
export function readInHand(reader: Reader, asker: Asker, today: string): OpenGarments {
  const garments = readOpenGarments(reader);
  const needs = readNeeds(reader);
  const dyeing = readDyeing(reader);
  const clothIds = needs.lines.map(({ cloth }) => cloth.id);
  const sellingOf = readSelling(reader, today, clothIds, asker.units);
  const shares = grouped(
    needs.lines.flatMap((line) => line.shares.map((share) => ({ line, share }))),
    ({ share }) => share.garment.code,
  );
  const shown = garments.slice(0, MOST_GARMENTS);
  const rows = garments.flatMap((garment) =>
    (shares.get(garment.code) ?? [])
      .filter(({ share }) => share.short.shortStrips > 0)
      .map((short) => ({ garment, row: shapeRow(short, { dyeing, sellingOf }, asker) })),
  );
  const short = grouped(rows.slice(0, MOST_SHORT), ({ garment }) => garment);
  return {
    due: shown.map((garment) => shapeDue(garment, shares.get(garment.code) ?? [], needs, today)),
    moreDue: garments.length - shown.length,
    short: [...short].map(([garment, own]) => ({
      code: garment.code,
      name: garment.name,
      href: garmentPath(garment.code),
      whyHref: shortPath(garment.code),
      rows: own.map(({ row }) => row),
    })),
    moreShort: Math.max(0, rows.length - MOST_SHORT),
  };
}

interface ShareOfLine {
  readonly line: ShortLine;
  readonly share: Share<Garment>;
}

function shapeDue(garment: Garment, shares: readonly ShareOfLine[], needs: Needs, today: string): DueGarment {
  const near = nearness(garment.dueOn, today);
  const sum = (of: (share: Share<Garment>) => number) =>
    shares.reduce((total, { share }) => total + of(share), 0);
  const strips: Strips = {
    wanted: sum(({ short }) => short.wantedStrips),
    cut: sum(({ short }) => short.cutStrips),
    held: sum(({ short }) => short.heldStrips),
    short: sum(({ short }) => short.shortStrips),
  };
  return {
    code: garment.code,
    name: garment.name,
    href: garmentPath(garment.code),
    next: nextToCut(garment, shares),
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    when: near.words,
    overdue: near.past,
    soon: near.soon,
    progress: shapeProgress(strips),
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
  const tier = tiersIn(garment).find(({ id }) => ready.has(id));
  return tier ? { text: `Cut ${tier.name}`, href: cuttingPath(garment.code, tier.id) } : null;
}

function noteOn(garment: Garment, { troubles }: Needs): string {
  if (tiersIn(garment).length === 0) return 'No tiers yet.';
  const tierIds = new Set(
    troubles.filter(({ garmentCode }) => garmentCode === garment.code).map(({ tierId }) => tierId),
  );
  return tierIds.size === 0 ? '' : `${countOf(tierIds.size, 'tier', 'tiers')} cannot be worked out.`;
}

function shapeRow(
  { line, share }: ShareOfLine,
  { dyeing, sellingOf }: { readonly dyeing: readonly LengthInDye[]; readonly sellingOf: SellingOf },
  asker: Asker,
): ShortRow {
  const { cloth, shade } = line;
  const fresh = toGetOf(line, [share], sellingOf);
  return {
    clothName: cloth.name,
    clothHref: clothPath(cloth.id),
    chip: { colour: shade.colour, name: shade.name, href: shadePath(shade.id) },
    strips: countOf(share.short.shortStrips, 'strip', 'strips'),
    length: sayToGet(fresh.ticks, asker.units),
    coming: comingOf(line, dyeing, asker),
    ways: waysToGet(line, { ...line, neededTicks: fresh.neededTicks }, asker.units),
  };
}

function comingOf(
  { cloth, shade, onOrderTicks }: ShortLine,
  dyeing: readonly LengthInDye[],
  asker: Asker,
): Coming[] {
  const show = (ticks: number) => showLength(ticks, asker.units, 'near');
  const ordered = onOrderTicks === 0 ? [] : [{ text: `on order: ${show(onOrderTicks)}`, href: '/orders' }];
  const batches = dyeing.filter((batch) => batch.clothId === cloth.id && batch.shadeId === shade.id);
  return [
    ...ordered,
    ...batches.map(({ lengthTicks, inPot, code }) => ({
      text: `${inPot ? 'in the pot' : 'planned'}, ${code}: ${show(lengthTicks)}`,
      href: batchPath(code),
    })),
  ];
}
