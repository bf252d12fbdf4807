import { PEOPLE, POTS, TABLE } from '../../src/by-when/garment-steps.ts';
import { stripsAnHour } from '../../src/by-when/own-rates.ts';
import { dayNumber, isOpenDay, type WorkDays } from '../../src/by-when/work-days.ts';
import type { Reader } from '../database/book.ts';
import { prepared } from '../database/statements.ts';
import { readMeasuredStrips } from './measured.ts';

/** Until the workroom says otherwise: common practice, and told as such on the page. */
const USUAL = {
  openDays: 31,
  tableMinutes: null,
  stripsHour: null,
  potBaths: null,
  dryingDays: 1,
  swatchDays: 2,
  receivingDays: 1,
  spareDays: 3,
  finishingDays: 1,
};

/** What the workroom said of its days. */
export interface WorkSettings {
  /** false where nobody has said anything yet */
  readonly said: boolean;
  /** Monday 1, Tuesday 2, Wednesday 4 to Sunday 64, added up */
  readonly openDays: number;
  readonly tableMinutes: number | null;
  readonly stripsHour: number | null;
  readonly potBaths: number | null;
  readonly dryingDays: number;
  readonly swatchDays: number;
  readonly receivingDays: number;
  readonly spareDays: number;
  readonly finishingDays: number;
}

const workDayRow = prepared((db) => db.selectFrom('work_day').selectAll());

export function readWorkSettings(reader: Reader): WorkSettings {
  const row = reader.first(workDayRow());
  if (!row) return { said: false, ...USUAL };
  return {
    said: true,
    openDays: row.open_days,
    tableMinutes: row.table_minutes,
    stripsHour: row.strips_hour,
    potBaths: row.pot_baths,
    dryingDays: row.drying_days,
    swatchDays: row.swatch_days,
    receivingDays: row.receiving_days,
    spareDays: row.spare_days,
    finishingDays: row.finishing_days,
  };
}

const closedDays = prepared((db) =>
  db
    .selectFrom('closed_day')
    .leftJoin('person', 'person.id', 'closed_day.person_id')
    .selectAll('closed_day')
    .select('person.name as person')
    .orderBy('from_on')
    .orderBy('closed_day.id'),
);

/** All closed days of the list, the first first; `person` is null where the whole workroom is closed. */
export function readClosedDays(reader: Reader) {
  return reader.all(closedDays());
}

const sewers = prepared((db) =>
  db
    .selectFrom('person')
    .leftJoin('person_hours', 'person_hours.person_id', 'person.id')
    .select(['person.id', 'person.name', 'person_hours.sewing_minutes as minutes'])
    .where('person.left_at', 'is', null)
    .orderBy('person.name'),
);

/** Everybody who works here, with the minutes that they sew on an open day. */
export function readSewers(reader: Reader) {
  return reader.all(sewers());
}

const potsInUse = prepared((db) =>
  db
    .selectFrom('vessel')
    .select((of) => of.fn.sum<number>('pots').as('pots'))
    .where('gone_at', 'is', null),
);

/** The days of the workroom, and what can be done on each of them. */
export interface Capacity {
  readonly settings: WorkSettings;
  /** as it was typed, else as it was measured; null where neither is known */
  readonly stripsHour: number | null;
  readonly workDays: WorkDays;
  /** units of a day by resource: minutes of people and of the table, baths; without those that nobody has said */
  readonly units: ReadonlyMap<string, (day: number) => number>;
  readonly pots: number;
  /** all that it was read from */
  readonly said: unknown;
}

/** `lostDays` are closed besides those of the list, for a look at what would move. */
export function readCapacity(reader: Reader, lostDays: readonly number[] = []): Capacity {
  const settings = readWorkSettings(reader);
  const rows = readClosedDays(reader);
  const daysOf = (personId: number | null) =>
    new Set(
      rows.flatMap((row) =>
        row.person_id === personId ? daysFrom(dayNumber(row.from_on), dayNumber(row.to_on)) : [],
      ),
    );
  const openOn = WEEK_BITS.map((bit) => (settings.openDays & bit) > 0);
  const workDays: WorkDays = { openOn, closed: new Set([...daysOf(null), ...lostDays]) };
  const all = readSewers(reader);
  const people = all.flatMap(({ id, minutes }) => (minutes === null ? [] : [{ minutes, away: daysOf(id) }]));
  const pots = reader.first(potsInUse())?.pots ?? 0;
  const onOpen = (of: (day: number) => number) => (day: number) => (isOpenDay(workDays, day) ? of(day) : 0);
  const { tableMinutes, potBaths } = settings;
  const measured = settings.stripsHour === null && tableMinutes !== null ? readMeasuredStrips(reader) : null;
  const stripsHour = settings.stripsHour ?? (measured && stripsAnHour(measured));
  const units = new Map<string, (day: number) => number>();
  if (people.length > 0)
    units.set(
      PEOPLE,
      onOpen((day) => people.reduce((sum, { minutes, away }) => sum + (away.has(day) ? 0 : minutes), 0)),
    );
  if (tableMinutes !== null)
    units.set(
      TABLE,
      onOpen(() => tableMinutes),
    );
  if (pots > 0)
    units.set(
      POTS,
      onOpen(() => pots * (potBaths ?? 1)),
    );
  return { settings, stripsHour, workDays, units, pots, said: [settings, rows, lostDays, all, pots] };
}

/** The parts of `open_days`, Monday to Sunday. */
export const WEEK_BITS = [1, 2, 4, 8, 16, 32, 64] as const;

function daysFrom(from: number, to: number): number[] {
  return Array.from({ length: to - from + 1 }, (_, at) => from + at);
}
