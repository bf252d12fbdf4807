import { z } from 'zod';
import { SCREEN_VIEWING } from '../../../src/colour/colour-reading.ts';
import type { MarkedAreas, PairJudged } from '../../../src/colour/photo-pair.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { tickField } from '../../kit/fields.ts';
import { photosPath } from '../../kit/paths.ts';
import { conflict, unknown } from '../../refusal.ts';
import { addReading, plainReading } from '../colour/readings.ts';
import type { PhotoSetForm } from './new-form.ts';
import type { Pictures } from './pictures.ts';
import type { Picture } from './process.ts';
import { judgeSet, type PhotoSet, readPhotoSet, readSaved, type SetJudged } from './store.ts';
import { subjectColumns } from './subject.ts';

export const markPath = (setId: number, photoId: number) => `${photosPath(setId)}/photos/${photoId}`;

/** Begins a set of photos with the first of them. */
export function addPhotoSet(tx: Tx, pictures: Pictures, form: PhotoSetForm): Answer {
  const { kind, one, other, layers, backing, state, light, card, note, photo } = form;
  const { lastId } = tx.run(
    tx.db.insertInto('photo_set').values({
      kind,
      ...subjectColumns(one, other),
      layers: layers.value,
      backing,
      state,
      light,
      card_bp: card,
      note,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return addPhoto(tx, pictures, lastId, photo);
}

/** One more photo of the same cloths, folded anew. @throws {Refusal} conflict where it is there already */
export function addPhoto(tx: Tx, pictures: Pictures, setId: number, picture: Picture): Answer {
  const { photos } = readPhotoSet(tx, setId);
  const same = photos.find(({ sha256 }) => sha256 === picture.sha256);
  if (same)
    throw conflict('This photo is in the set already. Fold the cloths again and take another.', {
      text: 'See the photo',
      href: markPath(setId, same.id),
    });
  pictures.keep(picture);
  const { lastId } = tx.run(
    tx.db.insertInto('photo').values({
      set_id: setId,
      sha256: picture.sha256,
      width_px: picture.widthPx,
      height_px: picture.heightPx,
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: markPath(setId, lastId), said: 'The photo is kept. Mark the card and the cloth on it.' };
}

/** Keeps where the card and the cloths lie in a photo, and what was measured there. */
export function addMarking(tx: Tx, setId: number, photoId: number, areas: MarkedAreas): Answer {
  findPhoto(tx, setId, photoId);
  tx.run(
    tx.db
      .insertInto('photo_marking')
      .values({ photo_id: photoId, areas: JSON.stringify(areas), at: tx.at, person_id: tx.personId }),
  );
  return { location: photosPath(setId), said: 'The photo is measured.' };
}

/** Takes a photo out of a set for good; the file stays. */
export function leaveOut(tx: Tx, setId: number, photoId: number): Answer {
  findPhoto(tx, setId, photoId);
  tx.run(tx.db.updateTable('photo').set({ left_out_key: tx.requestKey }).where('id', '=', photoId));
  return { location: photosPath(setId), said: 'The photo is left out.' };
}

export const RESULT_FIELDS = {
  readings: tickField({ label: 'Also save each colour as a reading, likely within ΔE00 4' }),
};
export const PHOTO_RESULT = z.strictObject(RESULT_FIELDS);

/**
 * Keeps what the photos of a set come to: how two cloths differ, the colour of one alone. What was kept of the set before
 * is taken back with it.
 */
export function saveResult(tx: Tx, setId: number, form: z.output<typeof PHOTO_RESULT>): Answer {
  const set = readPhotoSet(tx, setId);
  const judged = judgeSet(set);
  if (set.kind === 'backings')
    throw conflict('Photos over white and black say how thick to fold; nothing else is kept of them.');
  if (!judged) throw conflict('Nothing is measured yet. Mark the card and the cloth on a photo first.');
  const before = readSaved(tx, setId).flatMap(({ requestKey }) => requestKey);
  for (const table of ['pair_judgement', 'colour_reading'] as const)
    tx.run(
      tx.db
        .updateTable(table)
        .set({ undone_key: tx.requestKey })
        .where('request_key', 'in', before)
        .where('undone_key', 'is', null),
    );
  const { pair } = judged;
  if (pair && set.other) addJudgement(tx, set, pair);
  if (!pair || form.readings) addReadings(tx, set, judged);
  tx.run(tx.db.insertInto('photo_result').values({ set_id: setId, request_key: tx.requestKey }));
  return {
    location: photosPath(setId),
    said: pair ? `The judgement is saved: ΔE00 ${pair.deltaE.toFixed(2)}.` : 'The reading is saved.',
  };
}

function addJudgement(tx: Tx, set: PhotoSet, { deltaE, uncertainty, difference }: PairJudged): void {
  const { one, other, light, state, note } = set;
  tx.run(
    tx.db.insertInto('pair_judgement').values({
      ...subjectColumns(one, other),
      how: 'photo',
      verdict: null,
      delta_centi: Math.round(100 * deltaE),
      uncertainty_centi: Math.round(100 * uncertainty),
      diff_l: difference.l,
      diff_a: difference.a,
      diff_b: difference.b,
      light,
      state,
      note,
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
    }),
  );
}

function addReadings(tx: Tx, set: PhotoSet, { lab, pair }: SetJudged): void {
  const { state, layers, backing, note } = set;
  const labs = [
    { subject: set.one, lab },
    ...(pair && set.other ? [{ subject: set.other, lab: pair.other }] : []),
  ];
  for (const { subject, lab: shown } of labs) {
    if (subject.kind === 'shade') continue;
    const of = subject.kind === 'lot' ? { lotId: subject.id } : { swatchId: subject.id };
    const reading = plainReading({ how: 'photo card', state, lab: shown, viewing: SCREEN_VIEWING });
    addReading(tx, of, { ...reading, layers, backing, note });
  }
}

/** @throws {Refusal} unknown */
export function findPhoto(reader: Parameters<typeof readPhotoSet>[0], setId: number, photoId: number) {
  const set = readPhotoSet(reader, setId);
  const at = set.photos.findIndex(({ id }) => id === photoId);
  const photo = set.photos[at];
  if (!photo) throw unknown('such photo in this set');
  return { set, photo, number: at + 1 };
}
