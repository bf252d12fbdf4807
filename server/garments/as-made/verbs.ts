import { z } from 'zod';
import { madeDifferences } from '../../../src/garment/as-made.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { chosenField } from '../../kit/choices.ts';
import { lengthField, optionalText } from '../../kit/fields.ts';
import { asMadePath } from '../../kit/paths.ts';
import { keepTyped } from '../../kit/typed.ts';
import { sizeUnit } from '../../kit/units.ts';
import { readUnits } from '../../kit/workroom.ts';
import { conflict } from '../../refusal.ts';
import { type Garment, readGarment, tierOf } from '../garment/records.ts';
import { tiersIn } from '../garment/worked.ts';
import { MOST_DROP_TICKS } from '../tier/fields.ts';
import { moveTiers } from '../tier/moving.ts';
import { keepVersion, openForChange } from '../versions/queries.ts';
import { readLastMeasures, readMade } from './measures.ts';

/** What is asked of a measure on the stand. */
export function measureFields(garment: Garment, units: Units) {
  const tiers = tiersIn(garment).map(({ id, name }) => ({ value: String(id), label: name }));
  return {
    tier_id: chosenField(tiers, 'the tier that was measured', { label: 'Tier', blank: 'Choose a tier' }),
    lower: lengthField(sizeUnit(units), {
      min: 1,
      max: MOST_DROP_TICKS,
      label: 'Waist to its lower edge',
      hint: 'Down the surface, on the stand.',
    }),
    note: optionalText({
      max: 300,
      label: 'Note',
      size: 'long',
    }),
  };
}

export type MeasureForm = z.output<z.ZodObject<ReturnType<typeof measureFields>>>;

export function measureSchema(garment: Garment, units: Units) {
  return z.strictObject(measureFields(garment, units));
}

/** Keeps what was measured beside the plan. What is level with the tier follows it at once. */
export function keepMeasure(tx: Tx, code: string, form: MeasureForm): Answer {
  const garment = openForChange(tx, code);
  const tier = tierOf(garment, form.tier_id);
  const units = readUnits(tx, tx.personId);
  const before = readLastMeasures(tx, garment).get(tier.id);
  tx.run(
    tx.db.insertInto('made_measure').values({
      tier_id: tier.id,
      lower_ticks: form.lower.value,
      // What has followed an earlier measure of the tier does not follow again.
      followed_ticks: before?.followedTicks ?? 0,
      note: form.note,
      typed: keepTyped(units, { lower: form.lower.typed }),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  // What is level with the tier follows, and with it the needs: the tier is written with its measure.
  tx.run(
    tx.db
      .updateTable('tier')
      .set({ changed_at: tx.at, changed_by_id: tx.personId })
      .where('id', '=', tier.id),
  );
  const lower = showSize(form.lower.value, units, 'near');
  const said = `${tier.name} of ${code} was measured: its lower edge lies ${lower} below the waist.`;
  return keepVersion(tx, code, { location: asMadePath(code), said });
}

/** Moves the tiers that are still to cut by what a measured one differs from its plan. */
export function followMeasure(tx: Tx, code: string, tierId: number): Answer {
  const garment = openForChange(tx, code);
  const tier = tierOf(garment, tierId);
  const { tiers, made, measures } = readMade(tx, garment);
  const found = madeDifferences(made).find((one) => one.tierId === tierId);
  const measure = measures.get(tierId);
  if (!found || !measure) throw conflict(`${tier.name} was not measured.`);
  const { leftTicks, follow } = found;
  if (leftTicks === 0 || follow.length === 0)
    throw conflict(`Nothing that is still to cut differs from ${tier.name} as made.`);
  const names = moveTiers(
    tx,
    readGarment(tx, code),
    tiers.filter(({ id }) => follow.includes(id)),
    leftTicks,
  );
  tx.run(
    tx.db
      .updateTable('made_measure')
      .set({ followed_ticks: measure.followedTicks + leftTicks })
      .where('id', '=', measure.id),
  );
  const size = showSize(Math.abs(leftTicks), readUnits(tx, tx.personId), 'near');
  const said = `${names.join(', ')} moved ${leftTicks > 0 ? 'down' : 'up'} by ${size}, as ${tier.name} was made.`;
  return keepVersion(tx, code, { location: asMadePath(code), said });
}
