import { needsOf } from '../../../src/garment/need.ts';
import { runsOfRuffle, stripsOfRuffle } from '../../../src/garment/ruffle.ts';
import { usualEdge, usualSeam } from '../../../src/garment/seams-and-edges.ts';
import { type TierProblem, workTiers } from '../../../src/garment/tiers.ts';
import { withExact } from '../../../src/quantity/fullness.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import type { Problem } from '../../refusal.ts';
import { shapeOf } from '../garment/form-fields.ts';
import { belowFloor } from '../garment/hem-words.ts';
import { type Garment, type TierFigures, withLabels } from '../garment/records.ts';
import {
  asTier,
  clothIdsOf,
  formOfGarment,
  layTier,
  problemsOf,
  readClothWays,
  readUsableWidths,
  type WorkedGarment,
} from '../garment/worked.ts';
import { type NewGarmentForm, type NewTier, USUAL_RUFFLE_MILLI } from './fields.ts';

/** A tier that is not in the book yet: its row, whether it is the ruffle of it, and what was typed for it. */
export interface PlannedTier {
  readonly place: number;
  readonly ruffle: boolean;
  readonly figures: TierFigures;
  readonly texts: Readonly<Record<string, string>>;
}

/** What the tiers of a form would come to, before anything is in the book. */
export function planNew(reader: Reader, form: NewGarmentForm, units: Units) {
  const tiers = tiersOf(form, units);
  const clothIds = new Set(tiers.flatMap(({ figures }) => clothIdsOf(figures)));
  const usableWidthTicks = readUsableWidths(reader, [...clothIds]);
  const hung = tiers.map(({ figures }) => ({ ...asTier(figures), overlapTicks: figures.overlapTicks }));
  const shape = shapeOf(form);
  const over = formOfGarment(shape);
  const worked = workTiers(over, hung, usableWidthTicks);
  const problems = [...problemsOf(worked), ...belowFloor(over, hung, shape, units)];
  const ways = readClothWays(reader, [...clothIds]);
  const laid = worked.tiers.map((tier) => layTier(tier, usableWidthTicks, ways));
  return {
    tiers,
    worked: laid,
    needs: needsOf(laid),
    /** at the fields of the form */
    problems: problems.map((problem) => atRow(problem, tiers)),
  };
}

export type NewPlan = ReturnType<typeof planNew>;

/** The same as a garment that is worked out, as if it were in the book; its numbers stand in. */
export function workedNew(plan: NewPlan, form: NewGarmentForm): WorkedGarment {
  const unsaved = { madeTicks: null, version: 1, changedAt: null, changedBy: null, typed: '{}' } as const;
  const garment: Garment = {
    ...unsaved,
    ...shapeOf(form),
    id: 0,
    code: '',
    name: form.name,
    note: form.note,
    dueOn: form.due_on,
    finishedAt: null,
    meetCentiDeltaE: form.meet,
    lookCentiDeltaE: form.apart - form.meet,
    tiers: labelled(plan.tiers).map((tier) => ({ ...unsaved, ...tier })),
    parts: [],
  };
  return { garment, tiers: plan.worked, problems: [], parts: [], needs: plan.needs };
}

/** The tiers from the top down, each followed by its ruffle. Numbers stand in until the book gives its own. */
function tiersOf(form: NewGarmentForm, units: Units): PlannedTier[] {
  const planned: PlannedTier[] = [];
  let nextTicks = form.girths[0]?.point.dropTicks ?? 0;
  form.tiers.forEach((row, index) => {
    const dropTicks = row.drop?.value ?? nextTicks;
    const overlapTicks = form.overlap?.value ?? 0;
    nextTicks = Math.max(dropTicks, dropTicks + row.depth.value - overlapTicks);
    const tier = tierOf(form, row, index, dropTicks, units);
    planned.push(tier);
    if (row.ruffle) planned.push(ruffleOf(form, row, row.ruffle, tier.figures, units));
  });
  const names = labelled(planned).map(({ name }) => name);
  return planned.map((tier, place) => ({
    ...tier,
    figures: { ...tier.figures, name: names[place] ?? '' },
  }));
}

function labelled(planned: readonly PlannedTier[]) {
  return withLabels(
    planned.map(({ figures }, place) => ({ ...figures, position: place + 1, takenOutAt: null })),
  );
}

function tierOf(
  form: NewGarmentForm,
  row: NewTier,
  index: number,
  dropTicks: number,
  units: Units,
): PlannedTier {
  const figures: TierFigures = {
    ...usualOf(form, units),
    id: 2 * index + 1,
    ownName: '',
    name: '',
    dropTicks,
    clothId: row.clothId,
    depthTicks: row.depth.value,
    overlapTicks: form.overlap?.value ?? 0,
    ...withExact(row.fullness),
    offsetStrips: form.step ? index : 0,
    blocks: row.shadeIds.map((shadeId) => blockOf(shadeId)),
  };
  const { drop, depth, fullness } = row;
  const overlap = form.overlap?.typed ?? '';
  const texts = { drop: drop?.typed ?? '', depth: depth.typed, fullness: fullness.typed, overlap };
  return { place: row.place, ruffle: false, figures, texts: withUsual(texts) };
}

function ruffleOf(
  form: NewGarmentForm,
  row: NewTier,
  ruffle: NonNullable<NewTier['ruffle']>,
  tier: TierFigures,
  units: Units,
): PlannedTier {
  const fullness = withExact(form.ruffle_fullness ?? { value: USUAL_RUFFLE_MILLI, typed: '' });
  const follows = ruffle.shadeId === null && tier.blocks.length > 1;
  const figures: TierFigures = {
    ...usualOf(form, units),
    id: tier.id + 1,
    ownName: '',
    name: '',
    hangs: 'edge',
    onTierId: tier.id,
    clothId: row.clothId,
    depthTicks: ruffle.depth.value,
    ...fullness,
    offsetStrips: follows ? stripsOfRuffle(tier.offsetStrips, fullness) : 0,
    blocks:
      ruffle.shadeId === null
        ? runsOfRuffle(tier.blocks, fullness).map(({ shadeId, strips }) => blockOf(shadeId, strips))
        : [blockOf(ruffle.shadeId)],
  };
  const texts = { depth: ruffle.depth.typed, fullness: form.ruffle_fullness?.typed ?? '' };
  return { place: row.place, ruffle: true, figures, texts: withUsual(texts) };
}

/** What goes for every tier of the form: a ring with the usual allowances of its seams and edges. */
function usualOf(form: NewGarmentForm, { system }: Units) {
  return {
    hangs: 'form',
    dropTicks: null,
    onTierId: null,
    heightTicks: null,
    overlapTicks: 0,
    ratioTierId: null,
    ring: true,
    openingWay: 'finished',
    placedBy: 'upper',
    placedTicks: null,
    levelTierId: null,
    seamKind: form.seam_kind,
    seamTicks: usualSeam(form.seam_kind, system).ticks,
    endTicks: 0,
    headingTicks: 0,
    upperEdge: 'seam',
    hangSeamTicks: usualEdge('seam', system).ticks,
    lowerEdge: form.lower_edge,
    hemTicks: usualEdge(form.lower_edge, system).ticks,
    hemFirst: false,
    direction: 'across',
    stripLengthTicks: null,
    offsetStrips: 0,
    finishRepeat: form.finish_repeat,
  } as const;
}

function blockOf(shadeId: number, strips = 1): TierFigures['blocks'][number] {
  return { shadeId, clothId: null, strips, lots: 'one' };
}

// Its own form shows an allowance that is the usual one as blank. A fullness that was left blank is written out there.
function withUsual(texts: Readonly<Record<string, string>>): Record<string, string> {
  const { fullness, ...others } = texts;
  return {
    ...others,
    ...(fullness ? { fullness } : {}),
    seam: '',
    hang_seam: '',
    hem: '',
    end: '',
    heading: '',
  };
}

const FIELD: Partial<Record<TierProblem['field'], string>> = {
  drop: 'drop',
  depth: 'depth',
  fullness: 'fullness',
  cloth: 'cloth_id',
  length: 'cloth_id',
};

/** A problem of a tier at its row; one of a ruffle is told at the depth of the ruffle. */
function atRow({ tierId, field, message }: TierProblem, tiers: readonly PlannedTier[]): Problem {
  const tier = tiers.find(({ figures }) => figures.id === tierId);
  if (!tier) return { field: '', message };
  const name = tier.ruffle ? 'ruffle_depth' : (FIELD[field] ?? 'depth');
  return { field: `tiers.${tier.place}.${name}`, message };
}
