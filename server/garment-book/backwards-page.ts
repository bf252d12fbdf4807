import {
  canBeCut,
  deepest,
  fullest,
  isAllCut,
  leastCloth,
  type Rework,
  reworkOf,
  type StripLengthAnswer,
  stripLengths,
  type TierSupply,
} from '../../src/fit/tier-backwards.ts';
import { besideColumns } from '../../src/garment/backwards.ts';
import type { WorkedTier } from '../../src/garment/tiers.ts';
import { sayFullness, showFullness } from '../../src/quantity/fullness.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';
import { SIZE_STEP_TICKS, showLength, showSize, type Units } from '../../src/quantity/length-show.ts';
import { showPercent } from '../../src/quantity/whole.ts';
import { writeSize } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import { readCutStrips, readHeldStretches } from '../garments/garment/done.ts';
import { type Names, readNames } from '../garments/garment/names.ts';
import type { Garment, TierRecord } from '../garments/garment/records.ts';
import { asTier, clothIdsOf, formOfGarment, readUsableWidths, tiersIn } from '../garments/garment/worked.ts';
import { type TakenField, takeOverPath } from '../garments/tier/taken-over.ts';
import { sayLots } from '../garments/tier/view.ts';
import { pencilUnits } from '../garments/tier/working-words.ts';
import { garmentPath, tierPath } from '../kit/paths.ts';
import { countOf, listed } from '../kit/words.ts';
import { readFreeStretches } from '../short/supply.ts';
import type { Page } from '../web/page-frame.ts';

const MOST_DEPTH_TICKS = 10 * TICKS_PER.m;

/** A tier backwards: from what there is to how full and how deep it can be, and to the strip that wastes least. */
export function backwardsPage(reader: Reader, garment: Garment, tier: TierRecord, units: Units) {
  const clothIds = clothIdsOf(tier);
  const all = readUsableWidths(reader, [...new Set(tiersIn(garment).flatMap(clothIdsOf))]);
  const form = formOfGarment(garment);
  const rework = reworkOf({ form, tiers: tiersIn(garment).map(asTier) }, tier.id, all);
  const now = tier.takenOutAt === null ? rework({}) : null;
  const names = readNames(
    reader,
    clothIds,
    tier.blocks.map(({ shadeId }) => shadeId),
  );
  const supply = readSupply(reader, tier, clothIds);
  const used = new Map(
    [...all].filter(([id]) => tier.blocks.some((block) => (block.clothId ?? tier.clothId) === id)),
  );
  const open = garment.finishedAt === null;
  const asked = { garment, tier, now, rework, supply, units, open };
  const data = {
    garment: { code: garment.code, name: garment.name, href: garmentPath(garment.code) },
    tier: { name: tier.name, href: tierPath(garment.code, tier.id) },
    /** why nothing can be answered; '' where it can */
    trouble: now ? '' : `${tier.name} cannot be worked out as it stands, so nothing follows backwards.`,
    /** what is free, held and cut of each shade */
    supply: now ? supplyRows(now, supply, names, units) : [],
    /** other tiers of the garment that want the same */
    rivals: rivalsOf(garment, tier),
    ...(now && isAllCut(now, supply)
      ? sayAllCut(tier, units)
      : {
          fullness: now && sayFullest({ ...asked, now }),
          depth: now && sayDeepest({ ...asked, now }),
          lengths: now && sayLengths({ ...asked, now }, used),
        }),
  };
  return {
    view: 'garment-book/backwards',
    data,
    title: `${tier.name}, backwards`,
    room: 'garments',
  } satisfies Page;
}

interface Asked {
  readonly garment: Garment;
  readonly tier: TierRecord;
  readonly now: WorkedTier;
  readonly rework: Rework;
  readonly supply: TierSupply;
  readonly units: Units;
  /** false where the garment is finished and nothing of it is changed */
  readonly open: boolean;
}

function readSupply(reader: Reader, tier: TierRecord, clothIds: readonly number[]): TierSupply {
  return {
    free: readFreeStretches(reader, { clothIds: [...new Set(clothIds)] }),
    held: readHeldStretches(reader, [tier.id]),
    cut: readCutStrips(reader, [tier.id]),
  };
}

/** "Organza, Moss": "12.3 m free in 3 pieces of 2 lots; 4 of 6 strips cut". */
function supplyRows(now: WorkedTier, supply: TierSupply, names: Names, units: Units) {
  return now.count.perShade.map(({ clothId, shadeId, count, lots }) => {
    const isSame = (row: { readonly clothId: number; readonly shadeId: number }) =>
      row.clothId === clothId && row.shadeId === shadeId;
    const free = supply.free.filter(isSame);
    const held = supply.held.filter(isSame);
    const cut = supply.cut.filter(isSame).reduce((sum, one) => sum + one.count, 0);
    const sum = (stretches: readonly { readonly lengthTicks: number }[]) =>
      showLength(
        stretches.reduce((total, { lengthTicks }) => total + lengthTicks, 0),
        units,
        'down',
      );
    const lotCount = new Set(free.map(({ lotId }) => lotId)).size;
    const pieces = `${countOf(free.length, 'piece', 'pieces')} of ${countOf(lotCount, 'lot', 'lots')}`;
    const parts = [
      free.length === 0 ? 'nothing free' : `${sum(free)} free in ${pieces}`,
      ...(held.length > 0 ? [`${sum(held)} held for it`] : []),
      ...(cut > 0 ? [`${cut} of ${countOf(count, 'strip', 'strips')} cut`] : []),
      lots === 'meet' ? 'each lot by itself' : sayLots(lots),
    ];
    return { what: `${names.cloth(clothId)}, ${names.shade(shadeId)}`, text: parts.join('; ') };
  });
}

function rivalsOf(garment: Garment, tier: TierRecord): string {
  const keys = (one: TierRecord) =>
    one.blocks.map((block) => `${block.clothId ?? one.clothId} ${block.shadeId}`);
  const mine = new Set(keys(tier));
  const others = tiersIn(garment).filter(
    (one) => one.id !== tier.id && keys(one).some((key) => mine.has(key)),
  );
  return others.length === 0 ? '' : listed(others.map(({ name }) => name));
}

/** A tier that is cut stays as it is: another fullness or depth would want new strips. */
function sayAllCut(tier: TierRecord, units: Units) {
  const more = 'All its strips are cut.';
  const depth = showSize(tier.depthTicks, units, 'near');
  return {
    fullness: { sentence: `Its fullness stays at ${showFullness(tier.fullnessMilli)}×.`, more, take: null },
    depth: { sentence: `Its depth stays at ${depth}.`, more, take: null },
    lengths: null,
  };
}

/** The tier's form with an answer filled in; nothing of a finished garment is changed. */
function takeOver({ garment, tier, open }: Asked, field: TakenField, text: string, words: string) {
  return open ? { href: takeOverPath(garment.code, tier.id, field, text), text: words } : null;
}

function takeDepth(asked: Asked, depthTicks: number) {
  const { units } = asked;
  const words = `Make it ${showSize(depthTicks, units, 'down')} deep`;
  return takeOver(asked, 'depth', writeSize(depthTicks, units), words);
}

function sayFullest(asked: Asked) {
  const { tier, now, rework, supply } = asked;
  const found = fullest(now, rework, supply);
  if (found === null) {
    const more = 'What is free, held and cut does not even give a flat band of this depth.';
    return { sentence: sayNoWay('It cannot be cut from what there is.', supply), more, take: null };
  }
  const text = showFullness(found.fullnessMilli);
  const { strips, fullnessMilli: got } = found.worked.count;
  const isNow = canBeCut(now, supply);
  const wanted = `${sayFullness(tier)}× is wanted now, ${isNow ? 'which can be cut' : 'which cannot'}.`;
  return {
    sentence: `The cloth would do for ${text}×, with ${countOf(strips, 'strip', 'strips')}.`,
    more: `Whole strips then give ${showFullness(got)}×. ${wanted}`,
    take:
      found.fullnessMilli === tier.fullnessMilli
        ? null
        : takeOver(asked, 'fullness', text, `Make it ${text}× full`),
  };
}

/** That it cannot be cut is proved only where there is no cloth at all: the hand rule may miss a way. */
function sayNoWay(proved: string, { free, held, cut }: TierSupply): string {
  const isNothing = free.length + held.length + cut.length === 0;
  return isNothing ? proved : 'No way was found to cut it from what there is; not proved.';
}

function sayDeepest(asked: Asked) {
  const { tier, rework, supply, units } = asked;
  const found = deepest(rework, supply, MOST_DEPTH_TICKS, SIZE_STEP_TICKS[units.system]);
  if (found === null) {
    return {
      sentence: sayNoWay('At its fullness it cannot be cut in any depth.', supply),
      more: '',
      take: null,
    };
  }
  const size = (ticks: number) => showSize(ticks, units, 'down');
  return {
    sentence: `At ${sayFullness(tier)}× the cloth would do for a depth of ${size(found.depthTicks)}.`,
    more: `Each strip is then cut ${size(found.worked.cutDepthTicks)} deep. It is ${showSize(tier.depthTicks, units, 'near')} now.`,
    take: found.depthTicks === tier.depthTicks ? null : takeDepth(asked, found.depthTicks),
  };
}

function sayLengths(asked: Asked, widths: ReadonlyMap<number, number>) {
  const { tier, rework, units } = asked;
  if (tier.direction === 'along') {
    return { best: sayAlong(asked, Math.min(...widths.values())), rows: [] };
  }
  const answers = stripLengths(asTier(tier), rework, widths);
  const best = leastCloth(answers);
  const [now] = answers;
  if (!best || !now) return null;
  const take = (one: StripLengthAnswer) => {
    const text = one.stripLengthTicks === null ? '' : writeSize(one.stripLengthTicks, units);
    const words = `Cut strips of ${sayLengthOf(one, widths, units)}`;
    return one === now ? null : takeOver(asked, 'strip_length', text, words);
  };
  return {
    best: {
      sentence: sayBest(best, now, widths, units),
      more: widths.size > 1 ? 'Its cloths are not alike wide: the fractions are of the narrowest.' : '',
      take: take(best),
    },
    rows: answers.map((one) => ({
      length: sayLengthOf(one, widths, units),
      now: one === now,
      best: one === best,
      strips: one.strips,
      seams: one.seams,
      fullness: `${showFullness(one.fullnessMilli)}×`,
      cloth: showLength(one.clothTicks, units, 'up'),
      waste: showPercent(Math.ceil(one.wasteBp / 100) * 100),
      take: take(one)?.href ?? null,
    })),
  };
}

function sayBest(
  best: StripLengthAnswer,
  now: StripLengthAnswer,
  widths: ReadonlyMap<number, number>,
  units: Units,
): string {
  if (best === now)
    return `Strips of ${sayLengthOf(now, widths, units)} take least cloth: they are what is cut now.`;
  const cloth = now.clothTicks - best.clothTicks;
  const seams = now.seams - best.seams;
  const saved = [
    ...(cloth > 0 ? [`${showLength(cloth, units, 'down')} of cloth`] : []),
    ...(seams > 0 ? [countOf(seams, 'seam', 'seams')] : []),
  ];
  const cost = seams < 0 ? `, for ${countOf(-seams, 'seam', 'seams')} more` : '';
  return `Strips of ${sayLengthOf(best, widths, units)} instead of ${sayLengthOf(now, widths, units)} save ${listed(saved)}${cost}.`;
}

function sayLengthOf(
  { stripLengthTicks }: StripLengthAnswer,
  widths: ReadonlyMap<number, number>,
  units: Units,
): string {
  if (stripLengthTicks !== null) return showSize(stripLengthTicks, pencilUnits(units), 'down');
  const [only, ...others] = [...new Set(widths.values())];
  const whole = 'the whole usable width';
  return only === undefined || others.length > 0 ? whole : `${whole} of ${showSize(only, units, 'near')}`;
}

/** Along the cloth its width is shared by the depth of strips; their length only makes seams. */
function sayAlong(asked: Asked, widthTicks: number) {
  const { tier, now, units } = asked;
  const columns = Math.floor(widthTicks / now.cutDepthTicks);
  const beside = besideColumns(widthTicks, now.cutDepthTicks);
  const step = SIZE_STEP_TICKS[units.system];
  const most = tier.depthTicks + Math.floor(beside / columns);
  const depthTicks = most - (most % step);
  const size = (ticks: number) => showSize(ticks, units, 'down');
  return {
    sentence: `Along the cloth ${countOf(columns, 'strip lies', 'strips lie')} side by side in ${size(widthTicks)}, and ${size(beside)} are left beside.`,
    more: `A finished depth of up to ${size(depthTicks)} takes no more cloth; a longer strip only saves seams.`,
    take: depthTicks > tier.depthTicks ? takeDepth(asked, depthTicks) : null,
  };
}
