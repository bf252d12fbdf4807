import { cutInLengths } from '../../../src/fit/cut-length.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Names } from '../../garments/garment/names.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { showStrip } from '../../garments/versions/differences.ts';
import type { Chip } from '../../kit/chip.ts';
import { benchPath, cuttingPath, garmentPath } from '../../kit/paths.ts';
import { showDay } from '../../kit/when.ts';
import { countOf } from '../../kit/words.ts';
import type { ShadeAtTable, TierAtTable } from './table.ts';

/** What every page of a garment at the table says of it; `due` is '' where no day is set. */
export function shapeGarmentHead({ code, name, dueOn }: Garment) {
  return { code, name, href: garmentPath(code), due: dueOn === null ? '' : showDay(dueOn) };
}

/** What every page of a tier says above its matter. */
export type TierHead = ReturnType<typeof shapeTierHead>;

export function shapeTierHead({ garment, tier, closed }: TierAtTable) {
  return {
    garment: shapeGarmentHead(garment),
    tier: { id: tier.id, name: tier.name, href: tier.href },
    listHref: cuttingPath(garment.code, tier.id),
    benchHref: benchPath(garment.code, tier.id),
    /** why nothing can be held or cut now; '' where it can */
    closed,
  };
}

const LOTS = { one: 'one lot', meet: 'lots that may meet', any: 'any lots' } as const;

/** The strips of one shade in figures. Lengths in ticks of 1/160 mm, and as they are read. */
export interface ShadeFigures {
  readonly shadeId: number;
  readonly chip: Chip;
  readonly cloth: string;
  readonly depthTicks: number;
  readonly stripLengthTicks: number;
  /** depth × length of a strip as it is cut */
  readonly size: string;
  readonly wantedStrips: number;
  readonly cutStrips: number;
  readonly leftStrips: number;
  readonly lots: (typeof LOTS)[keyof typeof LOTS];
}

export function shapeShadeFigures(shade: ShadeAtTable, names: Names, units: Units): ShadeFigures {
  return {
    shadeId: shade.shadeId,
    chip: names.chip(shade.shadeId),
    cloth: names.cloth(shade.clothId),
    depthTicks: shade.depthTicks,
    stripLengthTicks: shade.lengthTicks,
    size: showStrip(shade, units),
    wantedStrips: shade.count,
    cutStrips: shade.cutStrips,
    leftStrips: shade.leftStrips,
    lots: LOTS[shade.lots],
  };
}

/** "8 strips in 3 cut lengths of 33 cm, 3 strips a length: 99 cm" */
export function sayCutLengths(
  shade: ShadeAtTable,
  usableWidthTicks: number,
  strips: number,
  units: Units,
): string {
  const cut = cutInLengths(shade, usableWidthTicks, strips);
  if (!cut) return '';
  const cutLengths = `${countOf(cut.cutLengths, 'cut length', 'cut lengths')} of ${showSize(shade.depthTicks, units, 'up')}`;
  const each = `${countOf(cut.columns, 'strip', 'strips')} a length`;
  return `${countOf(strips, 'strip', 'strips')} in ${cutLengths}, ${each}: ${showLength(cut.lengthTicks, units, 'up')}`;
}
