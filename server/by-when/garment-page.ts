import type { DayStepKind } from '../../src/by-when/garment-steps.ts';
import { sayHours, writeHours } from '../../src/by-when/hours.ts';
import type { PlannedSpell } from '../../src/by-when/plan-days.ts';
import { dayAfterWaits, dayBeforeWaits } from '../../src/by-when/waits.ts';
import { dayNumber, openDayBack } from '../../src/by-when/work-days.ts';
import type { Reader } from '../database/book.ts';
import { readGarment } from '../garments/garment/records.ts';
import { drawFields } from '../kit/form-drawing.ts';
import {
  batchPath,
  daysPath,
  garmentPath,
  orderPath,
  pleatingPath,
  shortPath,
  stripsPleatedPath,
} from '../kit/paths.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showDay, showMoment } from '../kit/when.ts';
import { countOf, listed } from '../kit/words.ts';
import { ratesPath } from '../setup/rates/words.ts';
import type { Page } from '../web/page-frame.ts';
import { type ClothDelivery, waitsOf } from './deliveries.ts';
import { GARMENT_WORK_FIELDS, readGarmentWork } from './garment-form.ts';
import { HOURS_PATH } from './hours-form.ts';
import { type GarmentDays, readWorkroomPlan, wantsSwatch } from './plan.ts';
import type { Capacity } from './settings.ts';
import { nextThing, STEP_WORDS, sayLate, showDayNumber } from './words.ts';

/** By when each step of a garment has to be done, with all other garments in hand. @throws {Refusal} unknown */
export function garmentDaysPage(reader: Reader, code: string, today: string, typed: Typed = {}) {
  const garment = readGarment(reader, code);
  const isOpen = garment.finishedAt === null;
  const plan = isOpen ? readWorkroomPlan(reader, today) : null;
  const days = plan?.garments.find(({ garment: { id } }) => id === garment.id) ?? null;
  const kept = readGarmentWork(reader, garment.id);
  const data = {
    requestKey: mintKey(),
    code,
    name: garment.name,
    href: garmentPath(code),
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    edit: `${garmentPath(code)}/edit`,
    finished: !isOpen,
    next: days && garment.dueOn !== null ? nextThing(days, today) : null,
    /** why days go past the due day, as a sentence; '' where it is in time */
    late:
      days && garment.dueOn !== null && isPast(days.readyDay, garment.dueOn) && days.steps.length > 0
        ? `It cannot be ready by ${showDay(garment.dueOn)}. A step after its day “at the latest” makes this garment or another later still.`
        : '',
    proved: plan?.proved ?? true,
    rows: days && plan ? rowsOf(days, plan.capacity) : [],
    notes: days && plan ? notesOf(days, plan.capacity) : [],
    waiting: plan?.waiting ?? 0,
    fields: isOpen
      ? drawFields(GARMENT_WORK_FIELDS, {
          sewing: kept.sewingMinutes === null ? '' : writeHours(kept.sewingMinutes),
          fitting: kept.fittingOn ?? '',
          ...typed,
        })
      : null,
    action: daysPath(code),
    tapAction: `${daysPath(code)}/taps`,
    works: days ? worksOf(days) : [],
    hours: HOURS_PATH,
  };
  return { view: 'by-when/garment', data, title: `${garment.name} by when`, room: 'garments' } satisfies Page;
}

/** Whether a garment is ready after its due day, or nobody can tell by when. */
function isPast(readyDay: number | null, dueOn: string): boolean {
  return readyDay === null || readyDay > dayNumber(dueOn);
}

function rowsOf(days: GarmentDays, { settings, workDays }: Capacity) {
  const { steps, garment, work } = days;
  const rows = steps.flatMap((step) => {
    const row = {
      step: STEP_WORDS[step.kind],
      work: workOf(step.kind, days),
      last: saySpan(step.latest),
      soonest: saySpan(step.soonest),
    };
    const order = orderOf(step.kind, days);
    if (!order) return [row];
    const comes = (spell: PlannedSpell | null) =>
      spell
        ? showDayNumber(dayAfterWaits(workDays, spell.toDay, waitsOf(order, settings.receivingDays)))
        : 'not told';
    return [
      row,
      {
        step: DELIVERY_WORDS[step.kind] ?? '',
        work: `${countOf(order.leadDays, 'day', 'days')} and ${order.bufferDays} to spare`,
        last: comes(step.latest),
        soonest: comes(step.soonest),
      },
    ];
  });
  if (rows.length === 0) return [];
  const ready = days.readyDay === null ? 'not within three years' : showDayNumber(days.readyDay);
  const agreed = work?.fittingDay !== null && !work?.fittingDone;
  const due = {
    step: 'Due',
    work: '',
    last: garment.dueOn === null ? '' : showDay(garment.dueOn),
    soonest: agreed ? '' : ready,
  };
  return [...rows, due];
}

const DELIVERY_WORDS: Readonly<Partial<Record<DayStepKind, string>>> = {
  order: 'Delivery, inspected',
  'order-dyes': 'Dyes delivered',
  'order-supplies': 'Supplies delivered',
};

/** The delivery that a step asks for; null where the step is no order. */
function orderOf(kind: DayStepKind, { cloth, supplies }: GarmentDays): ClothDelivery | null {
  if (kind === 'order') return cloth?.order ?? null;
  if (kind === 'order-dyes') return supplies?.dyes.order ?? null;
  return kind === 'order-supplies' ? (supplies?.sewn.order ?? null) : null;
}

/** "4 Dec 2026", or from one day to another. */
function saySpan(spell: PlannedSpell | null): string {
  if (!spell) return 'not within three years';
  const [from, to] = [showDayNumber(spell.fromDay), showDayNumber(spell.toDay)];
  return from === to ? from : `${from} to ${to}`;
}

function workOf(kind: DayStepKind, days: GarmentDays): string {
  const { cloth, work, strips, sewing } = days;
  switch (kind) {
    case 'order':
      return cloth?.order ? `from ${cloth.order.supplier}` : '';
    case 'order-dyes':
      return listed(days.supplies?.dyes.supplies.map(({ name }) => name) ?? []);
    case 'order-supplies':
      return listed(days.supplies?.sewn.supplies.map(({ name }) => name) ?? []);
    case 'swatch':
      return countOf(work?.swatchDays ?? 0, 'day', 'days');
    case 'dye':
      return countOf(work?.baths ?? 0, 'bath', 'baths');
    case 'cut': {
      const left = countOf(strips.wanted - strips.cut, 'strip', 'strips');
      if (!work?.cutMinutes) return left;
      const rest = strips.wanted - strips.cut - strips.planned;
      const by =
        strips.planned === 0
          ? 'by strips an hour'
          : rest === 0
            ? 'by the held plans'
            : `${strips.planned} by the held plans, the rest by strips an hour`;
      return `${left}, ${sayHours(work.cutMinutes)} at the table, ${by}`;
    }
    case 'sew': {
      if (sewing.minutes === 0) return 'not known';
      const parts = sewing.withParts ? ', parts included' : '';
      const all = `${sewing.complete ? '' : 'at least '}${sayHours(sewing.minutes)}${parts}`;
      const done = Math.round(days.tappedMinutes);
      return done > 0 ? `${sayHours(work?.sewMinutes ?? 0)} left of ${all}` : all;
    }
    case 'fit':
      return '';
  }
}

/** What the days are made of where it is not plain, and what nobody has said. */
function notesOf(
  {
    cloth,
    supplies,
    steps,
    garment,
    work,
    sewing,
    strips,
    pleated,
    troubles,
    lateDays,
    readyDay,
  }: GarmentDays,
  capacity: Capacity,
) {
  const { units } = capacity;
  const notes: { text: string; href?: string; link?: string }[] = [];
  const hours = { href: HOURS_PATH, link: 'Days and hours' };
  if (garment.dueOn === null) return notes;
  if (work?.fittingDay && lateDays > 0 && !work.fittingDone)
    notes.push({ text: `Counted to the last fitting that was agreed: ${sayLate(lateDays, readyDay)}.` });
  if (cloth?.order) {
    const { supplier, leadDays, bufferDays, deliveries } = cloth.order;
    const spare =
      deliveries > 0
        ? `${countOf(bufferDays, 'day', 'days')} to spare, by how late its last ${countOf(deliveries, 'delivery was', 'deliveries were')}`
        : `${countOf(bufferDays, 'day', 'days')} to spare, as it has no record yet`;
    notes.push({ text: `${supplier} delivers in ${countOf(leadDays, 'day', 'days')}; ${spare}.` });
  }
  for (const name of new Set(cloth?.untold ?? []))
    notes.push({
      text: `${name}: nobody has said in how many days it comes, so its delivery is not counted.`,
      href: '/orders/suppliers',
      link: 'Suppliers',
    });
  const begins = (kinds: readonly DayStepKind[]) =>
    steps.find(({ kind, latest }) => kinds.includes(kind) && latest)?.latest?.fromDay ?? null;
  const besides = [
    ...(supplies?.dyes.supplies ?? []).map((one) => ({ ...one, usedDay: begins(['swatch', 'dye']) })),
    ...(supplies?.sewn.supplies ?? []).map((one) => ({ ...one, usedDay: begins(['sew']) })),
  ];
  const { settings, workDays } = capacity;
  const sayBy = (usedDay: number | null, delivery: ClothDelivery) => {
    if (usedDay === null) return '';
    const asked = dayBeforeWaits(workDays, usedDay, waitsOf(delivery, settings.receivingDays));
    return `by ${showDayNumber(openDayBack(workDays, asked, 1))} `;
  };
  for (const { name, delivery, usedDay } of besides)
    notes.push({
      text: delivery
        ? `${name}: order it ${sayBy(usedDay, delivery)}from ${delivery.supplier}, which delivers in ${countOf(delivery.leadDays, 'day', 'days')}, with ${delivery.bufferDays} to spare.`
        : `${name}: nobody has said in how many days it comes, so its delivery is not counted.`,
      href: `${shortPath(garment.code)}#supplies`,
      link: 'What to get',
    });
  for (const { code, name, expectedOn } of supplies?.arriving ?? [])
    notes.push({
      text:
        expectedOn === null
          ? `${name}: order ${code} has no day, so its delivery is not counted.`
          : `${name}: order ${code} is expected ${showDay(expectedOn)}.`,
      href: orderPath(code),
      link: code,
    });
  for (const { code, expectedOn, late } of cloth?.arriving ?? [])
    notes.push({
      text:
        expectedOn === null
          ? `Order ${code} has no day, so its delivery is not counted.`
          : `Order ${code} is expected ${showDay(expectedOn)}${late ? ': it is late, and counted as coming tomorrow' : ', with the supplier’s days to spare'}.`,
      href: orderPath(code),
      link: code,
    });
  for (const row of pleated) {
    const what = 'strips' in row ? `${countOf(row.strips, 'strip', 'strips')} of ${row.tier}` : row.piece;
    notes.push({
      text: `At ${row.pleater}: ${what}, expected back ${showDay(row.expected_on)}; it is sewn after that.`,
      href: 'strips' in row ? stripsPleatedPath(row.id) : pleatingPath(row.id),
      link: 'Pleating',
    });
  }
  for (const code of cloth?.inPot ?? [])
    notes.push({ text: `Batch ${code} is in the pot.`, href: batchPath(code), link: code });
  for (const { code, withoutSwatch } of cloth?.batches ?? []) {
    const [first] = withoutSwatch;
    if (!first) continue;
    const lots = listed(withoutSwatch.map(({ name }) => name));
    const counted = work?.swatchDays
      ? `${countOf(work.swatchDays, 'day is', 'days are')} counted for one`
      : 'the swatch is tapped as done here';
    notes.push({
      text: `Batch ${code} has no approved swatch by its recipe of ${lots}: ${counted}.`,
      href: first.href,
      link: 'Dye a swatch',
    });
  }
  if (cloth && cloth.unplanned.length > 0)
    notes.push({
      text: `No batch is planned for ${listed(cloth.unplanned)}: one bath is counted for each cloth and shade.`,
      href: '/dye-bench/batches/new',
      link: 'Plan a batch',
    });
  if (strips.wanted > strips.cut && !(units.has('table') && work?.cutMinutes))
    notes.push({ text: 'No hours or rate of the cutting table: cutting is counted as one day.', ...hours });
  if ((work?.sewMinutes ?? 1) !== 0 && !units.has('people'))
    notes.push({ text: 'Nobody has hours of sewing: sewing is counted as one day.', ...hours });
  if (!sewing.complete && strips.wanted > 0)
    notes.push({ text: 'Some sewing has no rate and is not counted.', href: ratesPath(), link: 'Rates' });
  if (troubles > 0)
    notes.push({
      text: `${countOf(troubles, 'tier', 'tiers')} cannot be worked out and ${troubles === 1 ? 'is' : 'are'} not counted.`,
    });
  return notes;
}

const WORKS = [
  ['cut', 'Cutting'],
  ['sew', 'Sewing'],
  ['swatch', 'Swatch'],
  ['dye', 'Dyeing'],
  ['fit', 'Last fitting'],
] as const;

/** What is offered by the last tap; before any, as where it was left. */
const TAPS_OFFERED = {
  begun: [
    { tap: 'left', text: 'Leave for now' },
    { tap: 'done', text: 'Done' },
  ],
  left: [
    { tap: 'begun', text: 'Begin' },
    { tap: 'done', text: 'Done' },
  ],
  done: [{ tap: 'begun', text: 'Begin again' }],
} as const;

/** What can be tapped: begun, left for now, done. */
function worksOf({ taps, cloth }: Pick<GarmentDays, 'taps' | 'cloth'>) {
  // An approved swatch is read at the dye bench: nobody types it a second time.
  const dyed =
    cloth === null ? [] : [...cloth.unplanned, ...cloth.batches.map(({ code }) => `batch ${code}`)];
  const swatched = dyed.length > 0 && !wantsSwatch(cloth);
  return WORKS.map(([work, name]) => {
    if (work === 'swatch' && swatched)
      return { work, name, state: `approved: ${listed(dyed)}`, offers: [], key: mintKey() };
    const last = taps.findLast((tap) => tap.work === work);
    const said = { begun: 'begun', left: 'left', done: 'done' };
    const offers = TAPS_OFFERED[last?.tap ?? 'left'].filter(
      // Strips and baths tell themselves when cutting and dyeing are done: there "done" only ends what was begun.
      ({ tap }) =>
        (work !== 'cut' && work !== 'dye') || (last?.tap === 'begun' ? tap === 'done' : tap === 'begun'),
    );
    return {
      work,
      name,
      state: last ? `${said[last.tap]} ${showMoment(last.at)} by ${last.person}` : '',
      offers,
      key: mintKey(),
    };
  });
}
