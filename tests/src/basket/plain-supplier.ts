import type { BasketSupplier } from '../../../src/buying/basket/job.ts';

/** A supplier in the workroom's own currency without freight, tax, discount, fees or least orders. */
export const PLAIN_SUPPLIER: BasketSupplier = {
  currency: 'EUR',
  rateMillionths: 1_000_000,
  freightMinor: 0,
  freeFromMinor: null,
  taxBp: 0,
  discountBp: 0,
  cutFeeMinor: 0,
  leastOrderMinor: null,
  leastOrderTicks: null,
  leastLineMinor: null,
  leastLineTicks: null,
};
