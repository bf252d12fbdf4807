import {
  passes,
  pointsOf,
  pointsOfBolt,
  pointsPer100M2Centi,
  pointsPer100Yd2Centi,
} from '../../../src/buying/grading.ts';
import { type ShortMeasure, shortMeasure } from '../../../src/buying/short-measure.ts';
import { massPerAreaOf, showSwatchArea } from '../../../src/buying/swatch.ts';
import { exactly, showFixed } from '../../../src/quantity/figure-show.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { showMass, showMassPerArea } from '../../../src/quantity/mass.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { massPerAreaUnit } from '../../kit/units.ts';
import { showMoment } from '../../kit/when.ts';
import type { Inspection } from './store.ts';

/** Judges a piece by what was found on it and by the rules of that day. */
export function judgePiece(found: Inspection, units: Units) {
  const points = pointsOfBolt(found.flaws, found.holes);
  const bolt = { points, widthTicks: found.widthTicks, lengthTicks: found.lengthTicks };
  const ok = passes(bolt, found.mostPoints);
  const missing =
    found.markedTicks === null
      ? null
      : shortMeasure({ orderedTicks: found.markedTicks, measuredTicks: found.lengthTicks }, found.shortBp);
  const centi = (hundredths: number) => showFixed(exactly(hundredths), 2);
  const per100Yd2 = centi(pointsPer100Yd2Centi(bolt));
  const marked = found.markedTicks === null ? '' : showLength(found.markedTicks, units, 'near');
  return {
    when: showMoment(found.at),
    by: found.by,
    length: showLength(found.lengthTicks, units, 'near'),
    /** '' where nothing was ordered or marked */
    marked,
    short: missing && missing.shortTicks > 0 ? sayShort(missing, units) : '',
    shortBeyond: missing?.beyond ?? false,
    shortTicks: missing?.shortTicks ?? 0,
    width: showSize(found.widthTicks, units, 'near'),
    massPerArea: found.swatch
      ? showMassPerArea(massPerAreaOf(found.swatch), massPerAreaUnit(units), 'near')
      : '',
    swatch: found.swatch
      ? `${showSwatchArea(found.swatch.areaMm2)} weigh ${showMass(found.swatch.massMg, units.system, 'near')}`
      : '',
    points,
    per100Yd2,
    per100M2: centi(pointsPer100M2Centi(bolt)),
    mostPoints: found.mostPoints,
    passes: ok,
    flaws: found.flaws.map((flaw) => ({
      what: flaw.hole && !/hole/i.test(flaw.what) ? `${flaw.what}, a hole` : flaw.what,
      where: `${showLength(flaw.fromTicks, units, 'near')} from the free end${flaw.leftTicks === null ? '' : `, ${showSize(flaw.leftTicks, units, 'near')} from the left edge`}`,
      long: showSize(flaw.lengthTicks, units, 'near'),
      points: pointsOf(flaw, found.holes),
    })),
    note: found.note,
    /** what there is to claim, a sentence each */
    claims: [
      ...(missing?.beyond
        ? [
            `Short by ${sayShort(missing, units)}: ${marked} was ordered, and up to ${showPercent(found.shortBp)} may be missing.`,
          ]
        : []),
      ...(ok ? [] : [`${per100Yd2} points in 100 yd², and ${found.mostPoints} pass.`]),
    ],
  };
}

/** What an inspection comes to, ready to print. */
export type Judged = ReturnType<typeof judgePiece>;

function sayShort(missing: ShortMeasure, units: Units): string {
  return `${showLength(missing.shortTicks, units, 'near')} (${showPercent(missing.shortBp)})`;
}
