import { dayAfterWaits } from '../../src/by-when/waits.ts';
import { dayNumber, type WorkDays } from '../../src/by-when/work-days.ts';
import { needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import {
  type LotWithoutSwatch,
  readApprovedSwatches,
  readLotsWithoutSwatch,
} from '../dye-bench/swatch/approved.ts';
import type { Garment } from '../garments/garment/records.ts';
import type { Needs, ShortLine } from '../short/queries.ts';
import { demandsToGet } from '../short/to-get.ts';
import { type ClothDelivery, readDeliveries, readLateRecords, totalDays } from './deliveries.ts';
import type { WorkSettings } from './settings.ts';

/** What cloth a garment still waits for, and what has to be done for it. Days are numbers. */
export interface ClothToCome {
  /** to be ordered: the delivery that takes longest; null where nothing is */
  order: ClothDelivery | null;
  /** cloths to be ordered of which nobody has said in how many days they come */
  untold: string[];
  /** shades to be dyed of which no batch is planned */
  unplanned: string[];
  /** those of them of which no swatch is approved on their cloth */
  unswatched: string[];
  /** batches planned for it that are not counted with a garment due before it, and their baths */
  batches: {
    readonly code: string;
    readonly baths: number;
    /** lots of it that have no approved swatch by its recipe */
    readonly withoutSwatch: readonly LotWithoutSwatch[];
  }[];
  /** codes of batches in the pot */
  inPot: string[];
  /** the day from which what was ordered, or is in the pot, can be used */
  day: number | null;
  arriving: { readonly code: string; readonly expectedOn: string | null; readonly late: boolean }[];
}

interface Given {
  readonly needs: Needs;
  readonly today: string;
  readonly settings: WorkSettings;
  readonly workDays: WorkDays;
  /** days that deliveries of a supplier are later, for a look at what would move */
  readonly laterBy: (supplierId: number) => number;
}

/** What each garment waits for, by its code. A batch for several garments is counted with the first that is due. */
export function readClothToCome(
  reader: Reader,
  { needs, today, settings, workDays, laterBy }: Given,
): Map<string, ClothToCome> {
  const parts = needs.lines.flatMap(partsOf);
  const wanted = parts.flatMap(({ line, toGet }) =>
    toGet === 'order' ? [{ clothId: line.cloth.id, shadeId: line.shade.id }] : [],
  );
  const deliveryOf = readDeliveries(reader, wanted, { today, spareDays: settings.spareDays, laterBy });
  const bathsOf = readBaths(
    reader,
    parts.flatMap(({ line }) => line.dyeing.map(({ code }) => code)),
  );
  const withoutSwatch = readLotsWithoutSwatch(
    reader,
    parts.flatMap(({ line }) => line.dyeing.flatMap(({ code, inPot }) => (inPot ? [] : [code]))),
  );
  const spareOf = readOrderSpare(
    reader,
    parts.flatMap(({ line }) => line.arriving.map(({ orderCode }) => orderCode)),
    { ...settings, laterBy },
  );
  const found = new Map<string, ClothToCome>();
  const counted = new Set<string>();
  const now = dayNumber(today);
  const approved = readApprovedSwatches(reader);
  const order = new Map(needs.garments.map(({ code }, at) => [code, at]));
  parts.sort((a, b) => (order.get(a.garment.code) ?? 0) - (order.get(b.garment.code) ?? 0));
  for (const { line, garment, toGet, waits, orders } of parts) {
    const own: ClothToCome = found.get(garment.code) ?? blank();
    found.set(garment.code, own);
    if (toGet === 'dye') {
      own.unplanned.push(line.shade.name);
      const key = needKey({ clothId: line.cloth.id, shadeId: line.shade.id });
      if (!approved.has(key)) own.unswatched.push(line.shade.name);
    }
    if (toGet === 'order') {
      const delivery = deliveryOf({ clothId: line.cloth.id, shadeId: line.shade.id });
      if (!delivery) own.untold.push(line.cloth.name);
      else if (!own.order || totalDays(delivery) > totalDays(own.order)) own.order = delivery;
    }
    if (!waits) continue;
    for (const { code, inPot } of line.dyeing) {
      if (inPot) {
        own.inPot.push(code);
        own.day = Math.max(own.day ?? 0, now + 1 + settings.dryingDays);
      } else if (!counted.has(code))
        own.batches.push({
          code,
          baths: bathsOf.get(code) ?? 1,
          withoutSwatch: withoutSwatch.get(code) ?? [],
        });
      counted.add(code);
    }
    for (const { orderCode, expectedOn } of orders) {
      const late = expectedOn !== null && expectedOn < today;
      own.arriving.push({ code: orderCode, expectedOn, late });
      if (expectedOn === null) continue;
      const comes = Math.max(now + 1, dayNumber(expectedOn) + (spareOf.get(orderCode) ?? settings.spareDays));
      const usable = dayAfterWaits(workDays, comes, [{ days: settings.receivingDays, of: 'open' }]);
      own.day = Math.max(own.day ?? 0, usable);
    }
  }
  for (const own of found.values()) {
    own.unplanned = [...new Set(own.unplanned)];
    own.unswatched = [...new Set(own.unswatched)];
    own.inPot = [...new Set(own.inPot)];
    own.arriving = [...new Map(own.arriving.map((one) => [one.code, one])).values()];
  }
  return found;
}

function blank(): ClothToCome {
  const lists = { untold: [], unplanned: [], unswatched: [], batches: [], inPot: [], arriving: [] };
  return { order: null, day: null, ...lists };
}

interface ShortPart {
  readonly line: ShortLine;
  readonly garment: Garment;
  /** how the strips that nothing brings are got; null where there are none */
  readonly toGet: 'order' | 'dye' | null;
  /** whether it waits for what is on its way */
  readonly waits: boolean;
  /** the orders that it waits for: later ones bring it nothing */
  readonly orders: ShortLine['arriving'];
}

/** What each garment is short of in a line: what is on its way goes to those that are due first. */
function partsOf(line: ShortLine): ShortPart[] {
  const count = (shares: ShortLine['shares'], onOrderTicks = line.onOrderTicks) =>
    demandsToGet({ ...line, onOrderTicks }, shares).reduce((sum, demand) => sum + demand.count, 0);
  const ticksOf = (orders: ShortLine['arriving']) =>
    orders.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  let before = 0;
  return line.shares.flatMap((share, at) => {
    const { shortStrips } = share.short;
    if (shortStrips === 0) return [];
    const shares = line.shares.slice(0, at + 1);
    const until = count(shares);
    const more = until - before;
    before = until;
    const enough = line.arriving.findIndex(
      (_, orders) => count(shares, ticksOf(line.arriving.slice(0, orders))) === until,
    );
    const dyes = line.groundTicks > 0 && !line.shade.ground;
    return [
      {
        line,
        garment: share.garment,
        toGet: more <= 0 ? null : dyes ? ('dye' as const) : ('order' as const),
        waits: shortStrips > more,
        orders: enough < 0 ? line.arriving : line.arriving.slice(0, enough),
      },
    ];
  });
}

const bathCounts = prepared((db, codes: Param<readonly string[]>) =>
  db
    .selectFrom('batch')
    .leftJoin('batch_bath', 'batch_bath.batch_id', 'batch.id')
    .select((of) => ['batch.code', of.fn.count<number>('batch_bath.bath').as('baths')])
    .where('batch.code', 'in', inList(codes))
    .groupBy('batch.id'),
);

function readBaths(reader: Reader, codes: readonly string[]): Map<string, number> {
  if (codes.length === 0) return new Map();
  const rows = reader.all(bathCounts([...new Set(codes)]));
  return new Map(rows.map(({ code, baths }) => [code, Math.max(1, baths)]));
}

const orderSuppliers = prepared((db, codes: Param<readonly string[]>) =>
  db.selectFrom('order').select(['code', 'supplier_id as supplierId']).where('code', 'in', inList(codes)),
);

/** Days that are kept for the supplier of each order, by the order's code. */
function readOrderSpare(
  reader: Reader,
  codes: readonly string[],
  { spareDays, laterBy }: Pick<WorkSettings, 'spareDays'> & Pick<Given, 'laterBy'>,
): Map<string, number> {
  if (codes.length === 0) return new Map();
  const orders = reader.all(orderSuppliers([...new Set(codes)]));
  const records = readLateRecords(
    reader,
    orders.map(({ supplierId }) => supplierId),
  );
  return new Map(
    orders.map(({ code, supplierId }) => [
      code,
      (records.get(supplierId)?.bufferDays ?? spareDays) + laterBy(supplierId),
    ]),
  );
}
