import { showSize, type Units } from '../../src/quantity/length-show.ts';
import { shapeWholeGarment } from '../buying/whole-garment.ts';
import { readNextThing } from '../by-when/next.ts';
import type { Reader } from '../database/book.ts';
import { shapeMade } from '../garments/as-made/measures.ts';
import { drawnGarment } from '../garments/drawing/elevation.ts';
import { drawStripChart } from '../garments/drawing/strip-chart.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../garments/garment/done.ts';
import { formFacts, sayGirth } from '../garments/garment/facts.ts';
import { clearanceFacts } from '../garments/garment/hem-words.ts';
import { type Names, readNames, shadesOf } from '../garments/garment/names.ts';
import { shapeOpening } from '../garments/garment/opening.ts';
import { readOtherUses } from '../garments/garment/other-uses.ts';
import { sayLowerEdges } from '../garments/garment/place.ts';
import type { Garment, TierRecord } from '../garments/garment/records.ts';
import { warningsOf } from '../garments/garment/warnings.ts';
import {
  asTier,
  clothIdsOf,
  formOfGarment,
  tiersIn,
  type WorkedGarment,
  workGarment,
} from '../garments/garment/worked.ts';
import { listParts } from '../garments/parts/listed.ts';
import { sewingSummary } from '../garments/sewing/summary.ts';
import { shapeDone, shapeTier, type TierDoneView, tierNamesOf } from '../garments/tier/view.ts';
import type { WantedNow } from '../garments/versions/differences.ts';
import { readWantedWhenHeld } from '../garments/versions/held-then.ts';
import { lastNumber } from '../garments/versions/queries.ts';
import { readVersionSlip } from '../garments/versions/slip.ts';
import {
  asMadePath,
  backwardsPath,
  bookPath,
  copyPath,
  costPath,
  cuttingPath,
  daysPath,
  garmentPath,
  planPath,
  progressPath,
  sewingPath,
  shortPath,
  tierPath,
  versionsPath,
} from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import { showDay, showMoment } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { shapeProgress } from '../today/progress.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { type NeedView, readNeedViews } from './needs.ts';

/** A garment: picture, needs, tiers and their strips, form, warnings. @throws {Refusal} unknown */
export function garmentPage(
  reader: Reader,
  code: string,
  asker: Pick<Asker, 'units' | 'seesPrices'>,
  today: string,
) {
  const { units } = asker;
  const worked = workGarment(reader, code);
  const { garment } = worked;
  const tiers = tiersIn(garment);
  const tierIds = tiers.map(({ id }) => id);
  const [cut, held] = [readCutStrips(reader, tierIds), readHeldStretches(reader, tierIds)];
  const shadeIds = shadesOf(garment);
  const used = [...worked.parts, ...cut, ...held];
  const clothIds = [...tiers.flatMap(clothIdsOf), ...used.map(({ clothId }) => clothId)];
  const names = readNames(reader, clothIds, shadeIds);
  const path = garmentPath(code);
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const isOpen = garment.finishedAt === null;
  const needs = readNeedViews(reader, worked, names, units);
  const whenHeld = readWantedWhenHeld(reader, garment, tierIds);
  const lowerEdges = sayLowerEdges(garment, units);
  const context = { worked, lowerEdges, cut, held, whenHeld, names, units };
  const data = {
    code: garment.code,
    name: garment.name,
    note: garment.note,
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    finished: isOpen ? '' : showMoment(garment.finishedAt ?? ''),
    changed: sayChanged(garment),
    /** that is in force; 0 where none was kept yet */
    version: lastNumber(reader, garment.id),
    /** Nothing of a finished garment is changed. */
    links: isOpen ? { edit: `${path}/edit`, addTier: `${path}/tiers/new` } : null,
    /** the next thing and its last day; null without a due day */
    next: isOpen && garment.dueOn !== null ? readNextThing(reader, garment.id, today) : null,
    short: shortPath(code),
    plan: planPath(code),
    ways: [
      { href: progressPath(code), text: 'Progress' },
      { href: sewingPath(code), text: 'Sewing, mass and thread' },
      ...(isOpen ? [{ href: daysPath(code), text: 'By when' }] : []),
      { href: asMadePath(code), text: 'As made' },
      { href: costPath(code), text: 'Cost' },
      { href: bookPath(code), text: 'Garment book' },
      { href: versionsPath(code), text: 'Versions' },
      { href: copyPath(code), text: 'Duplicate' },
    ],
    finish: isOpen ? smallForm(`${path}/finished`, 'Mark finished') : smallForm(`${path}/reopened`, 'Reopen'),
    status: sayStatus(needs),
    progress: progressOf(needs),
    progressHref: progressPath(code),
    girths: garment.girths.map((girth) => ({ drop: size(girth.dropTicks), girth: sayGirth(girth, size) })),
    /** what the form is given by besides */
    form: [
      ...formFacts(garment, units).map(({ what, text }) => ({ what, text: text() })),
      ...clearanceFacts(formOfGarment(garment), garment, units),
    ],
    drawings: drawnGarment(reader, code, units),
    shades: [...new Set(shadeIds)].map((id) => ({ letter: names.letter(id), chip: names.chip(id) })),
    needs,
    /** all its cloth in whole put-ups; null where it is finished */
    whole: isOpen ? shapeWholeGarment(reader, worked, names, asker, today) : null,
    warnings: warningsOf(worked, units),
    sewing: sewingSummary(reader, worked, units),
    opening: shapeOpening(worked, units),
    parts: listParts(reader, worked, units),
    made: shapeMade(reader, garment, units),
    cutFrom: readVersionSlip(reader, garment, names, units),
    tiers: tiers.map((tier) => tierView(context, tier)),
    otherUses: readOtherUses(reader, garment.id, units),
    takenOut: garment.tiers
      .filter(({ takenOutAt }) => takenOutAt !== null)
      .map(({ id, name }) => ({
        name,
        putBack: isOpen ? smallForm(`${tierPath(code, id)}/put-back`, `Put ${name} back`) : null,
      })),
  };
  return { view: 'garment-book/garment', data, title: garment.name, room: 'garments' } satisfies Page;
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

/** How far its strips are; null where it asks for nothing more. */
function progressOf(needs: readonly NeedView[]) {
  if (needs.every(({ met }) => met === null)) return null;
  const sum = (of: (need: NeedView) => number) => needs.reduce((total, need) => total + of(need), 0);
  return shapeProgress({
    wanted: sum(({ strips }) => strips),
    cut: sum(({ cut }) => cut),
    held: sum(({ met }) => met?.held ?? 0),
    short: sum(({ met }) => met?.short ?? 0),
  });
}

function sayChanged({ changedAt, changedBy }: Garment): string {
  if (changedAt === null) return '';
  return `${showMoment(changedAt)}${changedBy === null ? '' : ` by ${changedBy}`}`;
}

interface TierContext {
  readonly worked: WorkedGarment;
  readonly lowerEdges: ReadonlyMap<number, string>;
  readonly cut: readonly CutFor[];
  readonly held: readonly HeldFor[];
  /** what the tiers wanted when cloth was last held for them */
  readonly whenHeld: readonly WantedNow[];
  readonly names: Names;
  readonly units: Units;
}

/** A tier of a garment's page, with what is cut and held for it. */
function tierView(context: TierContext, tier: TierRecord) {
  const { garment, problems } = context.worked;
  const { code } = garment;
  const isOpen = garment.finishedAt === null;
  const worked = workedView(context, tier);
  const mine = problems.filter(({ tierId }) => tierId === tier.id).map(({ message }) => message);
  return {
    id: tier.id,
    label: tier.label,
    name: tier.name,
    /** where its lower edge lies; '' where that is not known */
    lowerEdge: context.lowerEdges.get(tier.id) ?? '',
    brief: worked ? sayBrief(worked.strips, worked.done) : 'not worked out',
    edit: isOpen ? tierPath(code, tier.id) : null,
    /** what it can be with the cloth there is */
    backwards: backwardsPath(code, tier.id),
    table: cuttingPath(code, tier.id),
    takeOut: isOpen ? smallForm(`${tierPath(code, tier.id)}/taken-out`, `Take ${tier.name} out`) : null,
    worked,
    problems: worked || mine.length > 0 ? mine : [sayWaiting(tier, garment)],
  };
}

export type GarmentTierView = ReturnType<typeof tierView>;

function workedView({ worked, cut, held, whenHeld, names, units }: TierContext, tier: TierRecord) {
  const found = worked.tiers.find(({ tierId }) => tierId === tier.id);
  if (!found) return null;
  const isMine = ({ tierId }: { readonly tierId: number }) => tierId === tier.id;
  return {
    ...shapeTier(asTier(tier), found, tierNamesOf(worked.garment), names, units),
    done: shapeDone(found, cut.filter(isMine), held.filter(isMine), names, units, whenHeld.filter(isMine)),
    chart: drawStripChart(tier.blocks, found.count.strips, tier.offsetStrips, names),
  };
}

/** Why a tier with nothing against it is not worked out: it follows from one that is not. */
function sayWaiting(tier: TierRecord, { tiers }: Garment): string {
  const on = tiers.find(({ id }) => id === tier.onTierId);
  const ratio = tiers.find(({ id }) => id === tier.ratioTierId);
  const verb = on ? (tier.hangs === 'face' ? 'lies on' : 'edges') : 'takes its length from';
  return `It ${verb} ${(on ?? ratio)?.name ?? 'another tier'}, which cannot be worked out.`;
}

function sayBrief(strips: number, { shades }: TierDoneView): string {
  const left = shades.reduce((sum, shade) => sum + shade.left + shade.heldStrips, 0);
  const all = countOf(strips, 'strip', 'strips');
  return left === 0 ? `${all}, all cut` : `${all}, ${left} to cut`;
}

/** A form of one button. */
function smallForm(action: string, text: string) {
  return { action, key: mintKey(), text };
}
