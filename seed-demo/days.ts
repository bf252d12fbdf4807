import { addTap, changeGarmentWork, GARMENT_WORK_FORM, TAP_FORM } from '../server/by-when/garment-form.ts';
import {
  addClosedDays,
  changeSewers,
  changeWorkDay,
  closedForm,
  sewersForm,
  WORK_DAY_FORM,
} from '../server/by-when/hours-form.ts';
import { readGarment } from '../server/garments/garment/records.ts';
import type { Hand } from './hand.ts';

/** What the invented workroom can do in a day, when it is closed, and who is at work on what. */
export function sayDays(hand: Hand): void {
  hand.fillsIn(hand.before(46, '16:40'), 'Oda', WORK_DAY, {
    schema: () => WORK_DAY_FORM,
    write: changeWorkDay,
  });
  const hours = {
    [`person_${hand.id('person', 'Fenn')}`]: '2',
    [`person_${hand.id('person', 'Tamsin')}`]: '1:15',
  };
  hand.fillsIn(hand.before(46, '16:45'), 'Oda', hours, {
    schema: () => sewersForm(hand.book),
    write: changeSewers,
  });
  const closed = [
    { from: hand.day(9), to: '', why: 'Lantern day (invented)', person_id: '' },
    { from: hand.day(14), to: hand.day(16), why: 'At the fair', person_id: hand.id('person', 'Fenn') },
  ];
  for (const [at, days] of closed.entries())
    hand.fillsIn(hand.before(46, `16:${50 + at}`), 'Oda', days, {
      schema: () => closedForm(hand.book),
      write: addClosedDays,
    });
}

const WORK_DAY = {
  mon: 'yes',
  tue: 'yes',
  wed: 'yes',
  thu: 'yes',
  fri: 'yes',
  table: '1',
  strips: '10',
  baths: '1',
  drying: '1',
  swatch: '2',
  receiving: '1',
  spare: '3',
  finishing: '2',
};

/** An evening at the machine, for one garment that is begun. */
export function sewSome(hand: Hand, code: string): void {
  tapWork(hand, hand.before(2, '16:30'), code, ['sew', 'begun']);
  tapWork(hand, hand.before(2, '18:45'), code, ['sew', 'left']);
  sayHours(hand, hand.before(2, '18:50'), code, { sewing: '6', fitting: '' });
}

export function tapWork(
  hand: Hand,
  when: string,
  code: string,
  [work, tap]: readonly [string, string],
): void {
  hand.fillsIn(
    when,
    'Fenn',
    { work, tap },
    {
      schema: () => TAP_FORM,
      write: (tx, form) => addTap(tx, readGarment(tx, code), form),
    },
  );
}

export function sayHours(
  hand: Hand,
  when: string,
  code: string,
  hours: { readonly sewing: string; readonly fitting: string },
): void {
  hand.fillsIn(when, 'Fenn', hours, {
    schema: () => GARMENT_WORK_FORM,
    write: (tx, form) => changeGarmentWork(tx, readGarment(tx, code), form),
  });
}
