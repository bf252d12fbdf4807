import type { WorkedTier } from '../../../src/garment/tiers.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { garmentPath, tierPath, tierPlace } from '../../kit/paths.ts';
import { countOf } from '../../kit/words.ts';
import { readUnits } from '../../kit/workroom.ts';
import { conflict, invalid, refuseAny } from '../../refusal.ts';
import { type Garment, type TierFigures, type TierRecord, tierOf } from '../garment/records.ts';
import { refuseOlderVersion, refuseRowInUse } from '../garment/refusals.ts';
import { keepRows } from '../parts/row.ts';
import { showStrip } from '../versions/differences.ts';
import { keepVersion, openForChange } from '../versions/queries.ts';
import type { TierForm } from './fields.ts';
import { followBelow } from './moving.ts';
import { NEW_TIER, planTier, tierFigures } from './planned.ts';
import { keepSize, putBlocks, putTier, tierColumns } from './store.ts';

const MOST_TIERS = 100;

export function addTier(tx: Tx, code: string, form: TierForm): Answer {
  const garment = openForChange(tx, code);
  if (garment.tiers.length >= MOST_TIERS) {
    throw invalid('name', `A garment has ${MOST_TIERS} tiers at most, those taken out included.`);
  }
  const { figures, tier: worked } = planOrRefuse(
    tx,
    garment,
    tierFigures(form, NEW_TIER, readUnits(tx, tx.personId)),
  );
  const last = garment.tiers.reduce((most, { position }) => Math.max(most, position), 0);
  const tierId = putTier(tx, garment.id, last + 1, figures, typedTexts(form));
  if (worked) keepSize(tx, tierId, worked);
  keepRows(tx, code);
  return keepVersion(tx, code, {
    location: tierPlace(code, tierId),
    said: `${figures.name} was added to ${code}${sayStrips(tx, worked)}.`,
  });
}

/** Changing a tier is allowed whatever is held or cut for it; the garment's page shows what then differs. */
export function changeTier(tx: Tx, code: string, tierId: number, form: TierForm): Answer {
  const garment = openForChange(tx, code);
  const tier = tierOf(garment, tierId);
  refuseOlderVersion(tier, tier.name, form.version?.value ?? null, tierPath(code, tierId));
  const asked = tierFigures(form, tierId, readUnits(tx, tx.personId));
  const { figures, tier: worked } = planOrRefuse(tx, garment, asked);
  const { name, ...columns } = tierColumns(tx, figures, typedTexts(form));
  // The label of one without a name of its own follows from where it hangs, whatever was saved.
  const named = figures.ownName === tier.ownName ? {} : { name };
  tx.run(
    tx.db
      .updateTable('tier')
      .set({ ...columns, ...named, version: tier.version + 1 })
      .where('id', '=', tierId),
  );
  tx.run(tx.db.deleteFrom('colour_block').where('tier_id', '=', tierId));
  putBlocks(tx, tierId, figures);
  if (worked) keepSize(tx, tierId, worked);
  keepRows(tx, code);
  const below = followBelow(tx, garment, form.move_below);
  return keepVersion(tx, code, {
    location: tierPlace(code, tierId),
    said: `${figures.name} of ${code} was changed${sayStrips(tx, worked)}.${below}`,
  });
}

/** Refused, with the reason, while cloth is held or cut for the tier, or another tier hangs on it. */
export function takeOutTier(tx: Tx, code: string, tierId: number): Answer {
  const garment = openForChange(tx, code);
  const tier = tierOf(garment, tierId);
  if (tier.takenOutAt !== null) throw conflict(`${tier.name} is taken out already.`);
  refuseInUse(tx, garment, tier);
  setTakenOut(tx, tier, tx.at);
  const said = `${tier.name} was taken out of ${code}.`;
  return keepVersion(tx, code, { location: garmentPath(code), said });
}

export function putBackTier(tx: Tx, code: string, tierId: number): Answer {
  const garment = openForChange(tx, code);
  const tier = tierOf(garment, tierId);
  if (tier.takenOutAt === null) throw conflict(`${tier.name} is not taken out.`);
  const under = [tier.onTierId, tier.ratioTierId, tier.levelTierId].flatMap(
    (id) => garment.tiers.find((one) => one.id === id) ?? [],
  );
  const out = under.find(({ takenOutAt }) => takenOutAt !== null);
  if (out) {
    throw conflict(`${sayLink(tier, out)}, which is taken out too: put ${out.name} back first.`);
  }
  setTakenOut(tx, tier, null);
  const said = `${tier.name} was put back into ${code}.`;
  return keepVersion(tx, code, { location: tierPlace(code, tierId), said });
}

function planOrRefuse(tx: Tx, garment: Garment, figures: TierFigures) {
  const planned = planTier(tx, garment, figures, readUnits(tx, tx.personId));
  const problems = [...sameName(garment, figures.ownName, figures.id), ...planned.problems];
  refuseAny(problems);
  return planned;
}

/** Names of tiers tell them apart on cut lists, so no two of a garment are alike. */
export function sameName(garment: Garment, name: string, tierId: number) {
  const same = garment.tiers.find((other) => other.id !== tierId && name !== '' && other.ownName === name);
  const where = same?.takenOutAt === null ? '' : ', taken out';
  if (garment.parts.some((part) => part.name === name))
    return [{ field: 'name', message: `${garment.code} has a part ${name} already.` }];
  return same ? [{ field: 'name', message: `${garment.code} has a ${name} already${where}.` }] : [];
}

function typedTexts(form: TierForm): Record<string, string> {
  const { drop, height, depth, overlap, fullness, seam, end, heading, hang_seam, hem, strip_length } = form;
  const allowances = { seam, end, heading, hang_seam, hem };
  const fields = { drop, height, depth, overlap, fullness, ...allowances, strip_length };
  return Object.fromEntries(Object.entries(fields).map(([name, read]) => [name, read?.typed ?? '']));
}

function refuseInUse(tx: Tx, garment: Garment, tier: TierRecord): void {
  const follows = garment.tiers.find(
    (other) =>
      other.takenOutAt === null && [other.onTierId, other.ratioTierId, other.levelTierId].includes(tier.id),
  );
  if (follows) {
    const way = `take ${follows.name} out first, or change it`;
    throw conflict(`${sayLink(follows, tier)}: ${way}.`, {
      text: follows.name,
      href: tierPath(garment.code, follows.id),
    });
  }
  refuseRowInUse(tx, garment.code, tier);
}

/** "Ruffle edges Tier 1", "Ruffle lies on Tier 1", "Tier 2 takes its length from Tier 1". */
function sayLink(tier: TierRecord, other: TierRecord): string {
  if (tier.levelTierId === other.id) return `${tier.name} is level with ${other.name}`;
  if (tier.onTierId !== other.id) return `${tier.name} takes its length from ${other.name}`;
  return `${tier.name} ${tier.hangs === 'face' ? 'lies on' : 'edges'} ${other.name}`;
}

function setTakenOut(tx: Tx, tier: TierRecord, at: string | null): void {
  // One that goes by its label is known by the one that it had.
  const [version, name] = [tier.version + 1, tier.ownName || tier.name];
  tx.run(
    tx.db
      .updateTable('tier')
      .set({ taken_out_at: at, name, version, changed_at: tx.at, changed_by_id: tx.personId })
      .where('id', '=', tier.id),
  );
}

function sayStrips(tx: Tx, worked: WorkedTier | null): string {
  const lengthTicks = worked?.count.perShade[0]?.stripLengthTicks;
  if (!worked || lengthTicks === undefined) return '';
  const units = readUnits(tx, tx.personId);
  const size = showStrip({ depthTicks: worked.cutDepthTicks, lengthTicks }, units);
  return `: ${countOf(worked.count.strips, 'strip', 'strips')} of ${size}`;
}
