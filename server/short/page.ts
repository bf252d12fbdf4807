import type { Units } from '../../src/quantity/length-show.ts';
import type { PlanDesk } from '../cut-plans/desk.ts';
import type { Reader } from '../database/book.ts';
import { readGarment } from '../garments/garment/records.ts';
import { address, queryText } from '../kit/address.ts';
import { withBlank } from '../kit/choices.ts';
import { sliceOf } from '../kit/paging.ts';
import { tierPath } from '../kit/paths.ts';
import { countOf } from '../kit/words.ts';
import { readLotEvidence } from '../shelf/lot/store.ts';
import type { Page } from '../web/page-frame.ts';
import { shapeLine, shortStripsOf } from './line-view.ts';
import { readNeeds, type ShortLine, type UncountedTier } from './queries.ts';
import { readSelling, type SellingOf } from './selling.ts';
import { readShortSupplies, shapeShortSupplies } from './supplies.ts';
import { toGetOf } from './to-get.ts';

/** A page of Short: each line tells of all its garments. */
const MOST_LINES = 20;

/** What is short, over all open garments or for one, of all cloths or of one. @throws {Refusal} unknown garment */
export function shortPage(
  reader: Reader,
  desk: PlanDesk,
  query: unknown,
  {
    units,
    seesPrices,
    today,
  }: { readonly units: Units; readonly seesPrices: boolean; readonly today: string },
) {
  const code = queryText(query, 'garment');
  const only = code === '' ? null : readGarment(reader, code).code;
  const needs = readNeeds(reader, only === null ? {} : { garmentCode: only });
  const { troubles, waiting } = needs;
  const cloths = new Map(needs.lines.map(({ cloth }) => [String(cloth.id), cloth.name]));
  const cloth = cloths.has(queryText(query, 'cloth')) ? queryText(query, 'cloth') : '';
  const all = needs.lines.filter((line) => cloth === '' || String(line.cloth.id) === cloth);
  const asked = { garment: only ?? '', cloth };
  const { offset, pager } = sliceOf(query, {
    total: all.length,
    noun: 'needs',
    path: '/short',
    kept: asked,
    rows: MOST_LINES,
  });
  const isShort = (line: ShortLine) => shortStripsOf(line, only) > 0;
  const lines = [...all.filter(isShort), ...all.filter((line) => !isShort(line))].slice(offset, pager.to);
  const clothIds = lines.map(({ cloth }) => cloth.id);
  const sellingOf = readSelling(reader, today, clothIds, units);
  askPlanner(desk, lines, sellingOf);
  const lotIds = [...new Set(lines.flatMap(({ lots }) => lots.map(({ id }) => id)))];
  const context = { sellingOf, today, units, evidence: readLotEvidence(reader, lotIds) };
  const views = lines.map((line) => shapeLine(line, context, only));
  // Where a cloth was asked for, no supply is told.
  const supplies = cloth === '' ? readShortSupplies(reader, only) : [];
  const short = views.filter((line) => line.short > 0);
  const strips = all.map((line) => shortStripsOf(line, only)).filter((count) => count > 0);
  const toGet = all.reduce((sum, line) => sum + Math.min(shortStripsOf(line, only), line.toOrderStrips), 0);
  const data = {
    waiting,
    /** the code of the garment that was asked for, or '' */
    garment: only ?? '',
    garments: withBlank(
      needs.garments.map((garment) => ({
        value: garment.code,
        label: `${garment.code} ${garment.name}`,
      })),
      'all open garments',
    ),
    /** the cloth that was asked for, or '' */
    cloth,
    cloths: withBlank(
      [...cloths].map(([value, label]) => ({ value, label })).sort((a, b) => a.label.localeCompare(b.label)),
      'all cloths',
    ),
    summary: saySummary(strips, toGet, all.length, troubles),
    pager,
    short,
    /** needs of which nothing is short */
    met: views.filter((line) => line.short === 0),
    /** tiers whose needs are not known */
    troubles: troubles.map((trouble) => ({
      text: `${trouble.tierName} of ${trouble.garmentCode}: ${trouble.message}`,
      link: { text: `Change ${trouble.tierName}`, href: tierPath(trouble.garmentCode, trouble.tierId) },
    })),
    /** supplies that batches and garments are short of, or the one garment asked for */
    supplies: shapeShortSupplies(reader, supplies, { units, seesPrices }, today),
    order:
      all.some((line) => isShort(line) && line.toOrderStrips > 0) || supplies.some(({ toGet }) => toGet > 0)
        ? '/orders/new?from=short'
        : null,
    /** where the page is drawn again while the planner works; '' where nothing is awaited */
    awaited:
      short.some(({ unplanned }) => unplanned) && desk.asked > 0
        ? address('/short', { ...asked, page: queryText(query, 'page') })
        : '',
  };
  return { view: 'short/short', data, title: 'Short', room: 'short' } satisfies Page;
}

/** Has everything planned that only the hand rule has told so far; the page does not wait for it. */
function askPlanner(desk: PlanDesk, lines: readonly ShortLine[], sellingOf: SellingOf): void {
  for (const line of lines) {
    const { shares, shortStrips } = line;
    if (shortStrips === 0) continue;
    for (const { short } of shares) if (short.by === 'hand rule') desk.askPlan(short.job);
    const { job } = toGetOf(line, shares, sellingOf);
    if (job && shares.every(({ short }) => short.by !== 'hand rule')) desk.askPlan(job);
  }
}

/** `short` has the strips of each need that is short; of these `toGet` are neither being dyed nor on order. */
function saySummary(
  short: readonly number[],
  toGet: number,
  needs: number,
  troubles: readonly UncountedTier[],
): string {
  const unknown = troubles.length > 0 ? ' What cannot be worked out is not counted.' : '';
  if (needs === 0) return troubles.length > 0 ? 'No need is known yet.' : 'Nothing is needed.';
  if (short.length === 0) {
    return `Nothing is short: every strip of ${countOf(needs, 'need', 'needs')} is cut, held or free.${unknown}`;
  }
  const strips = short.reduce((sum, count) => sum + count, 0);
  const still = toGet === 0 ? 'Nothing more to get: all' : `${toGet} still to get: the rest`;
  const coming = toGet < strips ? ` ${still} is being dyed or on order.` : '';
  return `${countOf(strips, 'strip', 'strips')} short, in ${short.length} of ${countOf(needs, 'need', 'needs')}.${coming}${unknown}`;
}
