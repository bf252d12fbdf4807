import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { sliceOf } from '../../kit/paging.ts';
import { comparePath, garmentPath, versionsPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import type { Page } from '../../web/page-frame.ts';
import { readNames, shadesOf } from '../garment/names.ts';
import { readGarment } from '../garment/records.ts';
import { type Change, changesBetween, sayChange } from './changes.ts';
import { type CutFromVersion, clothsOf, lastNumber, readCutFrom, readGarmentVersions } from './queries.ts';
import { garmentOf } from './snapshot.ts';

/** The kept versions of a garment. @throws {Refusal} unknown */
export function versionsPage(reader: Reader, code: string, query: unknown, units: Units) {
  const garment = readGarment(reader, code);
  const last = lastNumber(reader, garment.id);
  const { offset, pager } = sliceOf(query, { total: last, noun: 'versions', path: versionsPath(code) });
  const [first, top] = [last - pager.to + 1, last - offset];
  // One more below, so that the first of the page is told from the one before it.
  const versions = readGarmentVersions(reader, garment.id, first - 1, top);
  const states = versions.map(({ snapshot }) => garmentOf(garment, snapshot));
  const names = readNames(reader, states.flatMap(clothsOf), states.flatMap(shadesOf));
  const cut = readCutFrom(reader, garment);
  const rows = versions.map(({ number, at, by, said }, place) => {
    const [before, now] = [states[place - 1], states[place]];
    return {
      number,
      at: showMoment(at),
      by,
      said,
      /** from the version before it */
      changes: before && now ? changesBetween(before, now, names, units).filter(isTold).map(sayChange) : [],
      inForce: number === last,
      cutFrom: number === cut?.number,
      // beside the one before it, and the one in force
      compare: before ? comparePath(code, String(number - 1), String(number)) : null,
      compareNow: number === last ? null : comparePath(code, String(number), String(last)),
    };
  });
  const data = {
    garment: { code: garment.code, name: garment.name, href: garmentPath(code) },
    versions: rows.filter(({ number }) => number >= first).reverse(),
    pager,
    cut: sayCut(cut),
  };
  return {
    view: 'garments/versions/versions',
    data,
    title: `${garment.name}: versions`,
    room: 'garments',
  } satisfies Page;
}

/** A tier or part that was added or taken out is told by what was said of it. */
function isTold({ what }: Change): boolean {
  return what !== 'Tier' && what !== 'Part';
}

function sayCut(cut: CutFromVersion | null): string {
  if (!cut) return '';
  const since = showMoment(cut.at);
  return cut.number === null
    ? `Cutting began ${since}, before versions were kept.`
    : `Cutting began ${since}, from version ${cut.number}.`;
}
