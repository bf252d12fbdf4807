import { PEOPLE, POTS, TABLE } from '../../src/by-when/garment-steps.ts';
import { sayHours } from '../../src/by-when/hours.ts';
import { type WeekLoad, weekLoads } from '../../src/by-when/week-load.ts';
import type { Reader } from '../database/book.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { daysPath, garmentPath } from '../kit/paths.ts';
import type { Typed } from '../kit/typed.ts';
import { showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { readKeptForUs } from '../orders/asked/reservation.ts';
import { orProblems } from '../refusal.ts';
import { readNeeds } from '../short/queries.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readForm } from '../web/post.ts';
import { asPlanChange, changeFields, changeForm, isAsked, sayPlanChange } from './change-form.ts';
import { HOURS_PATH } from './hours-form.ts';
import { type GarmentDays, planWorkroom, readWorkroomPlan, type WorkroomPlan } from './plan.ts';
import { drawWeeks } from './week-chart.ts';
import { nextThing, sayLate, showDayNumber } from './words.ts';

/** Half a year is as far as anybody plans. */
const MOST_WEEKS = 26;

const RESOURCES = [
  { key: PEOPLE, name: 'Sewing', say: sayHours },
  { key: TABLE, name: 'Cutting table', say: sayHours },
  { key: POTS, name: 'Pots', say: (baths: number) => countOf(baths, 'bath', 'baths') },
] as const;

/** All garments in hand by their last days, the load of the weeks, and what a change would move. */
export function weeksPage(reader: Reader, asker: Asker, today: string, typed: Typed = {}) {
  const needs = readNeeds(reader);
  const plan = readWorkroomPlan(reader, today, needs);
  const open = plan.garments.map(({ garment }) => garment);
  const { value: asked, problems } = orProblems(() => readForm(changeForm(reader, open), typed));
  const loads = RESOURCES.filter(({ key }) => plan.capacity.units.has(key)).map((resource) => ({
    ...resource,
    weeks: weekLoads(plan.problem, plan.days, resource.key, MOST_WEEKS),
  }));
  const dated = plan.garments.filter(({ work }) => work !== null);
  const data = {
    proved: plan.proved,
    waiting: plan.waiting,
    garments: dated.map((days) => shapeGarment(days, today)),
    /** without a due day: they are not planned */
    undated: plan.garments
      .filter(({ work }) => work === null)
      .map(({ garment }) => ({
        code: garment.code,
        name: garment.name,
        href: `${garmentPath(garment.code)}/edit`,
      })),
    /** null where nobody has hours and there is no pot */
    chart: loads.length === 0 || dated.length === 0 ? null : drawWeeks(loads),
    table: loads.length === 0 ? null : tableOf(loads),
    without: RESOURCES.filter(({ key }) => !plan.capacity.units.has(key)).map(({ name }) => name),
    closed: plan.capacity.settings.said,
    /** what suppliers keep for the workroom: their last days are last days too */
    kept: readKeptForUs(reader, asker, today),
    fields: drawFields(changeFields(reader, open), typed),
    change: asked && isAsked(asked) ? shapeChange(reader, today, plan, asked, needs) : null,
    hours: HOURS_PATH,
  };
  return { view: 'by-when/weeks', data, title: 'By when', room: 'garments', problems } satisfies Page;
}

function shapeGarment(days: GarmentDays, today: string) {
  const { garment, readyDay, steps } = days;
  return {
    code: garment.code,
    name: garment.name,
    href: garmentPath(garment.code),
    daysHref: daysPath(garment.code),
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    ready:
      steps.length === 0 ? 'ready' : readyDay === null ? 'not within three years' : showDayNumber(readyDay),
    next: nextThing(days, today),
  };
}

type Loads = readonly {
  readonly name: string;
  readonly say: (units: number) => string;
  readonly weeks: readonly WeekLoad[];
}[];

/** The chart as a table: a row a week. */
function tableOf(loads: Loads) {
  const weeks = loads[0]?.weeks ?? [];
  return {
    columns: loads.map(({ name }) => name),
    rows: weeks.map(({ monday }, at) => ({
      week: showDayNumber(monday),
      cells: loads.map(({ name, say, weeks: own }) => {
        const { capacity, soonest, latest } = own[at] ?? { capacity: 0, soonest: 0, latest: 0 };
        const load = [
          ...(soonest > 0 ? [`${say(soonest)} planned`] : []),
          ...(latest > 0 ? [`${say(latest)} at the latest`] : []),
        ];
        return {
          name,
          text: load.length === 0 ? `${say(capacity)} free` : `${load.join(', ')}, of ${say(capacity)}`,
        };
      }),
    })),
  };
}

type Asked = Parameters<typeof asPlanChange>[0];

/** Which garments a change would move, and how. */
function shapeChange(
  reader: Reader,
  today: string,
  plan: WorkroomPlan,
  asked: Asked,
  needs: ReturnType<typeof readNeeds>,
) {
  const change = asPlanChange(asked);
  const changed = planWorkroom(reader, today, needs, change);
  const supplier = reader.first(
    reader.db
      .selectFrom('supplier')
      .select('name')
      .where('id', '=', asked.supplier ?? 0),
  );
  const garment = plan.garments.find((one) => one.garment.id === asked.failed)?.garment;
  const rows = plan.garments.flatMap((before) => {
    const after = changed.garments.find((one) => one.garment.id === before.garment.id);
    if (!after?.work) return [];
    const [was, is] = [nextThing(before, today), nextThing(after, today)];
    if (was.text === is.text && before.readyDay === after.readyDay) return [];
    return [
      {
        code: before.garment.code,
        name: before.garment.name,
        href: daysPath(before.garment.code),
        was: was.text || 'nothing left',
        is: is.text || 'nothing left',
        readyWas: sayReady(before),
        readyIs: sayReady(after),
        late: after.lateDays > before.lateDays ? sayLate(after.lateDays, after.readyDay) : '',
      },
    ];
  });
  return {
    said: sayPlanChange(change, {
      supplier: supplier?.name ?? 'The supplier',
      garment: garment?.code ?? 'it',
    }),
    rows,
  };
}

function sayReady({ readyDay, steps }: GarmentDays): string {
  if (steps.length === 0) return 'ready';
  return readyDay === null ? 'not within three years' : showDayNumber(readyDay);
}
