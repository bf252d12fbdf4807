import { leftToHem, madeDifferences, nextToCut } from '../../../src/garment/as-made.ts';
import { tierDropsOf } from '../../../src/garment/tier-drops.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { showMoment } from '../../kit/when.ts';
import { listed, wordFor } from '../../kit/words.ts';
import { readCutStrips, readHeldStretches } from '../garment/done.ts';
import type { Garment } from '../garment/records.ts';
import { asTier, tiersIn } from '../garment/worked.ts';

const measuresOf = prepared((db, tierIds: Param<readonly number[]>) =>
  db
    .selectFrom('made_measure')
    .innerJoin('person', 'person.id', 'made_measure.person_id')
    .select([
      'made_measure.id',
      'made_measure.tier_id as tierId',
      'made_measure.lower_ticks as lowerTicks',
      'made_measure.followed_ticks as followedTicks',
      'made_measure.note',
      'made_measure.at',
      'person.name as by',
    ])
    .where('made_measure.tier_id', 'in', inList(tierIds))
    .orderBy('made_measure.id'),
);

/** The last measure of each tier of a garment, by the tier. */
export function readLastMeasures(reader: Reader, garment: Garment) {
  const ids = garment.tiers.map(({ id }) => id);
  const rows = ids.length === 0 ? [] : reader.all(measuresOf(ids));
  return new Map(rows.map((row) => [row.tierId, row]));
}

/** How each measured tier differs from its plan, and what is still to cut below it. */
export function readMade(reader: Reader, garment: Garment) {
  const tiers = tiersIn(garment);
  const measures = readLastMeasures(reader, garment);
  const ids = tiers.map(({ id }) => id);
  const begun = new Set(
    [...readCutStrips(reader, ids), ...readHeldStretches(reader, ids)].map(({ tierId }) => tierId),
  );
  const drops = tierDropsOf(tiers.map(asTier));
  const made = tiers.flatMap((tier) => {
    const drop = drops.get(tier.id);
    const measure = measures.get(tier.id);
    if (!drop) return [];
    return [
      {
        tierId: tier.id,
        startTicks: drop.startTicks,
        endTicks: drop.endTicks,
        madeTicks: measure?.lowerTicks ?? null,
        followedTicks: measure?.followedTicks ?? 0,
        movable: tier.dropTicks !== null && tier.placedBy === 'upper',
        begun: begun.has(tier.id),
      },
    ];
  });
  return {
    tiers,
    measures,
    made,
    differences: madeDifferences(made),
    leftTicks: leftToHem(made),
    nextId: nextToCut(made),
  };
}

/** What was measured on the stand beside the plan; null where nothing was. */
export function shapeMade(reader: Reader, garment: Garment, units: Units) {
  // Of most garments nothing was measured: their tiers say so.
  if (garment.tiers.every(({ madeTicks }) => madeTicks === null)) return null;
  const { tiers, measures, made, differences, leftTicks, nextId } = readMade(reader, garment);
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const nameOf = (tierId: number) => tiers.find(({ id }) => id === tierId)?.name ?? '';
  const rows = differences.flatMap(({ tierId, byTicks, leftTicks: left, follow, stay }) => {
    const measure = measures.get(tierId);
    const plan = made.find((one) => one.tierId === tierId);
    if (!measure || !plan) return [];
    return [
      {
        tierId,
        name: nameOf(tierId),
        planned: size(plan.endTicks),
        made: size(measure.lowerTicks),
        differs:
          byTicks === 0
            ? 'as planned'
            : `${size(Math.abs(byTicks))} ${byTicks > 0 ? 'lower' : 'higher'} than planned`,
        note: measure.note,
        when: `${showMoment(measure.at)} by ${measure.by}`,
        /** what would move, in a sentence; '' where nothing would */
        follow:
          left === 0 || follow.length === 0
            ? ''
            : `${listed(follow.map(nameOf))}, still to cut, can move ${left > 0 ? 'down' : 'up'} by ${size(Math.abs(left))}.`,
        stay:
          left === 0 || stay.length === 0
            ? ''
            : `${listed(stay.map(nameOf))}, cut or held already, ${wordFor(stay.length, 'stays where it was planned', 'stay where they were planned')}.`,
      },
    ];
  });
  if (rows.length === 0) return null;
  return {
    rows,
    left:
      leftTicks === null || leftTicks <= 0
        ? ''
        : `From the lowest edge measured to the planned hem ${size(leftTicks)} are left${nextId === null ? '' : `; ${nameOf(nextId)} is the next to cut`}.`,
  };
}

export type MadeView = NonNullable<ReturnType<typeof shapeMade>>;

/** What is left for the tier that is cut next, where others were measured: told where it is cut; '' for any other. */
export function sayLeftFor(reader: Reader, garment: Garment, tierId: number, units: Units): string {
  if (garment.tiers.every(({ madeTicks }) => madeTicks === null)) return '';
  const { leftTicks, nextId } = readMade(reader, garment);
  if (nextId !== tierId || leftTicks === null || leftTicks <= 0) return '';
  return `As made, ${showSize(leftTicks, units, 'near')} are left from the lowest edge measured to the planned hem.`;
}
