import type { SmallMeasure } from '../../src/dye/measuring.ts';
import { IMPERIAL, METRIC, type Units } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';

export interface Workroom {
  readonly name: string;
  readonly units: Units;
  readonly currency: string;
  readonly usefulRemnantTicks: number;
  /** the step of the balance at the dye bench */
  readonly balanceMg: number;
  /** what a few millilitres are measured with there */
  readonly measuresWith: SmallMeasure;
  /** how far off an amount of a bath may be, in hundredths of a percent */
  readonly offBp: number;
  readonly invented: boolean;
  /** tells this book from every other */
  readonly mark: string;
}

/** What a new book calls its workroom, until somebody names it. */
export const UNNAMED = 'Workroom';

const theWorkroom = prepared((db) => db.selectFrom('workroom').selectAll());

/** The workroom's own settings. */
export function readWorkroom(reader: Reader): Workroom {
  const row = reader.first(theWorkroom());
  if (!row) throw new Error('the book has no workroom');
  return {
    name: row.name,
    units: unitsOf(row.length_system),
    currency: row.currency,
    usefulRemnantTicks: row.useful_remnant_ticks,
    balanceMg: row.balance_mg,
    measuresWith: row.measures_with,
    offBp: row.amount_off_bp,
    invented: row.invented === 1,
    mark: row.mark ?? '',
  };
}

const systemOf = prepared((db, personId: Param<number>) =>
  db.selectFrom('person').select('length_system').where('id', '=', personId),
);

/** The units a person reads in: their own choice, else the workroom's, which is read where it is not given. */
export function readUnits(reader: Reader, personId: number | null, workroom?: Workroom): Units {
  const person = personId === null ? undefined : reader.first(systemOf(personId));
  return person?.length_system ? unitsOf(person.length_system) : (workroom ?? readWorkroom(reader)).units;
}

function unitsOf(system: 'metric' | 'imperial'): Units {
  return system === 'metric' ? METRIC : IMPERIAL;
}
