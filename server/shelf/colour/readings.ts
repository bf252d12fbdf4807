import {
  type ColourReading,
  USUAL_UNCERTAINTY_CENTI,
  type Viewing,
} from '../../../src/colour/colour-reading.ts';
import type { Reader, Tx } from '../../database/book.ts';
import type { ColourReadingTable } from '../../database/colour-tables.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';

/** What was read: a lot, or a swatch. */
export type Subject = { readonly lotId: number } | { readonly swatchId: number };

/** A reading to be kept: the day it was taken is today unless said. */
export interface NewReading extends ColourReading {
  readonly note: string;
  readonly readOn: string | null;
}

/** A reading of which only this is known; it is as sure as any that was got like it. */
export function plainReading({
  how,
  state,
  lab,
  viewing,
}: Pick<ColourReading, 'how' | 'state' | 'lab'> & { readonly viewing: Viewing }): NewReading {
  const uncertaintyCenti = USUAL_UNCERTAINTY_CENTI[how];
  const unknown = { layers: null, backing: null, place: null, note: '', readOn: null };
  return { lab, ...viewing, how, uncertaintyCenti, state, ...unknown };
}

/** Keeps a reading of a lot or a swatch beside those before it, and gives its number. */
export function addReading(tx: Tx, subject: Subject, reading: NewReading): number {
  const { lab, illuminant, observer, how, state, layers, backing, place, note } = reading;
  return tx.run(
    tx.db.insertInto('colour_reading').values({
      lot_id: 'lotId' in subject ? subject.lotId : null,
      swatch_id: 'swatchId' in subject ? subject.swatchId : null,
      lab_l: lab.l,
      lab_a: lab.a,
      lab_b: lab.b,
      illuminant,
      observer,
      how,
      uncertainty_centi: reading.uncertaintyCenti,
      state,
      layers,
      backing,
      place,
      note,
      read_on: reading.readOn ?? tx.at.slice(0, 10),
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
    }),
  ).lastId;
}

/** A reading as it is kept. */
export type StoredReading = ReturnType<typeof readingOf>;

const readingsOfLots = prepared((db, lotIds: Param<readonly number[]>) =>
  selectReadings(db).where('lot_id', 'in', inList(lotIds)).orderBy('colour_reading.id'),
);
const readingsOfSwatches = prepared((db, swatchIds: Param<readonly number[]>) =>
  selectReadings(db).where('swatch_id', 'in', inList(swatchIds)).orderBy('colour_reading.id'),
);

/** The readings of some lots that were not undone, the first taken down first. */
export function readReadingsOfLots(reader: Reader, lotIds: readonly number[]): StoredReading[] {
  return lotIds.length === 0 ? [] : reader.all(readingsOfLots(lotIds)).map(readingOf);
}

/** The readings of some swatches that were not undone, the first taken down first. */
export function readReadingsOfSwatches(reader: Reader, swatchIds: readonly number[]): StoredReading[] {
  return swatchIds.length === 0 ? [] : reader.all(readingsOfSwatches(swatchIds)).map(readingOf);
}

function selectReadings(db: Reader['db']) {
  return db
    .selectFrom('colour_reading')
    .innerJoin('person', 'person.id', 'colour_reading.person_id')
    .selectAll('colour_reading')
    .select('person.name as person')
    .where('colour_reading.undone_key', 'is', null);
}

type ReadingRow = { readonly [Name in keyof ColourReadingTable]: ColourReadingTable[Name] };

function readingOf(
  row: Omit<ReadingRow, 'id' | 'note' | 'undone_key'> & {
    readonly id: number;
    readonly note: string;
    readonly person: string;
  },
) {
  const reading: ColourReading = {
    lab: { l: row.lab_l, a: row.lab_a, b: row.lab_b },
    illuminant: row.illuminant,
    observer: row.observer,
    how: row.how,
    uncertaintyCenti: row.uncertainty_centi,
    state: row.state,
    layers: row.layers,
    backing: row.backing,
    place: row.place,
  };
  return {
    ...reading,
    id: row.id,
    lotId: row.lot_id,
    swatchId: row.swatch_id,
    note: row.note,
    readOn: row.read_on,
    at: row.at,
    person: row.person,
    /** null of a reading that was carried over from an earlier book */
    requestKey: row.request_key,
  };
}

const lastViewing = prepared((db) =>
  db.selectFrom('colour_reading').select(['illuminant', 'observer']).orderBy('id', 'desc').limit(1),
);

/** What the last reading was for, which the next is offered: an instrument is seldom set otherwise. */
export function readUsualViewing(reader: Reader): Viewing {
  return reader.first(lastViewing()) ?? { illuminant: 'D65', observer: '10' };
}
