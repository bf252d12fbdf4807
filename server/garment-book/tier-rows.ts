import type { Units } from '../../src/quantity/length-show.ts';
import { drawStripChart, type StripChart } from '../garments/drawing/strip-chart.ts';
import type { CutFor, HeldFor } from '../garments/garment/done.ts';
import type { Names } from '../garments/garment/names.ts';
import type { Garment, TierRecord } from '../garments/garment/records.ts';
import { asTier, type WorkedGarment } from '../garments/garment/worked.ts';
import {
  shapeDone,
  shapeTier,
  type TierDoneView,
  type TierView,
  tierNamesOf,
} from '../garments/tier/view.ts';
import type { WantedNow } from '../garments/versions/differences.ts';
import { backwardsPath, cuttingPath, tierPath } from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import { countOf } from '../kit/words.ts';

/** A form of one button. */
export interface SmallForm {
  readonly action: string;
  readonly key: string;
  readonly text: string;
}

export interface GarmentTierView {
  readonly id: number;
  /** as the tiers are numbered in the picture, from the top down */
  readonly number: number;
  readonly name: string;
  /** "9 strips, 2 left to cut", or why it cannot be worked out */
  readonly brief: string;
  readonly edit: string | null;
  /** what it can be with the cloth there is */
  readonly backwards: string;
  readonly table: string;
  readonly takeOut: SmallForm | null;
  readonly worked: (TierView & { readonly done: TierDoneView; readonly chart: StripChart }) | null;
  readonly problems: readonly string[];
}

export interface TierContext {
  readonly worked: WorkedGarment;
  readonly cut: readonly CutFor[];
  readonly held: readonly HeldFor[];
  /** what the tiers wanted when cloth was last held for them */
  readonly whenHeld: readonly WantedNow[];
  readonly names: Names;
  readonly units: Units;
}

/** A tier of a garment's page, with what is cut and held for it. */
export function tierView(context: TierContext, tier: TierRecord, number: number): GarmentTierView {
  const { garment, problems } = context.worked;
  const { code } = garment;
  const isOpen = garment.finishedAt === null;
  const worked = workedView(context, tier);
  const mine = problems.filter(({ tierId }) => tierId === tier.id).map(({ message }) => message);
  return {
    id: tier.id,
    number,
    name: tier.name,
    brief: worked ? sayBrief(worked.strips, worked.done) : 'not worked out',
    edit: isOpen ? tierPath(code, tier.id) : null,
    backwards: backwardsPath(code, tier.id),
    table: cuttingPath(code, tier.id),
    takeOut: isOpen ? smallForm(`${tierPath(code, tier.id)}/taken-out`, `Take ${tier.name} out`) : null,
    worked,
    problems: worked || mine.length > 0 ? mine : [sayWaiting(tier, garment)],
  };
}

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

export function smallForm(action: string, text: string): SmallForm {
  return { action, key: mintKey(), text };
}
