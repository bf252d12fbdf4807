import type { Reader } from '../database/book.ts';
import { readCutStrips } from '../garments/garment/done.ts';
import { type Garment, readFinishedGarments, readOpenGarments } from '../garments/garment/records.ts';
import { tiersIn } from '../garments/garment/worked.ts';
import { sliceOf } from '../kit/paging.ts';
import { garmentPath, shortPath } from '../kit/paths.ts';
import { showDay, showMoment } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { type Needs, readNeeds } from '../short/queries.ts';
import type { Page } from '../web/page-frame.ts';

/** The garments of the workroom: the open ones by their day, then the finished ones, the last first. */
export function garmentListPage(reader: Reader, query: unknown, today: string) {
  const counted = readFinishedGarments(reader, 0, 0).total;
  const { offset, pager } = sliceOf(query, { total: counted, noun: 'finished garments', path: '/garments' });
  const needs = readNeeds(reader);
  const finished = readFinishedGarments(reader, offset, pager.to - offset).garments;
  const data = {
    waiting: needs.waiting,
    open: readOpenGarments(reader).map((garment) => openRow(garment, needs, today)),
    finished: finishedRows(reader, finished),
    pager,
  };
  return { view: 'garment-book/list', data, title: 'Garments', room: 'garments' } satisfies Page;
}

function openRow(garment: Garment, needs: Needs, today: string) {
  const shares = needs.lines
    .flatMap((line) => line.shares)
    .filter((share) => share.garment.id === garment.id);
  const sum = (of: (share: (typeof shares)[number]) => number) =>
    shares.reduce((total, share) => total + of(share), 0);
  const troubles = needs.troubles.filter(({ garmentCode }) => garmentCode === garment.code);
  const inTrouble = new Set(troubles.map(({ tierId }) => tierId)).size;
  return {
    code: garment.code,
    href: garmentPath(garment.code),
    name: garment.name,
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    late: garment.dueOn !== null && garment.dueOn < today,
    tiers: tiersIn(garment).length,
    wantedStrips: sum(({ short }) => short.wantedStrips),
    cutStrips: sum(({ short }) => short.cutStrips),
    shortStrips: sum(({ short }) => short.shortStrips),
    shortHref: shortPath(garment.code),
    /** tiers that cannot be worked out */
    trouble: inTrouble === 0 ? '' : `${countOf(inTrouble, 'tier', 'tiers')} cannot be worked out`,
  };
}

function finishedRows(reader: Reader, garments: readonly Garment[]) {
  const tierIds = garments.flatMap(({ tiers }) => tiers.map(({ id }) => id));
  const cut = readCutStrips(reader, tierIds);
  return garments.map((garment) => ({
    code: garment.code,
    href: garmentPath(garment.code),
    name: garment.name,
    finished: showMoment(garment.finishedAt ?? ''),
    cutStrips: cut
      .filter(({ tierId }) => garment.tiers.some(({ id }) => id === tierId))
      .reduce((sum, { count }) => sum + count, 0),
  }));
}
