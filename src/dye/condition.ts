import type { Provenance } from '../quantity/provenance.ts';
import type { DyeClass } from './dye-class.ts';
import type { FibreCode } from './fibre.ts';
/** One way of working one class of dye on some fibres. Temperatures in °C, times in minutes. */
export interface Condition {
  readonly fibres: readonly FibreCode[];
  readonly dyeClass: DyeClass;
  readonly method: string;
  readonly startC?: Range;
  readonly temperatureC: Range;
  readonly minutes?: Range;
  readonly pH?: Range;
  /** Litres of bath per kilogram of cloth. */
  readonly liquorRatio?: number;
  /** `sealed`: only under pressure, in plant built for it: work for a commission dyer. */
  readonly vessel: 'open' | 'sealed';
  readonly note?: string;
  readonly mark: Provenance;
}

type Range = readonly [from: number, to: number];
