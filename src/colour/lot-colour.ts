import type { ColourReading } from './colour-reading.ts';
import { deltaE00, type Lab, meanLab } from './lab.ts';

/** A lot's colour by its readings in one condition: the same light, observer, layers and backing, dry. */
export interface ConditionColour
  extends Pick<ColourReading, 'illuminant' | 'observer' | 'layers' | 'backing' | 'how'> {
  readonly lab: Lab;
  /** places of the lot that were read */
  readonly places: number;
  /** how far a place is from the mean at most, in CIEDE2000 */
  readonly spread: number;
  /** of 20 such colours 19 lie within it, the spread of the lot included; in CIEDE2000 */
  readonly uncertainty: number;
}

/** What readings of one lot come to. */
export interface LotRead {
  /** the surest first, one for each condition that it was read in */
  readonly colours: readonly ConditionColour[];
  readonly readings: number;
}

export const NOT_READ: LotRead = { colours: [], readings: 0 };

export function lotRead(readings: readonly ColourReading[]): LotRead {
  return { colours: coloursOfLot(readings), readings: readings.length };
}

/**
 * The colours of a lot, the surest first, one for each condition that it was read in. The surest way of reading counts; of a
 * place its last reading, of several places the mean. Wet readings count for none.
 */
export function coloursOfLot(readings: readonly ColourReading[]): ConditionColour[] {
  const byCondition = Map.groupBy(
    readings.filter(({ state }) => state === 'dry'),
    conditionOf,
  );
  return [...byCondition.values()].map(colourOf).sort((one, other) => one.uncertainty - other.uncertainty);
}

/** What two readings must have alike to be compared. */
export function conditionOf({
  illuminant,
  observer,
  layers,
  backing,
}: Pick<ColourReading, 'illuminant' | 'observer' | 'layers' | 'backing'>): string {
  return [illuminant, observer, layers ?? '', backing ?? ''].join('/');
}

function colourOf(readings: readonly ColourReading[]): ConditionColour {
  const surest = Math.min(...readings.map(({ uncertaintyCenti }) => uncertaintyCenti));
  const sure = readings.filter(({ uncertaintyCenti }) => uncertaintyCenti === surest);
  const places = [...new Map(sure.map((reading) => [reading.place, reading])).values()];
  const last = places.at(-1) as ColourReading;
  const lab = meanLab(places.map((place) => place.lab));
  const spread = Math.max(...places.map((place) => deltaE00(lab, place.lab)));
  return {
    illuminant: last.illuminant,
    observer: last.observer,
    layers: last.layers,
    backing: last.backing,
    how: last.how,
    lab,
    places: places.length,
    spread,
    uncertainty: Math.hypot(surest / 100, spread),
  };
}

/** How far apart two places of a lot must be before its shading is told, beyond what the readings leave open (our rule). */
const SHADED = 0.5;

/** A lot that is not of one colour: along its length, or from side to side. In CIEDE2000. */
export interface LotShading {
  readonly kind: 'ending' | 'side to side';
  readonly apart: number;
  readonly from: Lab;
  readonly to: Lab;
}

/** The shading that several readings of one lot tell, the worst first; none where they are as sure as they are apart. */
export function shadingOfLot(readings: readonly ColourReading[]): LotShading[] {
  const byCondition = Map.groupBy(
    readings.filter(({ state, place }) => state === 'dry' && place !== null),
    (reading) => `${conditionOf(reading)}/${reading.how}`,
  );
  const found = [...byCondition.values()].flatMap((alike) => [
    ...worstOf(alike, ['begin', 'middle', 'end'], 'ending'),
    ...worstOf(alike, ['left', 'right', 'middle'], 'side to side'),
  ]);
  return found.sort((one, other) => other.apart - one.apart);
}

function worstOf(
  alike: readonly ColourReading[],
  places: readonly ColourReading['place'][],
  kind: LotShading['kind'],
): LotShading[] {
  const read = places.flatMap((place) => alike.findLast((reading) => reading.place === place) ?? []);
  const pairs = read.flatMap((one, at) => read.slice(at + 1).map((other) => ({ one, other })));
  // What an instrument or a lamp is off by, it is off by at both places: of one reading's doubt half is left.
  const told = pairs
    .map(({ one, other }) => ({
      kind,
      apart: deltaE00(one.lab, other.lab),
      from: one.lab,
      to: other.lab,
      doubt: one.uncertaintyCenti / 200,
    }))
    .filter(({ apart, doubt }) => apart > Math.max(SHADED, doubt))
    .sort((a, b) => b.apart - a.apart)
    .map(({ doubt: _, ...shading }) => shading);
  return told.slice(0, 1);
}
