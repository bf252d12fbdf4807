import { keepMeasure, measureSchema } from '../server/garments/as-made/verbs.ts';
import { readGarment } from '../server/garments/garment/records.ts';
import { partOfKind } from '../server/garments/parts/all.ts';
import { keptPartSchema } from '../server/garments/parts/kept-form.ts';
import { addPart } from '../server/garments/parts/kept-verbs.ts';
import type { Typed } from '../server/kit/typed.ts';
import type { Hand } from './hand.ts';
import { placeOf } from './table.ts';

export interface DemoPart {
  readonly kind: string;
  readonly name: string;
  readonly pieces?: string;
  readonly cloth?: string;
  readonly shade?: string;
  readonly asked: Typed;
}

/** What the tide skirt has besides its tiers, in centimetres: its band, cage, flounces, crin and how its hem is gathered. */
export const TIDE_SKIRT_PARTS: readonly DemoPart[] = [
  {
    kind: 'closing',
    name: 'Waistband',
    cloth: 'Cotton lawn 150',
    shade: 'Natural',
    asked: {
      waist: '70',
      laps: '5',
      finished: '4',
      seam: '1',
      faced: 'yes',
      interfaced: 'yes',
      opening: '25',
      underlap_width: '6',
      pull_over: '104',
    },
  },
  {
    kind: 'cage',
    name: 'Cage',
    asked: {
      girths: '150, 215, 270, 310',
      lap: '10',
      seam: '1',
      drop: '100',
      turns: '5',
      tapes: '8',
      coil: '20 m',
    },
  },
  {
    kind: 'flounce',
    name: 'Foam flounce',
    cloth: 'Nylon organza 150',
    shade: 'Foam',
    asked: {
      seam: '340',
      depth: '25',
      circles: '2',
      sectors: '2',
      join: '1',
      upper: '1',
      hem: '2',
      width: '144',
    },
  },
  {
    kind: 'pleats',
    name: 'Pleated flounce',
    cloth: 'Polyester organza 150',
    shade: 'Lantern gold',
    asked: {
      kind: 'knife',
      finished: '340',
      closing: 'ring',
      face: '2',
      strip: '147',
      seam: '1',
      cut_depth: '22',
    },
  },
  {
    kind: 'trim',
    name: 'Crin 25 mm',
    asked: { edge: '630', fullness: '1', joins: '1', per_join: '2.5', edges: '1' },
  },
  {
    kind: 'gathering',
    name: 'Gathering of the hem',
    asked: { flat: '630', finished: '206', rows: '2', most: '3 m' },
  },
];

/** Keeps parts with a garment, a few minutes each. */
export function keepParts(
  hand: Hand,
  when: (minute: number) => string,
  who: string,
  code: string,
  parts: readonly DemoPart[],
): void {
  parts.forEach(({ kind, name, pieces = '1', cloth, shade, asked }, at) => {
    const part = partOfKind(kind);
    const typed = {
      ...asked,
      name,
      pieces,
      cloth_id: cloth ? String(hand.id('cloth', cloth)) : '',
      shade_id: shade ? String(hand.id('shade', shade)) : '',
      unit: 'cm',
    };
    hand.fillsIn(when(2 * at), who, typed, {
      schema: () => keptPartSchema(hand.book, part, 'cm'),
      write: (tx, form) => addPart(tx, readGarment(hand.book, code).code, { part, unit: 'cm', typed, form }),
    });
  });
}

/** Notes on the stand how far below the waist the lower edge of a tier came to lie, in centimetres. */
export function measureTier(
  hand: Hand,
  when: string,
  { who, tier, lower, note }: { who: string; tier: string; lower: string; note: string },
): void {
  const { garmentCode, tierId } = placeOf(hand, tier);
  const garment = readGarment(hand.book, garmentCode);
  hand.fillsIn(
    when,
    who,
    { tier_id: String(tierId), lower, note },
    {
      schema: ({ units }) => measureSchema(garment, units),
      write: (tx, form) => keepMeasure(tx, garment.code, form),
    },
  );
}
