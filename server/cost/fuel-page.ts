import { z } from 'zod';
import { AUXILIARIES } from '../../src/dye/auxiliaries.ts';
import { showMoney } from '../../src/quantity/money.ts';
import { writeMoney } from '../../src/quantity/written-money.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { readAuxiliaryPrices, readEnergyPrice, readHourPrice } from '../dye-bench/batch/cost.ts';
import { choiceField, optionalMoney, rowsField } from '../kit/fields.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import { rowsAsTyped, type Typed } from '../kit/typed.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';

/** Prices of auxiliaries are told and asked for a kilogram. */
const KILOGRAM_MG = 1_000_000;
const MOST_MINOR = 1_000_000_000;

const FORMS = AUXILIARIES.flatMap(({ kind, name, forms }) =>
  forms.map((form) => ({
    key: `${kind} ${form.code}`,
    kind,
    form: form.code,
    name: form.code === 'as-sold' ? name : form.name,
  })),
);

function fuelFields({ currency }: Asker) {
  const row = z.strictObject({
    key: choiceField(
      FORMS.map(({ key }) => key),
      'an auxiliary',
    ),
    price: optionalMoney(currency, { max: MOST_MINOR }),
  });
  return {
    energy: optionalMoney(currency, {
      max: MOST_MINOR,
      what: 'price',
      label: 'A kilowatt-hour of heat',
    }),
    hour: optionalMoney(currency, {
      max: MOST_MINOR,
      what: 'price',
      label: 'An hour of work',
      hint: 'Used only to compare dyeing with buying.',
    }),
    auxiliaries: rowsField(row, { min: 0, max: 100, what: 'auxiliaries' }),
  };
}

export function fuelForm(asker: Asker) {
  return z.strictObject(fuelFields(asker));
}

/** What fuel, auxiliaries and an hour of work cost: a dyed length carries its share of the first two. */
export function fuelPage(reader: Reader, asker: Asker, typed: Typed = {}) {
  const { energy, hour, auxiliaries } = drawFields(fuelFields(asker), {
    ...asTyped(reader, asker),
    ...typed,
  });
  const fields = {
    energy,
    hour,
    auxiliaries: auxiliaries.flatMap(({ index, key, price }) => {
      const known = FORMS[index];
      return known ? [{ key: { ...key, value: known.key }, price: { ...price, label: known.name } }] : [];
    }),
  };
  const data = { requestKey: mintKey(), fields };
  return { view: 'cost/fuel', data, title: 'What dyeing costs', room: 'setup' } satisfies Page;
}

function asTyped(reader: Reader, { currency }: Asker): Typed {
  const prices = readAuxiliaryPrices(reader);
  const energy = readEnergyPrice(reader);
  const hour = readHourPrice(reader);
  const rows = FORMS.map(({ key }) => {
    const price = prices.get(key);
    return { price: price ? writeMoney(perKilogram(price), currency) : '' };
  });
  return {
    energy: energy === null ? '' : writeMoney(energy, currency),
    hour: hour === null ? '' : writeMoney(hour, currency),
    ...rowsAsTyped('auxiliaries', rows),
  };
}

/** Prices are put down for a kilogram, so that nothing is rounded. */
function perKilogram({ minor, perMg }: { minor: number; perMg: number }): number {
  if (perMg !== KILOGRAM_MG) throw new Error('an auxiliary is priced for a kilogram');
  return minor;
}

/** Writes the prices down that are new; older ones stay. A price that was taken out stays what it was. */
export function setFuelPrices(tx: Tx, form: z.output<ReturnType<typeof fuelForm>>, asker: Asker): Answer {
  const stamp = { at: tx.at, person_id: tx.personId };
  const changed: string[] = [];
  if (form.energy && form.energy.value !== readEnergyPrice(tx)) {
    tx.run(tx.db.insertInto('energy_price').values({ price_minor: form.energy.value, ...stamp }));
    changed.push(`a kilowatt-hour ${showMoney(form.energy.value, asker.currency)}`);
  }
  if (form.hour && form.hour.value !== readHourPrice(tx)) {
    tx.run(tx.db.insertInto('hour_price').values({ price_minor: form.hour.value, ...stamp }));
    changed.push(`an hour of work ${showMoney(form.hour.value, asker.currency)}`);
  }
  const before = readAuxiliaryPrices(tx);
  for (const { key, price } of form.auxiliaries) {
    const known = FORMS.find((each) => each.key === key);
    if (!known || !price || before.get(key)?.minor === price.value) continue;
    const { kind, form: of, name } = known;
    const values = { kind, form: of, price_minor: price.value, price_mg: KILOGRAM_MG, ...stamp };
    tx.run(tx.db.insertInto('auxiliary_price').values(values));
    changed.push(`a kilogram of ${name} ${showMoney(price.value, asker.currency)}`);
  }
  const said = changed.length === 0 ? 'No price is changed.' : `From now on ${changed.join(', ')}.`;
  return { location: '/setup/fuel', said: said.slice(0, 400) };
}
