import type { Reader } from '../database/book.ts';
import { countCutStrips } from '../garments/garment/done.ts';
import { countRuffles } from '../garments/garment/names.ts';
import {
  countFinishedGarments,
  type FinishedGarment,
  type Garment,
  readFinishedGarments,
} from '../garments/garment/records.ts';
import { tiersIn } from '../garments/garment/worked.ts';
import { grouped } from '../kit/grouped.ts';
import { sliceOf } from '../kit/paging.ts';
import { garmentPath, shortPath } from '../kit/paths.ts';
import { showDay, showMoment } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { type Needs, readNeeds } from '../short/queries.ts';
import type { Page } from '../web/page-frame.ts';

/** The garments of the workroom: the open ones by their day, then the finished ones, the last first. */
export function garmentListPage(reader: Reader, query: unknown, today: string) {
  const needs = readNeeds(reader);
  const open = needs.garments;
  const { offset, pager } = sliceOf(query, {
    total: open.length + countFinishedGarments(reader),
    noun: 'garments',
    path: '/garments',
  });
  const finishedFrom = Math.max(offset, open.length);
  const shown = open.slice(offset, pager.to);
  const finished =
    pager.to > finishedFrom
      ? readFinishedGarments(reader, finishedFrom - open.length, pager.to - finishedFrom)
      : [];
  const data = {
    waiting: needs.waiting,
    open: openRows(shown, needs, today),
    /** true where no garment is open, on this page or another */
    allFinished: open.length === 0,
    finished: finishedRows(reader, finished),
    pager,
  };
  return { view: 'garment-book/list', data, title: 'Garments', room: 'garments' } satisfies Page;
}

function openRows(garments: readonly Garment[], needs: Needs, today: string) {
  const shares = grouped(
    needs.lines.flatMap((line) => line.shares),
    (share) => share.garment.id,
  );
  const troubles = grouped(needs.troubles, ({ garmentCode }) => garmentCode);
  return garments.map((garment) => {
    const own = shares.get(garment.id) ?? [];
    const sum = (of: (share: (typeof own)[number]) => number) =>
      own.reduce((total, share) => total + of(share), 0);
    const tiers = tiersIn(garment);
    const ruffles = countRuffles(tiers);
    const inTrouble = new Set((troubles.get(garment.code) ?? []).map(({ tierId }) => tierId)).size;
    return {
      code: garment.code,
      href: garmentPath(garment.code),
      name: garment.name,
      due: garment.dueOn === null ? '' : showDay(garment.dueOn),
      late: garment.dueOn !== null && garment.dueOn < today,
      tiers: tiers.length - ruffles,
      /** '' where there is none */
      ruffles: ruffles === 0 ? '' : countOf(ruffles, 'ruffle', 'ruffles'),
      wantedStrips: sum(({ short }) => short.wantedStrips),
      cutStrips: sum(({ short }) => short.cutStrips),
      shortStrips: sum(({ short }) => short.shortStrips),
      shortHref: shortPath(garment.code),
      /** tiers that cannot be worked out, in words; '' where all can */
      trouble: inTrouble === 0 ? '' : `${countOf(inTrouble, 'tier', 'tiers')} cannot be worked out`,
    };
  });
}

function finishedRows(reader: Reader, garments: readonly FinishedGarment[]) {
  const cut = countCutStrips(
    reader,
    garments.map(({ id }) => id),
  );
  return garments.map(({ id, code, name, finishedAt }) => ({
    code,
    href: garmentPath(code),
    name,
    finished: showMoment(finishedAt),
    cutStrips: cut.get(id) ?? 0,
  }));
}
