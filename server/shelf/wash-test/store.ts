import { z } from 'zod';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { changeBp, treatedTicks, untreatedTicks } from '../../../src/quantity/wash-change.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { writeSize } from '../../../src/quantity/written-length.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { lengthField, textField, tickField } from '../../kit/fields.ts';
import { washTestsPath } from '../../kit/paths.ts';
import { keepTyped, storeTyped, withUnit } from '../../kit/typed.ts';
import { sizeUnit } from '../../kit/units.ts';
import { showMoment } from '../../kit/when.ts';
import { invalid } from '../../refusal.ts';
import { MOST_WIDTH_TICKS } from '../cloth/form.ts';
import { type Cloth, readCloth } from '../cloth/store.ts';

const MOST_MARK_TICKS = 10 * TICKS_PER.m;

/** What is asked of a wash test. */
export function washTestFields(units: Units) {
  const unit = sizeUnit(units);
  const mark = (label: string, hint = '') => lengthField(unit, { min: 1, max: MOST_MARK_TICKS, label, hint });
  return {
    treatment: textField({ max: 200, label: 'Treatment', what: 'The treatment' }),
    length_before: mark(
      'Along, before',
      'Between two marks, 35 cm (14 in) apart or more, away from the edges.',
    ),
    length_after: mark('Along, after'),
    width_before: mark('Across, before'),
    width_after: mark('Across, after'),
    from: lengthField(unit, {
      min: 1,
      max: MOST_WIDTH_TICKS,
      label: 'Usable width before treatment',
    }),
    follow: tickField({ label: 'Set the usable width of the cloth to what is left after treatment' }),
  };
}

export function washTestSchema(units: Units) {
  return z.strictObject(washTestFields(units));
}

export type WashTestForm = z.output<ReturnType<typeof washTestSchema>>;

const testsOf = prepared((db, clothId: Param<number>) =>
  db
    .selectFrom('wash_test')
    .innerJoin('person', 'person.id', 'wash_test.person_id')
    .selectAll('wash_test')
    .select('person.name as by')
    .where('cloth_id', '=', clothId)
    .orderBy('wash_test.id', 'desc'),
);

/** The wash tests of a cloth in words, the last first. */
export function readWashTests(reader: Reader, clothId: number, units: Units) {
  const size = (ticks: number) => showSize(ticks, units, 'near');
  return reader.all(testsOf(clothId)).map((row) => {
    const along = { beforeTicks: row.length_before_ticks, afterTicks: row.length_after_ticks };
    const across = { beforeTicks: row.width_before_ticks, afterTicks: row.width_after_ticks };
    const tenTicks = TEN_TICKS[units.system];
    return {
      id: row.id,
      treatment: row.treatment,
      along: sayChange(changeBp(along)),
      across: sayChange(changeBp(across)),
      /** what to buy for a round length of treated cloth */
      buy: `${showLength(untreatedTicks(tenTicks, along), units, 'up')} for ${showLength(tenTicks, units, 'near')}`,
      width:
        row.set_ticks === null
          ? `${showSize(treatedTicks(row.from_ticks, across), units, 'down')} would be left of ${size(row.from_ticks)}`
          : `${showSize(row.set_ticks, units, 'down')}, from ${size(row.from_ticks)}`,
      fromTicks: row.from_ticks,
      isSet: row.set_ticks !== null,
      when: `${showMoment(row.at)} by ${row.by}`,
    };
  });
}

const TEN_TICKS = { metric: 10 * TICKS_PER.m, imperial: 10 * TICKS_PER.yd } as const;

/** "−3 %", "+1.5 %", "no change". */
function sayChange(bp: number): string {
  if (bp === 0) return 'no change';
  return `${bp < 0 ? '−' : '+'}${showPercent(Math.abs(bp))}`;
}

/**
 * Keeps a wash test. Where strips are to follow, the cloth's usable width becomes what is left of the width from before:
 * tiers, needs and plans are then counted by it, and pieces on the shelf keep the width that they were received with.
 */
export function keepWashTest(tx: Tx, clothId: number, form: WashTestForm, units: Units): Answer {
  const cloth = readCloth(tx, clothId);
  const across = { beforeTicks: form.width_before.value, afterTicks: form.width_after.value };
  const leftTicks = treatedTicks(form.from.value, across);
  if (form.from.value > cloth.widthTicks)
    throw invalid('from', 'The usable width is at most the width of the cloth.');
  if (form.follow && (leftTicks < 1 || leftTicks > cloth.widthTicks))
    throw invalid(
      'follow',
      'Treated it would be wider than the cloth is: change the width of the cloth first.',
    );
  const { length_before, length_after, width_before, width_after, from } = form;
  const lengths = { length_before, length_after, width_before, width_after, from };
  tx.run(
    tx.db.insertInto('wash_test').values({
      cloth_id: clothId,
      treatment: form.treatment,
      length_before_ticks: length_before.value,
      length_after_ticks: length_after.value,
      width_before_ticks: width_before.value,
      width_after_ticks: width_after.value,
      from_ticks: from.value,
      set_ticks: form.follow ? leftTicks : null,
      typed: keepTyped(
        units,
        Object.fromEntries(Object.entries(lengths).map(([name, { typed }]) => [name, typed])),
      ),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  if (form.follow) setUsableWidth(tx, cloth, leftTicks, units);
  const left = showSize(leftTicks, units, 'down');
  const said = `${cloth.name} was tested: ${sayChange(changeBp({ beforeTicks: length_before.value, afterTicks: length_after.value }))} along, ${sayChange(changeBp(across))} across.${form.follow ? ` Its usable width is ${left} now.` : ''}`;
  return { location: washTestsPath(clothId), said };
}

function setUsableWidth(tx: Tx, cloth: Cloth, ticks: number, units: Units): void {
  const typed = { ...cloth.typed, usable_width: withUnit(writeSize(ticks, units), sizeUnit(units)) };
  tx.run(
    tx.db
      .updateTable('cloth')
      .set({ usable_width_ticks: ticks, typed: storeTyped(typed) })
      .where('id', '=', cloth.id),
  );
}
