import { whyNotInVessel } from '../../../src/dye/card-warnings.ts';
import { type PlacedBath, placeInPots } from '../../../src/dye/pot-day.ts';
import { displacedUl } from '../../../src/dye/splitting.ts';
import { fillMl } from '../../../src/dye/vessel.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { momentOf, showDay } from '../../kit/when.ts';
import { countOf, wordFor } from '../../kit/words.ts';
import { conflict, type Problem, refuseAny } from '../../refusal.ts';
import { keepBathPlan } from '../batch/pots.ts';
import { clockOf } from '../pot/step.ts';
import { readVessels, type Vessel } from '../vessels/store.ts';
import { type OpenBath, readOpenBaths } from './baths.ts';
import type { DayForm } from './form.ts';

/** When work begins on a day where nothing says otherwise. */
export const FIRST_CLOCK = '09:00';

/**
 * Keeps in which pots the baths of a day are dyed and when they begin.
 * @throws {Refusal} conflict where a bath began meanwhile; invalid by row where a pot does not hold its bath, or two
 * baths would stand in one pot
 */
export function planDay(tx: Tx, on: string, form: DayForm, units: Units): Answer {
  const open = readOpenBaths(tx, units);
  const vessels = readVessels(tx);
  const problems: Problem[] = [];
  const rows = form.baths.map((row) => {
    const bath = open.find(({ batch, number }) => batch.code === row.batch && number === row.bath.value);
    if (!bath || bath.begun) {
      throw conflict(`Bath ${row.bath.value} of ${row.batch} has begun, or is not to be dyed any more.`, {
        text: 'Pots over the day',
        href: dayPath(on),
      });
    }
    const vessel = vessels.find(({ id }) => id === row.vessel_id) ?? bath.vessel;
    const why = whyNotInPot(bath, vessel);
    if (why !== '') problems.push({ field: `baths.${row.place}.vessel_id`, message: why });
    const fromMs = row.begins === null ? null : Date.parse(momentOf(on, row.begins));
    return { row, bath: { ...bath, vessel, vesselId: vessel.id, fromMs } };
  });
  refuseAny(problems);
  const named = new Set(rows.map(({ bath }) => bath.key));
  const others = open.filter(({ key, fromMs }) => !named.has(key) && fromMs !== null);
  const wanted = rows.map(({ bath }) => bath).filter(({ fromMs }) => form.fit || fromMs !== null);
  const placed = placeInPots(vessels, [...others, ...wanted], Date.parse(momentOf(on, FIRST_CLOCK)));
  for (const { row, bath } of rows) {
    const clash = placed.find((each) => each.bath.key === bath.key && each.pot === null);
    if (clash) problems.push({ field: `baths.${row.place}.begins`, message: sayFull(clash, placed) });
  }
  refuseAny(problems);
  for (const { bath } of rows) {
    const place = placed.find((each) => each.bath.key === bath.key);
    const beginsAt = place ? new Date(place.fromMs).toISOString() : null;
    keepBathPlan(tx, bath.batch.id, bath.number, { vesselId: bath.vesselId, beginsAt });
  }
  const timed = placed.filter(({ bath }) => named.has(bath.key)).length;
  return {
    location: dayPath(on),
    said: `${showDay(on)}: ${timed === 0 ? 'no bath has' : `${countOf(timed, 'bath', 'baths')} ${wordFor(timed, 'has', 'have')}`} a time and a pot.`,
  };
}

export function dayPath(on: string): string {
  return address('/dye-bench/day', { on });
}

/** Why a bath cannot be dyed in a pot; '' where it can. */
export function whyNotInPot({ bath, card, recipe, number }: OpenBath, vessel: Vessel): string {
  const eaten = whyNotInVessel(recipe.recipe, vessel.material);
  if (eaten !== '') return eaten;
  const loadUl = bath.volumeUl + displacedUl(bath.massMg);
  const holdsMl = fillMl(vessel.volumeMl, card.recipe.temperatureC);
  if (loadUl <= holdsMl * 1000) return '';
  return `Bath ${number} makes ${(loadUl / 1_000_000).toFixed(2)} L of liquor and cloth, and ${vessel.name} may be filled with ${(holdsMl / 1000).toFixed(2)} L.`;
}

/** "Enamel pot holds bath 1 of D5 from 10:00 to 13:20: two baths at a time need two pots." */
function sayFull({ bath, inTheWay }: PlacedBath<OpenBath>, placed: readonly PlacedBath<OpenBath>[]): string {
  const held = inTheWay.map(({ key }) => {
    const other = placed.find((each) => each.bath.key === key);
    return other ? `${sayBath(other.bath)} from ${clockOf(other.fromMs)} to ${clockOf(other.toMs)}` : key;
  });
  const { name, pots } = bath.vessel;
  return `${name} holds ${held.join(' and ')}: ${wordFor(pots + 1, 'one bath', `${pots + 1} baths`)} at a time need ${pots + 1} pots.`;
}

export function sayBath({ batch, number, count }: OpenBath): string {
  return count === 1 ? batch.code : `bath ${number} of ${batch.code}`;
}
