import { type PlacedBath, placeInPots } from '../../../src/dye/pot-day.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields, drawRow } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { dayAfter, dayOf, momentOf, sayMinutes, showClock, showDay } from '../../kit/when.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { potPath } from '../pot/log-verbs.ts';
import { clockOf } from '../pot/step.ts';
import { readVesselsInUse, type Vessel } from '../vessels/store.ts';
import { type OpenBath, readOpenBaths } from './baths.ts';
import { drawPots } from './chart.ts';
import { dayForm, MOST_BATHS_IN_DAY } from './form.ts';
import { dayPath, FIRST_CLOCK, sayBath } from './verbs.ts';

/** The pots over a day: which bath stands in which pot from when to when, and what is not on any day yet. */
export function dayPage(reader: Reader, asker: Asker, now: string, typed: Typed = {}) {
  const today = dayOf(now);
  const on = /^\d{4}-\d{2}-\d{2}$/.test(typed.on ?? '') ? (typed.on ?? today) : today;
  const vessels = readVesselsInUse(reader);
  const baths = readOpenBaths(reader, asker.units);
  const fixed = baths.filter(({ fromMs }) => fromMs !== null);
  const firstMs = Math.max(Date.parse(momentOf(on, FIRST_CLOCK)), on === today ? Date.parse(now) : 0);
  const placed = placeInPots(vessels, fixed, firstMs).filter((each) => isOnDay(each, on));
  const loose = baths.filter((bath) => bath.fromMs === null);
  const suggested = placeInPots(vessels, [...fixed, ...loose], firstMs);
  const { baths: rows } = dayForm(reader).shape;
  const asked = [...placed.flatMap(({ bath }) => (bath.begun ? [] : [bath])), ...loose].slice(
    0,
    MOST_BATHS_IN_DAY,
  );
  const data = {
    requestKey: mintKey(),
    on,
    day: showDay(on),
    before: dayPath(dayAfter(on, -1)),
    after: dayPath(dayAfter(on, 1)),
    today: on === today ? '' : dayPath(today),
    action: dayPath(on),
    hasVessel: vessels.length > 0,
    /** null where nothing stands in a pot on the day */
    chart: placed.length === 0 ? null : drawPots(vessels, placed, on === today ? Date.parse(now) : null),
    /** the chart as a table */
    rows: placed.sort(byPot(vessels)).map((each) => shapeRow(each)),
    totals: shapeTotals(placed),
    form: asked.map((bath, at) => ({
      ...drawRow('baths', rows.rowFields, at, {
        [`baths.${at}.batch`]: bath.batch.code,
        [`baths.${at}.bath`]: String(bath.number),
        [`baths.${at}.vessel_id`]: String(bath.vesselId),
        [`baths.${at}.begins`]: bath.fromMs === null ? '' : clockOf(bath.fromMs),
        ...typed,
      }),
      label: sayBath(bath),
      chip: shadeChip(bath.recipe.shade),
      minutes: sayMinutes(bath.minutes),
      free: sayFree(suggested, bath, on),
    })),
    ...drawFields({ fit: dayForm(reader).shape.fit }, typed),
  };
  return {
    view: 'dye-bench/day/day',
    data,
    title: `Pots on ${showDay(on)}`,
    room: 'dye-bench',
  } satisfies Page;
}

function isOnDay({ fromMs, toMs }: PlacedBath, on: string): boolean {
  const [from, to] = [Date.parse(momentOf(on, '00:00')), Date.parse(momentOf(dayAfter(on, 1), '00:00'))];
  return fromMs < to && toMs > from;
}

function byPot(vessels: readonly Vessel[]) {
  const place = ({ vesselId }: OpenBath) => vessels.findIndex(({ id }) => id === vesselId);
  return (a: PlacedBath<OpenBath>, b: PlacedBath<OpenBath>) =>
    place(a.bath) - place(b.bath) || (a.pot ?? 99) - (b.pot ?? 99) || a.fromMs - b.fromMs;
}

function shapeRow({ bath, fromMs, toMs, pot, inTheWay }: PlacedBath<OpenBath>) {
  const { vessel, batch, number, lateMinutes: late } = bath;
  return {
    pot: vessel.pots > 1 && pot !== null ? `${vessel.name} ${pot + 1}` : vessel.name,
    bath: sayBath(bath),
    href: bath.begun ? potPath(batch.code, number) : batchPath(batch.code),
    chip: shadeChip(bath.recipe.shade),
    from: clockOf(fromMs),
    to: clockOf(toMs),
    takes: sayMinutes(bath.minutes),
    energy: sayKwh(bath.kj),
    stands: bath.stands,
    /** what is wrong with it or to be known of it */
    note:
      pot === null
        ? `No pot is free: ${inTheWay.map(sayBath).join(' and ')}.`
        : late > 0
          ? `Its heater is ${late} min slower than the ramp, counted in.`
          : '',
    clash: pot === null,
  };
}

/** From the first bath to the last, the hours in pots, and the energy of the day. */
function shapeTotals(placed: readonly PlacedBath<OpenBath>[]) {
  if (placed.length === 0) return null;
  const from = Math.min(...placed.map(({ fromMs }) => fromMs));
  const to = Math.max(...placed.map(({ toMs }) => toMs));
  return {
    baths: placed.length,
    from: clockOf(from),
    to: clockOf(to),
    takes: sayMinutes(Math.round((to - from) / 60_000)),
    inPots: sayMinutes(placed.reduce((sum, { bath }) => sum + bath.minutes, 0)),
    energy: sayKwh(placed.reduce((sum, { bath }) => sum + bath.kj, 0)),
  };
}

function sayKwh(kj: number): string {
  return `${(kj / 3600).toFixed(2)} kWh`;
}

/** When the pot of a bath without a time is free for it; '' for one that has a time. */
function sayFree(suggested: readonly PlacedBath<OpenBath>[], bath: OpenBath, on: string): string {
  const place = suggested.find((each) => each.bath.key === bath.key);
  if (bath.fromMs !== null || !place) return '';
  if (place.pot === null) return 'no such pot is in use';
  const moment = new Date(place.fromMs).toISOString();
  return dayOf(moment) === on
    ? `free from ${showClock(moment)}`
    : `free ${showDay(dayOf(moment))}, ${showClock(moment)}`;
}
