import { showMass } from '../../../src/quantity/mass.ts';
import { showVolume } from '../../../src/quantity/volume.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import { conflict, invalid } from '../../refusal.ts';
import type { BalanceForm, VesselForm } from './form.ts';
import { readVessel, vesselPath } from './store.ts';

const LIST = '/dye-bench/vessels';

export function addVessel(tx: Tx, form: VesselForm): Answer {
  tx.run(tx.db.insertInto('vessel').values({ ...valuesOf(tx, form, null), gone_at: null }));
  return { location: LIST, said: `${form.name}, ${showVolume(form.volume, 'near')}, is at the bench.` };
}

/** Writes a vessel anew; cards of batches that were started stay as they were told. */
export function changeVessel(tx: Tx, id: number, form: VesselForm): Answer {
  readVessel(tx, id);
  const values = valuesOf(tx, form, id);
  tx.run(tx.db.updateTable('vessel').set(values).where('id', '=', id));
  return { location: LIST, said: `${form.name} is changed.` };
}

function valuesOf(tx: Tx, form: VesselForm, id: number | null) {
  refuseSameName(tx, {
    table: 'vessel',
    name: form.name,
    id,
    hrefOf: vesselPath,
    whereIs: (same) => (readVessel(tx, same).gone === '' ? 'in use' : 'put away: take it back from the list'),
  });
  if (form.heater !== null && form.heater_kind === '') {
    throw invalid('heater_kind', 'Say what kind of heater it is: less of some reaches the bath.');
  }
  return {
    name: form.name,
    volume_ml: form.volume,
    note: form.note,
    material: form.material,
    empty_mg: form.empty === 0 ? null : form.empty,
    heater: form.heater_kind,
    heater_watts: form.heater,
    pots: form.pots?.value ?? 1,
  };
}

/** Keeps with what the bench measures; what that does not do well enough is taken from stock solutions. */
export function setBalance(tx: Tx, { balance, measures_with, off }: BalanceForm): Answer {
  tx.run(tx.db.updateTable('workroom').set({ balance_mg: balance, measures_with, amount_off_bp: off }));
  const said = `The balance reads to ${showMass(balance, 'metric', 'near')}; an amount may be off by ${showPercent(off)}.`;
  return { location: LIST, said };
}

/** A vessel that is put away is offered no more; batches that were planned with it keep it. */
export function putVesselAway(tx: Tx, id: number): Answer {
  const vessel = readVessel(tx, id);
  if (vessel.gone !== '') throw conflict(`${vessel.name} was put away already, ${vessel.gone}.`);
  tx.run(tx.db.updateTable('vessel').set({ gone_at: tx.at }).where('id', '=', id));
  return { location: LIST, said: `${vessel.name} is put away. It can be taken back below.` };
}

export function takeVesselBack(tx: Tx, id: number): Answer {
  const vessel = readVessel(tx, id);
  if (vessel.gone === '') throw conflict(`${vessel.name} is at the bench already.`);
  tx.run(tx.db.updateTable('vessel').set({ gone_at: null }).where('id', '=', id));
  return { location: LIST, said: `${vessel.name} is at the bench again.` };
}
