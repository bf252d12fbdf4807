import { writeHours } from '../../src/by-when/hours.ts';
import type { Reader } from '../database/book.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { mintKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import type { Page } from '../web/page-frame.ts';
import {
  CLOSED_PATH,
  closedFields,
  HOURS_PATH,
  SEWERS_PATH,
  sewerFields,
  WEEK_NAMES,
  WORK_DAY_FIELDS,
} from './hours-form.ts';
import { readMeasuredStrips, sayMeasuredBaths, sayMeasuredStrips } from './measured.ts';
import { readCapacity, readClosedDays, readSewers, WEEK_BITS, type WorkSettings } from './settings.ts';
import { sayMeasuredSewing } from './sewing-minutes.ts';

/** A form of the page that was sent, by its address, and what was typed in it. */
export interface SentOnPage {
  readonly path: string;
  readonly typed: Typed;
}

/** The days and hours of the workroom: what can be done in a day, by whom, and when it is closed. */
export function hoursPage(reader: Reader, today: string, sent: SentOnPage = { path: '', typed: {} }) {
  const { settings, pots } = readCapacity(reader);
  const typedIn = (path: string, otherwise: Typed) => (sent.path === path ? sent.typed : otherwise);
  const rows = readClosedDays(reader).filter(({ to_on: to }) => to >= today);
  const data = {
    requestKey: mintKey(),
    said: settings.said,
    week: WEEK_NAMES.map((name) => drawFields(WORK_DAY_FIELDS, typedIn(HOURS_PATH, textsOf(settings)))[name]),
    fields: drawFields(WORK_DAY_FIELDS, typedIn(HOURS_PATH, textsOf(settings))),
    pots: countOf(pots, 'pot', 'pots'),
    measured: [
      sayMeasuredStrips(readMeasuredStrips(reader)),
      sayMeasuredBaths(reader),
      sayMeasuredSewing(reader),
    ].filter((text) => text !== ''),
    people: Object.values(
      drawFields(
        sewerFields(reader),
        typedIn(
          SEWERS_PATH,
          Object.fromEntries(
            readSewers(reader).map(({ id, minutes }) => [
              `person_${id}`,
              minutes === null ? '' : writeHours(minutes),
            ]),
          ),
        ),
      ),
    ),
    peoplePath: SEWERS_PATH,
    closed: rows.map((row) => ({
      days:
        row.from_on === row.to_on ? showDay(row.from_on) : `${showDay(row.from_on)} to ${showDay(row.to_on)}`,
      why: row.why,
      who: row.person ?? 'the whole workroom',
      remove: `${CLOSED_PATH}/${row.id}/removals`,
    })),
    closedForm: drawFields(closedFields(reader), typedIn(CLOSED_PATH, {})),
    closedPath: CLOSED_PATH,
  };
  return { view: 'by-when/hours', data, title: 'Days and hours', room: 'garments' } satisfies Page;
}

function textsOf(settings: WorkSettings): Typed {
  const { openDays, tableMinutes, stripsHour, potBaths } = settings;
  const week = WEEK_NAMES.map((name, at) => [name, openDays & (WEEK_BITS[at] ?? 0) ? 'yes' : '']);
  return {
    ...Object.fromEntries(week),
    table: tableMinutes === null ? '' : writeHours(tableMinutes),
    strips: String(stripsHour ?? ''),
    baths: String(potBaths ?? ''),
    drying: String(settings.dryingDays),
    swatch: String(settings.swatchDays),
    receiving: String(settings.receivingDays),
    spare: String(settings.spareDays),
    finishing: String(settings.finishingDays),
  };
}
