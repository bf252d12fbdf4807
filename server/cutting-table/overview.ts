import type { Share } from '../../src/fit/sharing.ts';
import { heldStripsAt } from '../../src/fit/short.ts';
import type { Reader } from '../database/book.ts';
import { readNames } from '../garments/garment/names.ts';
import type { Garment } from '../garments/garment/records.ts';
import { type StripRow, stripRowsIn } from '../garments/garment/strip-rows.ts';
import { clothOfPart } from '../garments/parts/cut.ts';
import type { Chip } from '../kit/chip.ts';
import { grouped } from '../kit/grouped.ts';
import { sliceOf } from '../kit/paging.ts';
import {
  benchPath,
  cuttingPath,
  daysPath,
  garmentPath,
  layBenchPath,
  planPath,
  shortPath,
} from '../kit/paths.ts';
import { dayOf, showDay } from '../kit/when.ts';
import { type Needs, readNeeds } from '../short/queries.ts';
import type { Page } from '../web/page-frame.ts';

/** Garments of eight to twelve tiers each. */
const MOST_GARMENTS = 10;

/** The cutting table: the tiers of all open garments, those due first first. */
export function cuttingTablePage(reader: Reader, query: unknown, now: string) {
  const needs = readNeeds(reader);
  const open = needs.garments;
  const { offset, pager } = sliceOf(query, {
    total: open.length,
    noun: 'open garments',
    path: '/cutting-table',
    rows: MOST_GARMENTS,
  });
  const garments = open.slice(offset, pager.to);
  const sharesOf = grouped(
    needs.lines.flatMap(({ shares }) => shares),
    ({ garment }) => garment.id,
  );
  const names = readNames(
    reader,
    [],
    garments.flatMap((garment) => stripRowsIn(garment).flatMap((row) => shadesOf(garment, row))),
  );
  const lays = countLaysToCut(needs);
  const data = {
    waiting: needs.waiting,
    garments: garments.map((garment) => {
      const shown = { needs, shares: sharesOf.get(garment.id) ?? [], chip: names.chip };
      const rows = stripRowsIn(garment).map((tier) => shapeRow(garment, tier, shown));
      // A part that wants no cloth is nothing to cut.
      const tiers = rows.filter(({ isPart, wantedStrips }) => !isPart || wantedStrips > 0);
      return {
        code: garment.code,
        name: garment.name,
        href: garmentPath(garment.code),
        due: garment.dueOn === null ? '' : showDay(garment.dueOn),
        late: garment.dueOn !== null && garment.dueOn < dayOf(now),
        shortHref: shortPath(garment.code),
        planHref: planPath(garment.code),
        /** where somebody taps that they begin to cut, and are done */
        tapsHref: `${daysPath(garment.code)}#work`,
        /** lays that are held for it and not cut, of all its shades together */
        laysToCut: lays.get(garment.id) ?? 0,
        laysHref: layBenchPath(garment.code),
        tiers,
        /** true where no strip of it is left to cut: it leaves the table */
        allCut: tiers.length > 0 && tiers.every(({ allCut }) => allCut),
      };
    }),
    pager,
  };
  return {
    view: 'cutting-table/overview',
    data,
    title: 'Cutting table',
    room: 'cutting-table',
  } satisfies Page;
}

export type TableGarment = ReturnType<typeof cuttingTablePage>['data']['garments'][number];
export type TableTier = ReturnType<typeof shapeRow>;

/** By garment. */
function countLaysToCut({ plans }: Needs): Map<number, number> {
  const counts = new Map<number, number>();
  for (const { garmentId, lays } of plans) {
    const held = lays.filter(({ state }) => state === 'held').length;
    counts.set(garmentId, (counts.get(garmentId) ?? 0) + held);
  }
  return counts;
}

interface Shown {
  readonly needs: Needs;
  /** what the garment gets */
  readonly shares: readonly Share<Garment>[];
  readonly chip: (shadeId: number) => Chip;
}

/** Strips of a tier or a part, of all its shades together. */
function shapeRow(garment: Garment, tier: StripRow, { needs, shares, chip }: Shown) {
  const counts = countStrips(tier.id, shares);
  const trouble = needs.troubles.find(({ tierId }) => tierId === tier.id)?.message;
  const isUnknown = counts.wantedStrips === 0 && !tier.isPart;
  const unknown = isUnknown ? 'The tier that it follows from cannot be worked out.' : '';
  return {
    id: tier.id,
    name: tier.name,
    isPart: tier.isPart,
    href: cuttingPath(garment.code, tier.id),
    /** '' where there is nothing to cut now */
    benchHref: counts.heldStrips + counts.freeStrips > 0 ? benchPath(garment.code, tier.id) : '',
    shades: shadesOf(garment, tier).map(chip),
    ...counts,
    allCut: counts.wantedStrips > 0 && counts.cutStrips >= counts.wantedStrips && !trouble,
    /** why its strips cannot be counted, and where that is mended; '' where they can */
    trouble: trouble ?? unknown,
    troubleHref: tier.href,
  };
}

/** The shades of a tier's blocks, or the one that a part is cut of. */
function shadesOf(garment: Garment, { id, isPart }: StripRow): number[] {
  if (!isPart) {
    const blocks = garment.tiers.find((tier) => tier.id === id)?.blocks ?? [];
    return [...new Set(blocks.map(({ shadeId }) => shadeId))];
  }
  return garment.parts.flatMap((part) => {
    const row = part.rows.find((one) => one.id === id);
    return (row && clothOfPart(garment, part, row.size)?.shadeId) ?? [];
  });
}

/** The tier's part of what its garment needs, as Short counts it. */
function countStrips(tierId: number, shares: readonly Share<Garment>[]) {
  const sums = {
    wantedStrips: 0,
    /** strips that fit into what the tier holds */
    heldStrips: 0,
    /** strips that free pieces give on top, after the garments due before this one */
    freeStrips: 0,
    shortStrips: 0,
  };
  for (const { need, short } of shares) {
    need.demands.forEach((demand, place) => {
      if (demand.tierId !== tierId) return;
      sums.wantedStrips += demand.count;
      sums.heldStrips += heldStripsAt(short, place);
      sums.freeStrips += short.freeFit.made[place]?.count ?? 0;
      sums.shortStrips += short.shortOf[place]?.count ?? 0;
    });
  }
  const { wantedStrips, heldStrips, freeStrips, shortStrips } = sums;
  return { ...sums, cutStrips: wantedStrips - heldStrips - freeStrips - shortStrips };
}
