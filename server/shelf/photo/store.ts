import type { Selectable } from 'kysely';
import { type Lab, meanLab } from '../../../src/colour/lab.ts';
import { judgePair, labByCard, type PairJudged, pairInPhoto } from '../../../src/colour/photo-pair.ts';
import type { Reader } from '../../database/book.ts';
import type { PhotoSetTable } from '../../database/photo-tables.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { readStored } from '../../database/stored.ts';
import { unknown } from '../../refusal.ts';
import { MARKED_AREAS } from './areas.ts';
import type { PhotoSubject } from './subject.ts';

const WHOLE_BP = 10_000;

const setWithId = prepared((db, id: Param<number>) => selectSets(db).where('photo_set.id', '=', id));
const setsByAge = prepared((db, most: Param<number>, skip: Param<number>) =>
  selectSets(db).orderBy('photo_set.id', 'desc').limit(most).offset(skip),
);
const howManySets = prepared((db) =>
  db.selectFrom('photo_set').select((of) => of.fn.countAll<number>().as('sets')),
);
const setsOfLots = prepared((db, lotIds: Param<readonly number[]>, others: Param<readonly number[]>) =>
  selectSets(db)
    .where((of) => of.or([of('lot_id', 'in', inList(lotIds)), of('to_lot_id', 'in', inList(others))]))
    .orderBy('photo_set.id', 'desc')
    .limit(MOST_SHOWN),
);
const setsOfSwatches = prepared((db, swatchIds: Param<readonly number[]>, others: Param<readonly number[]>) =>
  selectSets(db)
    .where((of) =>
      of.or([of('swatch_id', 'in', inList(swatchIds)), of('to_swatch_id', 'in', inList(others))]),
    )
    .orderBy('photo_set.id', 'desc')
    .limit(MOST_SHOWN),
);
/** On the page of what is in them; the rest are in the list of all. */
const MOST_SHOWN = 12;

function selectSets(db: Reader['db']) {
  return db
    .selectFrom('photo_set')
    .innerJoin('person', 'person.id', 'photo_set.person_id')
    .selectAll('photo_set')
    .select('person.name as person');
}

const photosOfSets = prepared((db, setIds: Param<readonly number[]>) =>
  db
    .selectFrom('photo')
    .innerJoin('person', 'person.id', 'photo.person_id')
    .leftJoin('photo_marking as marking', (join) =>
      join
        .onRef('marking.photo_id', '=', 'photo.id')
        .on((of) =>
          of.not(
            of.exists(
              of
                .selectFrom('photo_marking as later')
                .select('later.id')
                .whereRef('later.photo_id', '=', 'photo.id')
                .whereRef('later.id', '>', 'marking.id'),
            ),
          ),
        ),
    )
    .selectAll('photo')
    .select(['person.name as person', 'marking.areas'])
    .where('photo.set_id', 'in', inList(setIds))
    .where('photo.left_out_key', 'is', null)
    .orderBy('photo.id'),
);

/** A set of photos of the same cloths. @throws {Refusal} unknown */
export function readPhotoSet(reader: Reader, id: number): PhotoSet {
  const [set] = withPhotos(reader, reader.all(setWithId(id)));
  if (!set) throw unknown('such set of photos');
  return set;
}

/** Some of all sets, the newest first, and how many there are. */
export function readPhotoSets(
  reader: Reader,
  sets: { readonly most: number; readonly skip: number },
): PhotoSet[] {
  return withPhotos(reader, reader.all(setsByAge(sets.most, sets.skip)));
}

export function countPhotoSets(reader: Reader): number {
  return reader.first(howManySets())?.sets ?? 0;
}

/** The newest sets that some lots are in. */
export function readPhotoSetsOfLots(reader: Reader, lotIds: readonly number[]): PhotoSet[] {
  return lotIds.length === 0 ? [] : withPhotos(reader, reader.all(setsOfLots(lotIds, lotIds)));
}

const lotsOfBatch = prepared((db, batchId: Param<number>) =>
  db.selectFrom('lot').select('id').where('batch_id', '=', batchId),
);

/** The newest sets that what came of a batch is in. */
export function readPhotoSetsOfBatch(reader: Reader, batchId: number): PhotoSet[] {
  return readPhotoSetsOfLots(
    reader,
    reader.all(lotsOfBatch(batchId)).map(({ id }) => id),
  );
}

/** The newest sets that some swatches are in. */
export function readPhotoSetsOfSwatches(reader: Reader, swatchIds: readonly number[]): PhotoSet[] {
  return swatchIds.length === 0 ? [] : withPhotos(reader, reader.all(setsOfSwatches(swatchIds, swatchIds)));
}

type SetRow = Selectable<PhotoSetTable> & { readonly person: string };

function withPhotos(reader: Reader, rows: readonly SetRow[]) {
  const photos = readPhotos(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({
    id: row.id,
    kind: row.kind,
    one: subjectOf(row.lot_id, row.swatch_id, null),
    other: row.kind === 'pair' ? subjectOf(row.to_lot_id, row.to_swatch_id, row.to_shade_id) : null,
    layers: row.layers,
    backing: row.backing,
    state: row.state,
    light: row.light,
    cardReflectance: row.card_bp / WHOLE_BP,
    note: row.note,
    at: row.at,
    person: row.person,
    photos: photos.filter(({ setId }) => setId === row.id),
  }));
}

export type PhotoSet = ReturnType<typeof withPhotos>[number];

function subjectOf(lotId: number | null, swatchId: number | null, shadeId: number | null): PhotoSubject {
  if (lotId !== null) return { kind: 'lot', id: lotId };
  return swatchId === null ? { kind: 'shade', id: shadeId ?? 0 } : { kind: 'swatch', id: swatchId };
}

/** The photos of some sets that were not left out, the first taken first. */
function readPhotos(reader: Reader, setIds: readonly number[]) {
  if (setIds.length === 0) return [];
  return reader.all(photosOfSets(setIds)).map((row) => ({
    id: row.id,
    setId: row.set_id,
    sha256: row.sha256,
    widthPx: row.width_px,
    heightPx: row.height_px,
    at: row.at,
    person: row.person,
    /** null where it is not marked yet */
    areas: row.areas === null ? null : readStored(MARKED_AREAS, row.areas),
  }));
}

export type Photo = ReturnType<typeof readPhotos>[number];

/** What the marked photos of a set come to; null where none is marked. */
export function judgeSet(set: Pick<PhotoSet, 'kind' | 'cardReflectance' | 'photos'>): SetJudged | null {
  const marked = set.photos.flatMap(({ areas }) => (areas ? [areas] : []));
  if (marked.length === 0) return null;
  if (set.kind === 'alone') {
    const labs = marked.map(({ one, card }) =>
      labByCard(one.measured.light, card.measured.light, set.cardReflectance),
    );
    return { pair: null, lab: meanLab(labs), photos: labs.length };
  }
  const pairs = marked.flatMap((areas) => {
    const { other } = areas;
    return other ? [pairInPhoto({ ...areas, other }, set.cardReflectance)] : [];
  });
  const pair = judgePair(pairs);
  return { pair, lab: pair.one, photos: pairs.length };
}

export interface SetJudged {
  /** null of one cloth alone */
  readonly pair: PairJudged | null;
  /** of the first cloth, by the card */
  readonly lab: Lab;
  readonly photos: number;
}

const photoOf = prepared((db, sha256: Param<string>) =>
  db.selectFrom('photo').select('id').where('sha256', '=', sha256).limit(1),
);

/** Whether a photo of the book has this file, left out or not. */
export function isNamed(reader: Reader, sha256: string): boolean {
  return reader.first(photoOf(sha256)) !== undefined;
}

const judgementsOfSet = prepared((db, setId: Param<number>) =>
  db
    .selectFrom('photo_result')
    .innerJoin('pair_judgement as kept', 'kept.request_key', 'photo_result.request_key')
    .innerJoin('person', 'person.id', 'kept.person_id')
    .select([
      'kept.request_key',
      'kept.delta_centi',
      'kept.uncertainty_centi',
      'kept.at',
      'person.name as person',
    ])
    .where('photo_result.set_id', '=', setId)
    .where('kept.undone_key', 'is', null),
);
const readingsOfSet = prepared((db, setId: Param<number>) =>
  db
    .selectFrom('photo_result')
    .innerJoin('colour_reading as kept', 'kept.request_key', 'photo_result.request_key')
    .innerJoin('person', 'person.id', 'kept.person_id')
    .select(['kept.request_key', 'kept.uncertainty_centi', 'kept.at', 'person.name as person'])
    .where('photo_result.set_id', '=', setId)
    .where('kept.undone_key', 'is', null),
);

/** What is kept of a set and was not taken back. */
export function readSaved(reader: Reader, setId: number) {
  const kept = [
    ...reader.all(judgementsOfSet(setId)),
    ...reader.all(readingsOfSet(setId)).map((row) => ({ ...row, delta_centi: null })),
  ];
  return kept.map((row) => ({
    requestKey: row.request_key ?? '',
    /** null of a reading */
    deltaCenti: row.delta_centi,
    uncertaintyCenti: row.uncertainty_centi ?? 0,
    at: row.at,
    person: row.person,
  }));
}
