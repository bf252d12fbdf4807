import { showSize, type Units } from '../../src/length-show.ts';
import type { Reader } from '../database/book.ts';
import type { Chip } from '../shelf/chip.ts';
import type { Page } from '../web/page.ts';
import { mintKey } from '../web/request-key.ts';
import { showDay, showMoment } from '../when.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from './done.ts';
import { drawElevation, type Elevation } from './elevation.ts';
import { type NeedView, readNeedViews } from './garment-needs.ts';
import { warningsOf } from './garment-warnings.ts';
import { type Names, readNames } from './names.ts';
import { cuttingPath, garmentPath, shortPath, tierPath } from './paths.ts';
import { type Garment, readGarment, type TierRecord } from './records.ts';
import { shapeDone, shapeTier, type TierDoneView, type TierView } from './tier-view.ts';
import { asTier, tiersIn, type WorkedGarment, workGarments } from './worked.ts';

export interface GarmentPageData {
  readonly code: string;
  readonly name: string;
  readonly note: string;
  readonly due: string;
  readonly finished: string;
  readonly changed: string;
  /** null where the garment is finished: nothing of it is changed then */
  readonly links: { readonly edit: string; readonly addTier: string } | null;
  readonly short: string;
  readonly finish: SmallForm;
  readonly girths: readonly { readonly drop: string; readonly girth: string }[];
  readonly drawing: Elevation | null;
  readonly shades: readonly { readonly letter: string; readonly chip: Chip }[];
  readonly needs: readonly NeedView[];
  readonly warnings: readonly string[];
  readonly tiers: readonly GarmentTierView[];
  readonly takenOut: readonly { readonly name: string; readonly putBack: SmallForm | null }[];
}

/** A form of one button. */
export interface SmallForm {
  readonly action: string;
  readonly key: string;
  readonly text: string;
}

export interface GarmentTierView {
  readonly id: number;
  readonly name: string;
  readonly edit: string | null;
  readonly table: string;
  readonly takeOut: SmallForm | null;
  readonly worked: (TierView & { readonly done: TierDoneView }) | null;
  readonly problems: readonly string[];
}

/** A garment: form, tiers and their strips, needs, picture, warnings. @throws {Refusal} unknown */
export function garmentPage(reader: Reader, code: string, units: Units): Page {
  const garment = readGarment(reader, code);
  const [worked] = workGarments(reader, [garment]);
  if (!worked) throw new Error('a garment that was read is worked out');
  const tiers = tiersIn(garment);
  const tierIds = tiers.map(({ id }) => id);
  const [cut, held] = [readCutStrips(reader, tierIds), readHeldStretches(reader, tierIds)];
  const shadeIds = tiers.flatMap(({ blocks }) => blocks.map(({ shadeId }) => shadeId));
  const clothIds = [...tiers, ...cut, ...held].map(({ clothId }) => clothId);
  const names = readNames(reader, clothIds, shadeIds);
  const path = garmentPath(code);
  const isOpen = garment.finishedAt === null;
  const data: GarmentPageData = {
    code: garment.code,
    name: garment.name,
    note: garment.note,
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    finished: isOpen ? '' : showMoment(garment.finishedAt ?? ''),
    changed: sayChanged(garment),
    links: isOpen ? { edit: `${path}/edit`, addTier: `${path}/tiers/new` } : null,
    short: shortPath(code),
    finish: isOpen ? smallForm(`${path}/finished`, 'Mark finished') : smallForm(`${path}/reopened`, 'Reopen'),
    girths: garment.girths.map(({ dropTicks, girthTicks }) => ({
      drop: showSize(dropTicks, units, 'near'),
      girth: showSize(girthTicks, units, 'near'),
    })),
    drawing: drawElevation(worked, names, units),
    shades: [...new Set(shadeIds)].map((id) => ({ letter: names.letter(id), chip: names.chip(id) })),
    needs: readNeedViews(reader, worked, names, units),
    warnings: warningsOf(worked, units),
    tiers: tiers.map((tier) => tierView({ worked, cut, held, names, units }, tier)),
    takenOut: garment.tiers
      .filter(({ takenOutAt }) => takenOutAt !== null)
      .map(({ id, name }) => ({
        name,
        putBack: isOpen ? smallForm(`${tierPath(code, id)}/put-back`, `Put ${name} back`) : null,
      })),
  };
  return { view: 'garments/garment', data, title: garment.name, room: 'garments' };
}

interface Context {
  readonly worked: WorkedGarment;
  readonly cut: readonly CutFor[];
  readonly held: readonly HeldFor[];
  readonly names: Names;
  readonly units: Units;
}

function tierView({ worked, cut, held, names, units }: Context, tier: TierRecord): GarmentTierView {
  const { garment, problems } = worked;
  const { code } = garment;
  const found = worked.tiers.find(({ tierId }) => tierId === tier.id);
  const edged = garment.tiers.find(({ id }) => id === tier.edgesTierId);
  const mine = problems.filter(({ tierId }) => tierId === tier.id).map(({ message }) => message);
  const waits = !found && mine.length === 0 && edged;
  const isMine = ({ tierId }: { readonly tierId: number }) => tierId === tier.id;
  const isOpen = garment.finishedAt === null;
  return {
    id: tier.id,
    name: tier.name,
    edit: isOpen ? tierPath(code, tier.id) : null,
    table: cuttingPath(code, tier.id),
    takeOut: isOpen ? smallForm(`${tierPath(code, tier.id)}/taken-out`, `Take ${tier.name} out`) : null,
    worked: found
      ? {
          ...shapeTier(asTier(tier), found, edged?.name ?? null, names, units),
          done: shapeDone(found, cut.filter(isMine), held.filter(isMine), names, units),
        }
      : null,
    problems: waits ? [`It edges ${edged.name}, which cannot be worked out.`] : mine,
  };
}

function smallForm(action: string, text: string): SmallForm {
  return { action, key: mintKey(), text };
}

function sayChanged({ changedAt, changedBy }: Garment): string {
  if (changedAt === null) return '';
  return `${showMoment(changedAt)}${changedBy === null ? '' : ` by ${changedBy}`}`;
}
