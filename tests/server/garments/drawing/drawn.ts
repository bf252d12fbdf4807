import { drawElevations, type Elevation } from '../../../../server/garments/drawing/elevation.ts';
import type { Names } from '../../../../server/garments/garment/names.ts';
import { type Garment, type TierRecord, withLabels } from '../../../../server/garments/garment/records.ts';
import { workedBy } from '../../../../server/garments/garment/worked.ts';
import { METRIC } from '../../../../src/quantity/length-show.ts';
import { cm } from '../../../lengths.ts';

const LETTERS = 'ABCDEFGHIJ';
export const names: Names = {
  cloth: () => 'Organza',
  shade: (id) => `Shade ${id}`,
  colour: (id) => (id % 2 === 0 ? '#204060' : null),
  letter: (id) => LETTERS[id - 1] ?? '?',
  chip: (id) => ({ colour: null, name: `Shade ${id}`, href: '/' }),
};

const CLOTH = 1;
/** Three times a girth, 30 cm deep, two strips of one shade and one of another. */
export const TIER: TierRecord = {
  id: 1,
  position: 1,
  label: '1',
  ownName: '',
  name: 'Tier 1',
  hangs: 'form',
  dropTicks: cm(10),
  onTierId: null,
  heightTicks: null,
  clothId: CLOTH,
  depthTicks: cm(30),
  overlapTicks: 0,
  fullnessMilli: 3000,
  fullnessExact: null,
  ratioTierId: null,
  ring: true,
  openingWay: 'finished',
  placedBy: 'upper',
  placedTicks: null,
  levelTierId: null,
  madeTicks: null,
  seamKind: 'plain',
  seamTicks: cm(1),
  endTicks: 0,
  headingTicks: 0,
  upperEdge: 'seam',
  hangSeamTicks: 0,
  lowerEdge: 'narrow',
  hemTicks: 0,
  hemFirst: false,
  direction: 'across',
  stripLengthTicks: null,
  offsetStrips: 0,
  finishRepeat: false,
  takenOutAt: null,
  version: 1,
  changedAt: null,
  changedBy: null,
  typed: '{}',
  blocks: [
    { shadeId: 1, clothId: null, strips: 2, lots: 'one' },
    { shadeId: 2, clothId: null, strips: 1, lots: 'one' },
  ],
};

/** A cone of 70 to 300 cm round over a drop of 1 m. */
export function garment(parts: Partial<Garment> = {}): Garment {
  const round = { hoopWidthTicks: null, hoopDepthTicks: null, typed: '{}' };
  return {
    id: 1,
    code: 'G1',
    name: 'Petticoat',
    note: '',
    dueOn: null,
    finishedAt: null,
    waistHeightTicks: null,
    clearanceTicks: null,
    frontDropTicks: null,
    sideDropTicks: null,
    backDropTicks: null,
    profile: 'straight',
    foundationEaseTicks: 0,
    openingTicks: null,
    fastening: 'hooks',
    fastenerTicks: null,
    overTicks: null,
    meetCentiDeltaE: 100,
    lookCentiDeltaE: 50,
    typed: '{}',
    version: 1,
    changedAt: null,
    changedBy: null,
    girths: [
      { dropTicks: 0, girthTicks: cm(70), ...round },
      { dropTicks: cm(100), girthTicks: cm(300), ...round },
    ],
    parts: [],
    ...parts,
    tiers: withLabels(parts.tiers ?? [TIER]),
  };
}

/** Its pictures, from cloth that is 147 cm wide in use. */
export function draw(parts: Partial<Garment> = {}): Elevation[] {
  return drawElevations(workedBy(garment(parts), new Map([[CLOTH, cm(147)]])), names, METRIC);
}
