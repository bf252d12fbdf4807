import { sql } from 'kysely';
import { type AuxiliaryKind, liquidMassMg } from '../../../src/dye/auxiliaries.ts';
import { type Card, potOnCard } from '../../../src/dye/card.ts';
import { type DyeingCost, dyeingCost, type PricePerMass } from '../../../src/dye/dyeing-cost.ts';
import { bathKj } from '../../../src/dye/pot-time.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { inForce } from '../../ledger/standing.ts';
import type { StoredBatch } from './store.ts';

/**
 * What a batch that was started cost by its card, what was weighed off the stock at what was paid for it: dyes, auxiliaries and the heat of its
 * baths; null before it starts.
 */
export function reckonDyeing(reader: Reader, { id, card }: StoredBatch): DyeingCost | null {
  return card === null ? null : reckonCard(reader, card, readPaidFor(reader, id));
}

/** The same of any card, started or only worked out. */
export function reckonCard(reader: Reader, card: Card, paid: PaidPrices = new Map()): DyeingCost {
  const dyes = readDyePrices(reader);
  const auxiliaries = readAuxiliaryPrices(reader);
  const amounts = card.bath.lines.map(({ part, name, kind, form, massMg }) => ({
    name,
    massMg,
    price:
      paid.get(part === 'dye' ? name.toLowerCase() : `${kind} ${form}`) ??
      (part === 'dye' ? dyes.get(name.toLowerCase()) : auxiliaries.get(`${kind} ${form}`)) ??
      null,
  }));
  return dyeingCost(amounts, { kj: heatOf(card), minorPerKwh: readEnergyPrice(reader) });
}

/** Prices by the name of a dye or by "kind form" of an auxiliary. */
type PaidPrices = ReadonlyMap<string, PricePerMass>;

const weighedOffStock = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('supply_entry')
    .innerJoin('batch_log', 'batch_log.id', 'supply_entry.batch_log_id')
    .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
    .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
    .leftJoin('dye', 'dye.id', 'supply.dye_id')
    .select(['dye.name as dye', 'supply.auxiliary_kind as kind', 'supply.auxiliary_form as form'])
    .select('supply.measure')
    .select([
      sql<number>`sum(-supply_entry.amount)`.as('amount'),
      sql<number>`sum(-supply_entry.cost_minor)`.as('minor'),
    ])
    .where('batch_log.batch_id', '=', batchId)
    .groupBy('supply.id'),
);

/**
 * What was paid for what was weighed off the stock for a batch; what came without a price is not among it. A liquid is turned
 * into mass by the density of its form, as it was when it was taken off the stock.
 */
function readPaidFor(reader: Reader, batchId: number): PaidPrices {
  const rows = reader.all(weighedOffStock(batchId)).filter(({ amount, minor }) => amount > 0 && minor > 0);
  return new Map(
    rows.flatMap(({ dye, kind, form, measure, amount, minor }): [string, PricePerMass][] => {
      const mg = measure === 'volume' ? liquidMassMg(kind as AuxiliaryKind, form ?? '', amount) : amount;
      return mg ? [[dye === null ? `${kind} ${form}` : dye.toLowerCase(), { minor, perMg: mg }]] : [];
    }),
  );
}

/** What has been added to the cost of lengths of the batch that are back already. */
export function readDyeingAdded(reader: Reader, batchId: number): number {
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('entry as sent', 'sent.id', 'entry.pair_id')
      .select(['entry.cost_minor', 'sent.cost_minor as sent_minor'])
      .where('entry.batch_id', '=', batchId)
      .where('entry.kind', '=', 'back-from-dye')
      .where(inForce('entry')),
  );
  return rows.reduce((sum, row) => sum + row.cost_minor + row.sent_minor, 0);
}

/** The heat that the baths take up, and what of the fuel does not reach them where the heater is known. */
function heatOf(card: Card): number {
  const { temperatureC } = card.recipe;
  return card.baths.reduce((sum, bath, at) => sum + bathKj(bath, potOnCard(card, at + 1), temperatureC), 0);
}

function readDyePrices(reader: Reader): ReadonlyMap<string, PricePerMass> {
  const rows = reader.all(
    reader.db
      .selectFrom('dye')
      .select(['name', 'price_minor', 'price_mg'])
      .where('price_minor', 'is not', null),
  );
  return new Map(
    rows.flatMap(({ name, price_minor: minor, price_mg: perMg }) =>
      minor === null || perMg === null ? [] : [[name.toLowerCase(), { minor, perMg }] as const],
    ),
  );
}

/** The newest price of each auxiliary in each form, by "kind form". */
export function readAuxiliaryPrices(reader: Reader): ReadonlyMap<string, PricePerMass> {
  const rows = reader.all(reader.db.selectFrom('auxiliary_price').selectAll().orderBy('id'));
  return new Map(
    rows.map((row) => [`${row.kind} ${row.form}`, { minor: row.price_minor, perMg: row.price_mg }]),
  );
}

/** What an hour of work costs, in minor units; null where nobody has said it. */
export function readHourPrice(reader: Reader): number | null {
  const row = reader.first(
    reader.db.selectFrom('hour_price').select('price_minor').orderBy('id', 'desc').limit(1),
  );
  return row?.price_minor ?? null;
}

export function readEnergyPrice(reader: Reader): number | null {
  const row = reader.first(
    reader.db.selectFrom('energy_price').select('price_minor').orderBy('id', 'desc').limit(1),
  );
  return row?.price_minor ?? null;
}

/** What is left to add of the reckoned cost, in minor units; 0 where nothing of it has a price. */
export function readDyeingLeft(reader: Reader, batch: StoredBatch): number {
  const cost = reckonDyeing(reader, batch);
  return cost === null ? 0 : Math.max(0, cost.totalMinor - readDyeingAdded(reader, batch.id));
}
