import { lengthToCut } from '../../../src/fit/strips.ts';
import { type Need, needKey } from '../../../src/garment/need.ts';
import type { Reader } from '../../database/book.ts';
import { unknown } from '../../refusal.ts';
import { type Garment, readGarment } from '../garment/records.ts';
import { readClothWays, readUsableWidths, type WorkedGarment, workedBy } from '../garment/worked.ts';
import { clothsOf, readVersion } from './queries.ts';
import { garmentOf, waysOf, widthsOf } from './snapshot.ts';

/** A state of a garment that is put beside another: a kept version, or a garment as it is now. */
export interface State {
  /** "version 2" or "G4 as it is now" */
  readonly name: string;
  readonly worked: WorkedGarment;
  readonly widths: ReadonlyMap<number, number>;
}

/** Reads what a query names: the number of a version of this garment, or a garment's code. @throws {Refusal} unknown */
export function readState(reader: Reader, garment: Garment, asked: string): State {
  if (/^[1-9][0-9]{0,8}$/.test(asked)) {
    const { snapshot } = readVersion(reader, garment, Number(asked));
    const widths = widthsOf(snapshot);
    return {
      name: `version ${asked}`,
      widths,
      worked: workedBy(garmentOf(garment, snapshot), widths, waysOf(snapshot)),
    };
  }
  if (asked === '') throw unknown('version without a number');
  const other = asked === garment.code ? garment : readGarment(reader, asked);
  const widths = readUsableWidths(reader, clothsOf(other));
  return {
    name: `${other.code} as it is now`,
    widths,
    worked: workedBy(other, widths, readClothWays(reader, clothsOf(other))),
  };
}

/** A need as it is in two states: strips, and the length of fresh cloth that gives them all. */
export interface NeedChange {
  readonly clothId: number;
  readonly shadeId: number;
  readonly from: NeedFigures;
  readonly to: NeedFigures;
}

export interface NeedFigures {
  readonly strips: number;
  /** null where no length would do */
  readonly lengthTicks: number | null;
  /** the strips by their sizes, as they are cut */
  readonly sizes: readonly {
    readonly depthTicks: number;
    readonly lengthTicks: number;
    readonly count: number;
  }[];
}

/** The needs of both states, cloth by cloth and shade by shade. */
export function needsBeside(from: State, to: State): NeedChange[] {
  const all = new Map([...from.worked.needs, ...to.worked.needs].map((need) => [needKey(need), need]));
  return [...all].map(([key, { clothId, shadeId }]) => ({
    clothId,
    shadeId,
    from: figuresOf(from, (need) => needKey(need) === key),
    to: figuresOf(to, (need) => needKey(need) === key),
  }));
}

function figuresOf({ worked, widths }: State, isIt: (need: Need) => boolean): NeedFigures {
  const need = worked.needs.find(isIt);
  if (!need) return { strips: 0, lengthTicks: 0, sizes: [] };
  const sizes = new Map<string, { depthTicks: number; lengthTicks: number; count: number }>();
  for (const { depthTicks, lengthTicks, count } of need.demands) {
    const key = `${depthTicks} ${lengthTicks}`;
    sizes.set(key, { depthTicks, lengthTicks, count: (sizes.get(key)?.count ?? 0) + count });
  }
  return {
    strips: need.strips,
    lengthTicks: lengthToCut(need.demands, widths.get(need.clothId) ?? 0),
    sizes: [...sizes.values()],
  };
}
