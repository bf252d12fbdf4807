import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { refuseSameName } from '../../kit/same-name.ts';
import { storeTyped } from '../../kit/typed.ts';
import { conflict, invalid } from '../../refusal.ts';
import type { DyeForm } from './form.ts';
import { dyePath, readDye } from './store.ts';

const LIST = '/dye-bench/dyes';

/** Puts a dye on the list. @throws {Refusal} invalid where one of the name is there */
export function addDye(tx: Tx, form: DyeForm): Answer {
  tx.run(tx.db.insertInto('dye').values({ ...valuesOf(tx, form, null), gone_at: null }));
  return { location: LIST, said: `${form.name}, a ${DYE_CLASS_NAMES[form.dye_class]}, is on the list.` };
}

/** Writes a dye anew, such as for its next lot. Recipes keep the name that they were written with. */
export function changeDye(tx: Tx, id: number, form: DyeForm): Answer {
  const before = readDye(tx, id);
  const values = valuesOf(tx, form, id);
  tx.run(tx.db.updateTable('dye').set(values).where('id', '=', id));
  const renamed = before.name === form.name ? '' : ` Recipes that chose ${before.name} keep that name.`;
  return { location: LIST, said: `${form.name} is changed.${renamed}` };
}

function valuesOf(tx: Tx, form: DyeForm, id: number | null) {
  refuseSameName(tx, {
    table: 'dye',
    name: form.name,
    id,
    hrefOf: dyePath,
    whereIs: (same) =>
      readDye(tx, same).gone === '' ? 'on the list' : 'put away: take it back from the list',
  });
  const { price, price_for: priced } = form;
  if (price === null && priced !== null) throw invalid('price', 'Give the price too.');
  if (price !== null && priced === null)
    throw invalid('price_for', 'Give the mass that this price is for: 100 g.');
  return {
    name: form.name,
    dye_class: form.dye_class,
    method: form.method,
    strength_bp: form.strength?.value ?? null,
    lot: form.lot,
    price_minor: price?.value ?? null,
    price_mg: priced?.value ?? null,
    label_notes: form.label_notes,
    fluorescent: form.fluorescent ? (1 as const) : (0 as const),
    typed: storeTyped({
      strength: form.strength?.typed ?? '',
      price: price?.typed ?? '',
      price_for: priced?.typed ?? '',
    }),
  };
}

/** A dye that is put away is offered to recipes no more; those written with it keep it. */
export function putDyeAway(tx: Tx, id: number): Answer {
  const dye = readDye(tx, id);
  if (dye.gone !== '') throw conflict(`${dye.name} was put away already, ${dye.gone}.`);
  tx.run(tx.db.updateTable('dye').set({ gone_at: tx.at }).where('id', '=', id));
  return { location: LIST, said: `${dye.name} is put away. It can be taken back below.` };
}

export function takeDyeBack(tx: Tx, id: number): Answer {
  const dye = readDye(tx, id);
  if (dye.gone === '') throw conflict(`${dye.name} is on the list already.`);
  tx.run(tx.db.updateTable('dye').set({ gone_at: null }).where('id', '=', id));
  return { location: LIST, said: `${dye.name} is on the list again.` };
}
