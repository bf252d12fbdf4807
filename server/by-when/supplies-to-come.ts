import { dayAfterWaits } from '../../src/by-when/waits.ts';
import { dayNumber, type WorkDays } from '../../src/by-when/work-days.ts';
import type { Reader } from '../database/book.ts';
import { readAwaitedSupplies } from '../orders/order/queries.ts';
import { readSuppliesToGet } from '../short/supplies.ts';
import type { StockedSupply } from '../supplies/store.ts';
import { readLackedByGarment } from '../supplies/wanted.ts';
import { readKeptSupplies } from '../supplies/weighed.ts';
import type { ClothToCome } from './cloth-to-come.ts';
import { type ClothDelivery, readSupplyDeliveries, totalDays } from './deliveries.ts';
import type { WorkSettings } from './settings.ts';

/** Supplies that have to be ordered for one step of a garment. */
export interface SuppliesToOrder {
  /** the delivery that takes longest; null where none is known, or nothing is to be ordered */
  readonly order: ClothDelivery | null;
  /** each supply that is ordered, and how it comes; null where nobody has said in how many days */
  readonly supplies: readonly { readonly name: string; readonly delivery: ClothDelivery | null }[];
}

/** What a garment still waits for besides cloth. */
export interface SuppliesToCome {
  readonly dyes: SuppliesToOrder;
  readonly sewn: SuppliesToOrder;
  /** the day from which what was ordered to be sewn on can be used; null where nothing is awaited */
  readonly day: number | null;
  readonly arriving: readonly {
    readonly code: string;
    readonly name: string;
    readonly expectedOn: string | null;
  }[];
}

interface Given {
  /** those due first first: they take what is on hand and what is on its way */
  readonly codes: readonly string[];
  readonly cloths: ReadonlyMap<string, Pick<ClothToCome, 'batches'>>;
  readonly today: string;
  readonly settings: WorkSettings;
  readonly workDays: WorkDays;
  readonly laterBy: (supplierId: number) => number;
}

/** What each garment has to have ordered besides cloth, and waits for, by its code. */
export function readSuppliesToCome(reader: Reader, given: Given): Map<string, SuppliesToCome> {
  const { codes, cloths, today, settings, workDays, laterBy } = given;
  const kept = readKeptSupplies(reader);
  if (kept.length === 0) return new Map();
  const awaited = readAwaitedSupplies(reader).map(({ order, line }) => ({
    order,
    line,
    left: line.awaitedAmount,
  }));
  // What is on order comes for all batches alike: the first that runs short is not told apart.
  const shortDyes = readSuppliesToGet(reader).filter(({ batches }) => batches.length > 0);
  const lacked = readLackedByGarment(reader, kept, codes);
  const rules = { today, spareDays: settings.spareDays, laterBy };
  const deliveryOf = readSupplyDeliveries(reader, kept, rules);
  const orderOf = (supplies: readonly StockedSupply[]): SuppliesToOrder => {
    const each = supplies.map((supply) => ({ name: supply.name, delivery: deliveryOf(supply) }));
    const known = each.flatMap(({ delivery }) => delivery ?? []);
    return { order: known.sort((a, b) => totalDays(b) - totalDays(a))[0] ?? null, supplies: each };
  };
  const now = dayNumber(today);
  const usableFrom = (expectedOn: string, supplierId: number) => {
    const comes = Math.max(now + 1, dayNumber(expectedOn) + settings.spareDays + laterBy(supplierId));
    return dayAfterWaits(workDays, comes, [{ days: settings.receivingDays, of: 'open' }]);
  };
  return new Map(
    codes.map((code) => {
      const batches = new Set((cloths.get(code)?.batches ?? []).map((batch) => batch.code));
      const dyes = shortDyes.filter((need) => need.batches.some((batch) => batches.has(batch)));
      const toOrder: StockedSupply[] = [];
      const arriving: { code: string; name: string; expectedOn: string | null }[] = [];
      let day: number | null = null;
      for (const { supply, amount } of lacked.get(code) ?? []) {
        let needed = amount;
        for (const one of awaited) {
          if (one.line.supplyId !== supply.id || one.left === 0 || needed === 0) continue;
          const taken = Math.min(one.left, needed);
          one.left -= taken;
          needed -= taken;
          const { code: order, expectedOn, supplierId } = one.order;
          arriving.push({ code: order, name: supply.name, expectedOn });
          if (expectedOn !== null) day = Math.max(day ?? 0, usableFrom(expectedOn, supplierId));
        }
        if (needed > 0) toOrder.push(supply);
      }
      const found = {
        dyes: orderOf(dyes.map(({ supply }) => supply)),
        sewn: orderOf(toOrder),
        day,
        arriving,
      };
      return [code, found];
    }),
  );
}
