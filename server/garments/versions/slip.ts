import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { comparePath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import type { Names } from '../garment/names.ts';
import type { Garment } from '../garment/records.ts';
import { stripRowsOf } from '../garment/strip-rows.ts';
import { changesBetween, sayChange } from './changes.ts';
import { lastNumber, readCutFrom, readVersion } from './queries.ts';
import { garmentOf } from './snapshot.ts';

/** What a page says of the version that was cut from: views/partials/slip prints it. */
export interface VersionSlip {
  readonly kind: 'note' | 'warn';
  readonly label: string;
  readonly text: string;
  readonly more: readonly string[];
  readonly link?: { readonly href: string; readonly text: string };
}

/** More changes than this are left to the page that compares the two versions. */
const MOST_TOLD = 6;

/** From which version a garment is cut, and that a change is told; '' where nothing is cut. */
export function sayLocked(reader: Reader, garment: Garment): string {
  const cut = readCutFrom(reader, garment);
  if (!cut) return '';
  const from = cut.number === null ? '' : ` from version ${cut.number}`;
  return `Cutting began ${showMoment(cut.at)}${from}. A change of the form is saved as a new version, which shows what then differs from what is cut or held.`;
}

/** What of a tier or part was changed since cutting began, in a sentence; none where it is as it was cut. */
export function sayChangedSince(
  reader: Reader,
  garment: Garment,
  tierId: number,
  names: Names,
  units: Units,
): string[] {
  const cut = readCutFrom(reader, garment);
  const tier = stripRowsOf(garment).find(({ id }) => id === tierId);
  if (!cut || cut.number === null || !tier) return [];
  const then = garmentOf(garment, readVersion(reader, garment, cut.number).snapshot);
  const changes = changesBetween(then, garment, names, units).filter(
    ({ of }) => of === tier.name || (of === 'Form' && !tier.isPart),
  );
  if (changes.length === 0) return [];
  const last = lastNumber(reader, garment.id);
  return [
    `${garment.code} is cut from version ${cut.number} and is version ${last} now: ${changes.map(sayChange).join('; ')}.`,
  ];
}

/** Since when a garment is cut and from which version, and what was changed since; null where nothing is cut. */
export function readVersionSlip(
  reader: Reader,
  garment: Garment,
  names: Names,
  units: Units,
): VersionSlip | null {
  const cut = readCutFrom(reader, garment);
  if (!cut) return null;
  const since = showMoment(cut.at);
  if (cut.number === null) {
    return { kind: 'note', label: 'Cutting', text: `Cutting began ${since}.`, more: [] };
  }
  const last = lastNumber(reader, garment.id);
  const then = garmentOf(garment, readVersion(reader, garment, cut.number).snapshot);
  const changes = changesBetween(then, garment, names, units).filter(({ of }) => of !== 'Garment');
  if (changes.length === 0) {
    const from = `Cutting began ${since}, from version ${cut.number}.`;
    const next = garment.finishedAt === null ? ' Changes are saved as a new version.' : '';
    return { kind: 'note', label: 'Cutting', text: `${from}${next}`, more: [] };
  }
  return {
    kind: 'warn',
    label: 'Changed since cutting began',
    text: `It is cut from version ${cut.number}, ${since}, and is version ${last} now.`,
    more: [
      ...changes.slice(0, MOST_TOLD).map(sayChange),
      ...(changes.length > MOST_TOLD ? [`and ${changes.length - MOST_TOLD} more`] : []),
    ],
    link: {
      href: comparePath(garment.code, String(cut.number), String(last)),
      text: 'Compare the two, with their needs',
    },
  };
}
