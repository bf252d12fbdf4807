import { sql } from 'kysely';
import { showMoney } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import type { SupplyKind } from '../database/supply-tables.ts';
import { type BarFill, shapeBar } from '../kit/bar.ts';
import { supplierPath } from '../kit/paths.ts';
import { inForce } from '../ledger/standing.ts';
import { SUPPLY_KIND_WORDS, SUPPLY_KINDS } from '../supplies/words.ts';

/** Word by word as in the index of migration 019, which is used then. */
export const ofSpending = () =>
  sql<boolean>`entry.kind IN ('received', 'back-from-dye', 'returned', 'written-off')`;

/** What came since a day: cloth by supplier, less what went back, and supplies by supplier and kind. */
export function readCameSince(reader: Reader, since: string) {
  return { cloth: readClothBySupplier(reader, since), supplies: readSupplies(reader, since) };
}

type CameSince = ReturnType<typeof readCameSince>;

/** The same by supplier, the most first, as a picture and in figures. */
export function spendBySupplier(reader: Reader, { cloth, supplies }: CameSince, currency: string) {
  const names = new Map(
    reader.all(reader.db.selectFrom('supplier').select(['id', 'name'])).map(({ id, name }) => [id, name]),
  );
  const ids = [...new Set([...cloth.keys(), ...supplies.map(({ supplierId }) => supplierId)])];
  const rows = ids
    .map((id) => ({
      id,
      cloth: cloth.get(id) ?? 0,
      supplies: supplies
        .filter(({ supplierId }) => supplierId === id)
        .reduce((sum, { minor }) => sum + minor, 0),
    }))
    .filter((row) => row.cloth !== 0 || row.supplies !== 0)
    .sort((one, other) => other.cloth + other.supplies - one.cloth - one.supplies);
  const most = Math.max(1, ...rows.map((row) => row.cloth + row.supplies));
  const money = someMoney(currency);
  return rows.map((row) => {
    const name = row.id === null ? 'No supplier given' : (names.get(row.id) ?? '');
    const total = row.cloth + row.supplies;
    return {
      name,
      href: row.id === null ? null : supplierPath(row.id),
      cloth: money(row.cloth),
      supplies: money(row.supplies),
      totalMinor: total,
      total: money(total),
      bar: barOf(
        name,
        [
          ['solid', row.cloth, `${money(row.cloth)} of cloth`],
          ['hatched', row.supplies, `${money(row.supplies)} of supplies`],
        ],
        most,
      ),
    };
  });
}

/** The same by kind: cloth, and each kind of supply. */
export function spendByKind({ cloth: bySupplier, supplies }: CameSince, currency: string) {
  const cloth = [...bySupplier.values()].reduce((sum, minor) => sum + minor, 0);
  const ofKind = (kind: SupplyKind) =>
    supplies.filter((row) => row.kind === kind).reduce((sum, { minor }) => sum + minor, 0);
  const rows = [
    { name: 'Cloth', fill: 'solid' as const, minor: cloth },
    ...SUPPLY_KINDS.map((kind) => ({
      name: SUPPLY_KIND_WORDS[kind],
      fill: 'hatched' as const,
      minor: ofKind(kind),
    })),
  ].filter(({ minor }) => minor !== 0);
  const most = Math.max(1, ...rows.map(({ minor }) => minor));
  const money = someMoney(currency);
  return rows.map(({ name, fill, minor }) => ({
    name,
    totalMinor: minor,
    total: money(minor),
    bar: barOf(name, [[fill, minor, money(minor)]], most),
  }));
}

/** Money; blank where there is none, so that the rest is seen. */
function someMoney(currency: string) {
  return (minor: number) => (minor === 0 ? '' : showMoney(minor, currency));
}

function barOf(
  name: string,
  parts: readonly (readonly [fill: BarFill, minor: number, said: string])[],
  most: number,
) {
  const said = parts.filter(([, minor]) => minor !== 0).map((part) => part[2]);
  // More may have gone back than came, which no bar shows.
  const stretches = parts.map(([fill, minor]) => [fill, Math.max(0, minor)] as const);
  return shapeBar(`${name}: ${said.join(', ')}`, stretches, most);
}

/** Landed cost of cloth that came, less what went back, by the supplier of its lot. */
function readClothBySupplier(reader: Reader, since: string): Map<number | null, number> {
  const rows = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['lot.supplier_id as supplierId', sql<number>`sum(entry.cost_minor)`.as('minor')])
      .where(ofSpending())
      .where('entry.kind', 'in', ['received', 'returned'])
      .where('entry.at', '>=', since)
      .where(inForce('entry'))
      .groupBy('lot.supplier_id'),
  );
  return new Map(rows.map(({ supplierId, minor }) => [supplierId, minor]));
}

/** What the supplies that came cost, by supplier and kind; what was undone does not count. */
function readSupplies(reader: Reader, since: string) {
  return reader.all(
    reader.db
      .selectFrom('supply_entry')
      .innerJoin('supply_lot', 'supply_lot.id', 'supply_entry.supply_lot_id')
      .innerJoin('supply', 'supply.id', 'supply_lot.supply_id')
      .leftJoin('supply_entry as undone', 'undone.reverses_id', 'supply_entry.id')
      .select([
        'supply_lot.supplier_id as supplierId',
        'supply.kind',
        sql<number>`sum(supply_entry.cost_minor)`.as('minor'),
      ])
      .where('supply_entry.kind', '=', 'received')
      // A length that was cut off and kept was paid for with its reel.
      .where('supply_entry.split_of_id', 'is', null)
      .where('supply_entry.at', '>=', since)
      .where('undone.id', 'is', null)
      .groupBy(['supply_lot.supplier_id', 'supply.kind']),
  );
}
