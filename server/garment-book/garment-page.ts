import { showSize, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { drawElevations, type Elevation } from '../garments/drawing/elevation.ts';
import { readCutStrips, readHeldStretches } from '../garments/garment/done.ts';
import { formFacts, sayGirth } from '../garments/garment/facts.ts';
import { clearanceFacts } from '../garments/garment/hem-words.ts';
import { readNames, shadesOf } from '../garments/garment/names.ts';
import { type OtherUseRow, readOtherUses } from '../garments/garment/other-uses.ts';
import { type Garment, readGarment } from '../garments/garment/records.ts';
import { warningsOf } from '../garments/garment/warnings.ts';
import { clothIdsOf, formOfGarment, tiersIn, workGarments } from '../garments/garment/worked.ts';
import { type SewingSummary, sewingSummary } from '../garments/sewing/summary.ts';
import { readWantedWhenHeld } from '../garments/versions/held-then.ts';
import { lastNumber } from '../garments/versions/queries.ts';
import { readVersionSlip, type VersionSlip } from '../garments/versions/slip.ts';
import type { Chip } from '../kit/chip.ts';
import {
  bookPath,
  copyPath,
  costPath,
  garmentPath,
  planPath,
  sewingPath,
  shortPath,
  tierPath,
  versionsPath,
} from '../kit/paths.ts';
import { showDay, showMoment } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import type { Page } from '../web/page-frame.ts';
import { type NeedView, readNeedViews } from './needs.ts';
import { type GarmentTierView, type SmallForm, smallForm, tierView } from './tier-rows.ts';

export type { GarmentTierView, SmallForm };

export interface GarmentPageData {
  readonly code: string;
  readonly name: string;
  readonly note: string;
  readonly due: string;
  readonly finished: string;
  readonly changed: string;
  /** the number of its version in force; 0 where none was kept yet */
  readonly version: number;
  /** null where the garment is finished: nothing of it is changed then */
  readonly links: { readonly edit: string; readonly addTier: string } | null;
  readonly short: string;
  /** its cut plans */
  readonly plan: string;
  /** further pages about this garment */
  readonly ways: readonly { readonly href: string; readonly text: string }[];
  readonly finish: SmallForm;
  /** how far it is, in a sentence */
  readonly status: string;
  readonly girths: readonly { readonly drop: string; readonly girth: string }[];
  /** what the form is given by besides */
  readonly form: readonly { readonly what: string; readonly text: string }[];
  readonly drawings: readonly Elevation[];
  readonly shades: readonly { readonly letter: string; readonly chip: Chip }[];
  readonly needs: readonly NeedView[];
  readonly warnings: readonly string[];
  /** mass, seams and time in short; null where no tier can be worked out */
  readonly sewing: SewingSummary | null;
  /** from which version it is cut, and what was changed since; null where nothing is cut */
  readonly cutFrom: VersionSlip | null;
  readonly tiers: readonly GarmentTierView[];
  /** cloth held and cut for it besides its tiers */
  readonly otherUses: readonly OtherUseRow[];
  readonly takenOut: readonly { readonly name: string; readonly putBack: SmallForm | null }[];
}

/** A garment: picture, needs, tiers and their strips, form, warnings. @throws {Refusal} unknown */
export function garmentPage(reader: Reader, code: string, units: Units): Page {
  const garment = readGarment(reader, code);
  const [worked] = workGarments(reader, [garment]);
  if (!worked) throw new Error('a garment that was read is worked out');
  const tiers = tiersIn(garment);
  const tierIds = tiers.map(({ id }) => id);
  const [cut, held] = [readCutStrips(reader, tierIds), readHeldStretches(reader, tierIds)];
  const shadeIds = shadesOf(garment);
  const clothIds = [...tiers.flatMap(clothIdsOf), ...[...cut, ...held].map(({ clothId }) => clothId)];
  const names = readNames(reader, clothIds, shadeIds);
  const path = garmentPath(code);
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const isOpen = garment.finishedAt === null;
  const needs = readNeedViews(reader, worked, names, units);
  const whenHeld = readWantedWhenHeld(reader, garment, tierIds);
  const context = { worked, cut, held, whenHeld, names, units };
  const data: GarmentPageData = {
    code: garment.code,
    name: garment.name,
    note: garment.note,
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    finished: isOpen ? '' : showMoment(garment.finishedAt ?? ''),
    changed: sayChanged(garment),
    version: lastNumber(reader, garment.id),
    links: isOpen ? { edit: `${path}/edit`, addTier: `${path}/tiers/new` } : null,
    short: shortPath(code),
    plan: planPath(code),
    ways: [
      { href: sewingPath(code), text: 'Sewing, mass and thread' },
      { href: costPath(code), text: 'Cost' },
      { href: bookPath(code), text: 'Garment book' },
      { href: versionsPath(code), text: 'Versions' },
      { href: copyPath(code), text: 'Duplicate' },
    ],
    finish: isOpen ? smallForm(`${path}/finished`, 'Mark finished') : smallForm(`${path}/reopened`, 'Reopen'),
    status: sayStatus(needs),
    girths: garment.girths.map((girth) => ({ drop: size(girth.dropTicks), girth: sayGirth(girth, size) })),
    form: [
      ...formFacts(garment, units).map(({ what, text }) => ({ what, text })),
      ...clearanceFacts(formOfGarment(garment), garment, units),
    ],
    drawings: drawElevations(worked, names, units),
    shades: [...new Set(shadeIds)].map((id) => ({ letter: names.letter(id), chip: names.chip(id) })),
    needs,
    warnings: warningsOf(worked, units),
    sewing: sewingSummary(reader, worked, units),
    cutFrom: readVersionSlip(reader, garment, names, units),
    tiers: tiers.map((tier, place) => tierView(context, tier, place + 1)),
    otherUses: readOtherUses(reader, garment.id, units),
    takenOut: garment.tiers
      .filter(({ takenOutAt }) => takenOutAt !== null)
      .map(({ id, name }) => ({
        name,
        putBack: isOpen ? smallForm(`${tierPath(code, id)}/put-back`, `Put ${name} back`) : null,
      })),
  };
  return { view: 'garment-book/garment', data, title: garment.name, room: 'garments' };
}

/** "36 strips: 19 cut, 9 held, 0 free, 8 short"; '' where nothing is needed. */
function sayStatus(needs: readonly NeedView[]): string {
  const sum = (of: (need: NeedView) => number) => needs.reduce((total, need) => total + of(need), 0);
  const strips = countOf(
    sum((need) => need.strips),
    'strip',
    'strips',
  );
  if (needs.length === 0) return '';
  const cut = `${sum((need) => need.cut)} cut`;
  if (needs.every(({ met }) => met === null)) return `${strips}: ${cut}.`;
  const parts = [
    cut,
    `${sum(({ met }) => met?.held ?? 0)} held`,
    `${sum(({ met }) => met?.free ?? 0)} free`,
    `${sum(({ met }) => met?.short ?? 0)} short`,
  ];
  return `${strips}: ${parts.join(', ')}.`;
}

function sayChanged({ changedAt, changedBy }: Garment): string {
  if (changedAt === null) return '';
  return `${showMoment(changedAt)}${changedBy === null ? '' : ` by ${changedBy}`}`;
}
