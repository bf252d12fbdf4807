import { sayFullness } from '../../../src/quantity/fullness.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { countOf, listed } from '../../kit/words.ts';
import { SEAM_WORDS } from '../tier/seam-and-edge-words.ts';
import type { Names } from './names.ts';
import type { Garment, TierRecord } from './records.ts';

/**
 * One thing that is said of a garment or a tier: its name, its text, and the plain value behind the text. Most are compared
 * by their values and never said.
 */
export interface Fact {
  readonly what: string;
  readonly text: () => string;
  readonly value: unknown;
}

/** The girths of a form, each by its drop. */
export function girthFacts({ girths }: Garment, units: Units): Fact[] {
  const size = sizeIn(units);
  return girths.map((girth) => ({
    what: `Girth at a drop of ${size(girth.dropTicks)}`,
    text: () => sayGirth(girth, size),
    value: [girth.girthTicks, girth.hoopWidthTicks, girth.hoopDepthTicks],
  }));
}

/** What a form is given by besides its girths; what is not given is left out. */
export function formFacts(garment: Garment, units: Units): Fact[] {
  const size = sizeIn(units);
  const lengths: readonly (readonly [string, number | null])[] = [
    ['Waist above the floor', garment.waistHeightTicks],
    ['Hem clear of the floor', garment.clearanceTicks],
    ['Drop to the hem in front', garment.frontDropTicks],
    ['Drop to the hem at the side', garment.sideDropTicks],
    ['Drop to the hem at the back', garment.backDropTicks],
    ['Foundation layer larger by', garment.foundationEaseTicks || null],
    ['Depth of the opening', garment.openingTicks],
    ['Spacing of fasteners', garment.fastenerTicks],
    ['Put on over a girth of', garment.overTicks],
  ];
  return [
    ...lengths.flatMap(([what, ticks]) =>
      ticks === null ? [] : [{ what, text: () => size(ticks), value: ticks }],
    ),
    ...(garment.openingTicks !== null
      ? [{ what: 'Closed by', text: () => garment.fastening, value: garment.fastening }]
      : []),
    ...(garment.profile === 'domed'
      ? [{ what: 'Between two girths', text: () => 'domed', value: garment.profile }]
      : []),
  ];
}

/** "283 cm", and the hoop that it was given as: "283 cm, hoop 90 cm", "253 cm, hoop 90 cm wide × 70 cm deep". */
export function sayGirth(girth: Garment['girths'][number], size: (ticks: number) => string): string {
  const { girthTicks, hoopWidthTicks, hoopDepthTicks } = girth;
  if (hoopWidthTicks === null) return size(girthTicks);
  const depth = hoopDepthTicks === null ? '' : ` wide × ${size(hoopDepthTicks)} deep`;
  return `${size(girthTicks)}, hoop ${size(hoopWidthTicks)}${depth}`;
}

/**
 * All that is given for a tier, in the order of its form. `tierKey` says by what another tier is known to be the same:
 * between two garments by its name, which is the usual, between two states of one by its number.
 */
export function tierFacts(
  tier: TierRecord,
  garment: Garment,
  names: Names,
  units: Units,
  tierKey?: (tierId: number | null) => unknown,
): Fact[] {
  const size = sizeIn(units);
  const nameOf = (id: number | null) => garment.tiers.find((one) => one.id === id)?.name ?? 'a tier';
  const keyOf = tierKey ?? nameOf;
  const length = (what: string, ticks: number): Fact => ({ what, text: () => size(ticks), value: ticks });
  return [
    { what: 'Hangs', text: () => sayHanging(tier, nameOf, size), value: hangingOf(tier, keyOf) },
    ...(tier.placedBy === 'upper'
      ? []
      : [{ what: 'Placed', text: () => sayPlaced(tier, nameOf, size), value: placedValue(tier, keyOf) }]),
    { what: 'Cloth', text: () => names.cloth(tier.clothId), value: tier.clothId },
    length('Finished depth', tier.depthTicks),
    length('Overlap', tier.overlapTicks),
    {
      what: 'Fullness',
      text: () =>
        `${sayFullness(tier)}×${tier.ratioTierId === null ? '' : ` the length of ${nameOf(tier.ratioTierId)}`}`,
      value: [sayFullness(tier), tier.ratioTierId === null ? null : keyOf(tier.ratioTierId)],
    },
    { what: 'Closing', text: () => (tier.ring ? 'ring' : 'open'), value: tier.ring },
    ...(tier.openingWay === 'finished'
      ? []
      : [
          {
            what: 'Where the garment opens',
            text: () => (tier.openingWay === 'unsewn' ? 'a seam left unsewn' : 'stays closed'),
            value: tier.openingWay,
          },
        ]),
    {
      what: 'Seams',
      text: () => `${SEAM_WORDS[tier.seamKind]}, ${size(tier.seamTicks)}`,
      value: [tier.seamKind, tier.seamTicks],
    },
    length('End allowance', tier.endTicks),
    length('Heading', tier.headingTicks),
    {
      what: 'Upper edge',
      text: () =>
        `${tier.upperEdge === 'seam' ? 'in the seam' : tier.upperEdge}, ${size(tier.hangSeamTicks)}`,
      value: [tier.upperEdge, tier.hangSeamTicks],
    },
    {
      what: 'Lower edge',
      text: () => `${tier.lowerEdge}, ${size(tier.hemTicks)}`,
      value: [tier.lowerEdge, tier.hemTicks],
    },
    {
      what: 'Hemmed',
      text: () => (tier.hemFirst ? 'before joining' : 'after joining'),
      value: tier.hemFirst,
    },
    { what: 'Strips lie', text: () => tier.direction, value: tier.direction },
    {
      what: 'Strip length',
      text: () => (tier.stripLengthTicks === null ? 'the whole usable width' : size(tier.stripLengthTicks)),
      value: tier.stripLengthTicks,
    },
    {
      what: 'Order of colours',
      text: () => sayOrder(tier, names),
      value: [tier.blocks, tier.offsetStrips, tier.finishRepeat],
    },
  ];
}

/** Where a tier is sewn on, in words. */
export function sayHanging(
  tier: TierRecord,
  nameOf: (tierId: number | null) => string,
  size: (ticks: number) => string,
): string {
  switch (tier.hangs) {
    case 'form':
      return `from the form at a drop of ${size(tier.dropTicks ?? 0)}`;
    case 'foundation':
      return `from the foundation layer at a drop of ${size(tier.dropTicks ?? 0)}`;
    case 'edge':
      return `edges ${nameOf(tier.onTierId)}`;
    case 'face':
      return `on the face of ${nameOf(tier.onTierId)}, ${size(tier.heightTicks ?? 0)} above its edge`;
  }
}

/** What of a tier was pinned, where it is not its upper edge: "lower edge 12 cm above the floor". */
function sayPlaced(
  { placedBy, placedTicks, levelTierId }: TierRecord,
  nameOf: (tierId: number | null) => string,
  size: (ticks: number) => string,
): string {
  switch (placedBy) {
    case 'upper':
      return 'upper edge';
    case 'lower':
      return `lower edge at a drop of ${size(placedTicks ?? 0)}`;
    case 'floor':
      return `lower edge ${size(placedTicks ?? 0)} above the floor`;
    case 'level':
      return `lower edge level with that of ${nameOf(levelTierId)}`;
  }
}

function placedValue(tier: TierRecord, keyOf: (tierId: number | null) => unknown): unknown {
  return [tier.placedBy, tier.placedTicks, tier.levelTierId === null ? null : keyOf(tier.levelTierId)];
}

function hangingOf(tier: TierRecord, keyOf: (tierId: number | null) => unknown): unknown {
  // By the name of the tier, so that a copy of a garment hangs like the first.
  return [tier.hangs, tier.dropTicks, tier.heightTicks, tier.onTierId === null ? null : keyOf(tier.onTierId)];
}

function sayOrder(tier: TierRecord, names: Names): string {
  const blocks = tier.blocks.map(({ strips, shadeId, clothId, lots }) => {
    const cloth = clothId === null || clothId === tier.clothId ? '' : ` in ${names.cloth(clothId)}`;
    const rule = lots === 'one' ? '' : lots === 'meet' ? ' (matching lots)' : ' (any lots)';
    return `${strips} ${names.shade(shadeId)}${cloth}${rule}`;
  });
  return [
    listed(blocks),
    ...(tier.offsetStrips > 0 ? [`starting ${countOf(tier.offsetStrips, 'strip', 'strips')} in`] : []),
    ...(tier.finishRepeat ? ['finished to a whole repeat'] : []),
  ].join(', ');
}

function sizeIn(units: Units): (ticks: number) => string {
  return (ticks) => showSize(ticks, units, 'near');
}
