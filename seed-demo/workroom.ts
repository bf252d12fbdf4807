import { addSupplier, SUPPLIER_FORM } from '../server/orders/supplier/form.ts';
import { addPerson, changePerson, type PersonForm } from '../server/setup/people.ts';
import { changeWorkroom, workroomForm } from '../server/setup/workroom-form.ts';
import { addPlace, PLACE_FORM } from '../server/shelf/place/form.ts';
import type { Hand } from './hand.ts';

/** A parade society of a harbour town that is on no map: its name, people, suppliers and places. */
export function openWorkroom(hand: Hand): void {
  const settings = {
    name: 'Brinewick Lantern Society',
    length_system: 'metric',
    currency: 'EUR',
    useful_remnant: '40 cm',
  };
  hand.fillsIn(hand.before(46, '09:05'), 'Maker', settings, {
    schema: workroomForm,
    write: (tx, form) => {
      // No form says this: only here is a workroom invented.
      tx.run(tx.db.updateTable('workroom').set({ invented: 1 }));
      return changeWorkroom(tx, form);
    },
  });
  putPeople(hand);
  for (const [at, supplier] of SUPPLIERS.entries()) {
    hand.fillsIn(hand.before(46, `09:${20 + at}`), 'Oda', supplier, {
      schema: () => SUPPLIER_FORM,
      write: addSupplier,
    });
  }
  for (const [at, name] of PLACES.entries()) {
    hand.fillsIn(
      hand.before(46, `09:${30 + at}`),
      'Oda',
      { name },
      {
        schema: () => PLACE_FORM,
        write: addPlace,
      },
    );
  }
}

function putPeople(hand: Hand): void {
  hand.writes(hand.before(46, '09:08'), 'Maker', { name: 'Oda' }, (tx, { personId }) =>
    changePerson(tx, personId, { name: 'Oda', length_system: '', role: 'keeper' }),
  );
  const others: PersonForm[] = [
    { name: 'Fenn', length_system: '', role: 'hand' },
    { name: 'Tamsin', length_system: '', role: 'keeper' },
    { name: 'Jory', length_system: 'imperial', role: 'hand' },
  ];
  for (const [at, person] of others.entries())
    hand.writes(hand.before(46, `09:${10 + at}`), 'Oda', person, (tx) => addPerson(tx, person));
}

const SUPPLIERS = [
  {
    name: 'Copperlane Sheers',
    lead_days: '9',
    note: 'Invented. Organza, tulle and chiffon; cuts to the metre.',
  },
  {
    name: 'Driftline Mill',
    lead_days: '16',
    note: 'Invented. Undyed cotton and viscose, whole pieces only.',
  },
  { name: 'Marram Net and Lawn', lead_days: '5', note: 'Invented. Near the quay: what is short is fetched.' },
];

const PLACES = ['Rack A', 'Rack B', 'Remnant chest', 'Table shelf', 'Dye store'];
