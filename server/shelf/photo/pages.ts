import { screenShows } from '../../../src/colour/lab.ts';
import { LEAST_SIDE_PX } from '../../../src/colour/photo-area.ts';
import { REFOLDS } from '../../../src/colour/photo-pair.ts';
import { showColourDifference } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { sliceOf } from '../../kit/paging.ts';
import { photosPath, togetherPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf, listed } from '../../kit/words.ts';
import type { Page } from '../../web/page-frame.ts';
import { drawMarks, firstMarks, typedMarks } from './areas.ts';
import { photoSetFields } from './new-form.ts';
import { MOST_PHOTO_MB } from './pictures.ts';
import { nameSet, nameSets, type SetName, sayJudged, sayPhoto } from './said.ts';
import {
  countPhotoSets,
  judgeSet,
  type Photo,
  type PhotoSet,
  readPhotoSet,
  readPhotoSets,
  readSaved,
  type SetJudged,
} from './store.ts';
import { type PhotoSubject, subjectValue } from './subject.ts';
import { findPhoto, markPath, RESULT_FIELDS } from './verbs.ts';
import { areaNames, BACKING_WORDS, PHOTO_KIND_WORDS } from './words.ts';

export const fileHref = (sha256: string) => `/shelf/photo-files/${sha256}.jpg`;

/** Where photos of a lot or a swatch are begun. */
export function newPhotosPath(one: PhotoSubject): string {
  return address(`${PHOTOS_PATH}/new`, { one: subjectValue(one) });
}

/** Where photos of two side by side are begun. */
export function newPairPhotosPath(one: PhotoSubject, other: PhotoSubject): string {
  return address(`${PHOTOS_PATH}/new`, { one: subjectValue(one), other: subjectValue(other) });
}

/** Where photos of cloths are begun: what is in them, how the cloth lies, and the first photo. */
export function newPhotosPage(reader: Reader, typed: Typed) {
  const offered = { kind: 'pair', layers: '2', backing: 'white', state: 'dry', card: '18', ...typed };
  const { kind, one, other, layers, backing, state, light, card, note } = drawFields(
    photoSetFields(reader, offered),
    offered,
  );
  const data = {
    requestKey: mintKey(),
    mostMb: MOST_PHOTO_MB,
    refolds: REFOLDS,
    cloths: [kind, one, other],
    lies: [layers, backing, state, light, card, note],
  };
  return { view: 'shelf/photo/new', data, title: 'Judge by photo', room: 'shelf' } satisfies Page;
}

/** All sets of photos, the newest first. */
export function photosListPage(reader: Reader, query: unknown) {
  const total = countPhotoSets(reader);
  const { offset, pager } = sliceOf(query, { total, noun: 'sets', path: PHOTOS_PATH, rows: LIST_ROWS });
  const sets = readPhotoSets(reader, { most: LIST_ROWS, skip: offset });
  const data = {
    pager,
    sets: shapeSets(reader, sets),
  };
  return { view: 'shelf/photo/list', data, title: 'Photos of cloth', room: 'shelf' } satisfies Page;
}

const PHOTOS_PATH = '/shelf/photos';
const LIST_ROWS = 20;

export type ShownPhotoSet = ReturnType<typeof shapeSets>[number];

/** Sets in a list: the first photo of each, and what they come to. */
export function shapeSets(reader: Reader, sets: readonly PhotoSet[]) {
  const names = nameSets(reader, sets);
  return sets.map((set) => ({
    href: photosPath(set.id),
    name: names.get(set.id)?.title ?? '',
    thumb: shapeThumb(set.photos[0]),
    ...sayJudged(set, names.get(set.id) as SetName, judgeSet(set)),
    when: `${set.person}, ${showMoment(set.at)}`,
  }));
}

/** A set of photos: each with what it shows, what they come to, and one more to be added. */
export function photoSetPage(reader: Reader, id: number, typed: Typed = {}) {
  const set = readPhotoSet(reader, id);
  const name = nameSet(reader, set);
  const judged = judgeSet(set);
  const kept = readSaved(reader, id);
  const data = {
    action: photosPath(id),
    requestKey: mintKey(),
    mostMb: MOST_PHOTO_MB,
    kind: PHOTO_KIND_WORDS[set.kind],
    cloths: shapeCloths(set, name),
    lies: `${set.layers === 1 ? 'one layer' : `${set.layers} layers`} each, ${set.state}${set.backing === null ? '' : `; below: ${BACKING_WORDS[set.backing].toLowerCase()}`}`,
    light: set.light,
    card: `reflects ${Math.round(set.cardReflectance * 1000) / 10} %`,
    note: set.note,
    when: `${set.person}, ${showMoment(set.at)}`,
    photos: set.photos.map((photo, at) => ({
      name: `Photo ${at + 1}`,
      thumb: shapeThumb(photo),
      href: markPath(id, photo.id),
      said: sayPhoto(set, photo),
      isMarked: photo.areas !== null,
      leaveOut: `${markPath(id, photo.id)}/left-out`,
      when: `${photo.person}, ${showMoment(photo.at)}`,
    })),
    result: sayJudged(set, name, judged),
    /** what is saved of the set, and whether there is something further to save */
    kept: shapeKept(kept),
    save:
      judged === null || set.kind === 'backings' || isKept(judged, kept)
        ? null
        : {
            action: `${photosPath(id)}/results`,
            text: judged.pair ? 'Save judgement' : 'Save reading',
            readings: judged.pair ? drawFields(RESULT_FIELDS, typed).readings : null,
          },
    /** where all lots of the shade are compared; '' of anything else */
    together: shapeTogether(reader, set),
    /** what a screen cannot show as it is */
    beyondScreen:
      judged !== null &&
      [judged.lab, ...(judged.pair ? [judged.pair.other] : [])].some((lab) => !screenShows(lab)),
    /** the same cloths compared, once a sheer is known to be thick enough */
    compare:
      set.kind === 'backings'
        ? address(`${PHOTOS_PATH}/new`, { one: subjectValue(set.one), layers: set.layers, backing: 'either' })
        : '',
  };
  return { view: 'shelf/photo/set', data, title: name.title, room: 'shelf' } satisfies Page;
}

function shapeTogether(reader: Reader, { one, other }: PhotoSet): string {
  if (one.kind !== 'lot' || other?.kind !== 'lot') return '';
  const [lot] = reader.all(clothAndShadeOf(one.id));
  return lot ? togetherPath(lot) : '';
}

const clothAndShadeOf = prepared((db, lotId: Param<number>) =>
  db.selectFrom('lot').select(['cloth_id as clothId', 'shade_id as shadeId']).where('id', '=', lotId),
);

type Kept = ReturnType<typeof readSaved>;

function shapeKept(kept: Kept) {
  const [first] = kept;
  if (!first) return '';
  const readings = kept.filter(({ deltaCenti }) => deltaCenti === null).length;
  const pair = kept.find(({ deltaCenti }) => deltaCenti !== null);
  const said = [
    ...(pair
      ? [
          `a judgement of ΔE00 ${showColourDifference(pair.deltaCenti ?? 0)} ± ${showColourDifference(pair.uncertaintyCenti)}`,
        ]
      : []),
    ...(readings > 0 ? [countOf(readings, 'reading', 'readings')] : []),
  ];
  return `Saved: ${listed(said)} (${first.person}, ${showMoment(first.at)}).`;
}

/** Whether what the photos come to now is what was saved of them. */
function isKept({ pair }: SetJudged, kept: Kept): boolean {
  const saved = kept.find(({ deltaCenti }) => (deltaCenti === null) === (pair === null));
  return saved !== undefined && (!pair || saved.deltaCenti === Math.round(100 * pair.deltaE));
}

function shapeCloths(set: PhotoSet, { one, other }: SetName) {
  const names = areaNames(set.kind);
  if (set.kind !== 'pair' || other === null) return [{ label: 'Cloth', ...one }];
  return [
    { label: names.one, ...one },
    { label: names.other, ...other },
  ];
}

function shapeThumb(photo: Photo | undefined) {
  if (!photo) return null;
  return { src: fileHref(photo.sha256), width: photo.widthPx, height: photo.heightPx };
}

/** One photo, on which the card and the cloths are marked by tap or by numbers. */
export function markPage(reader: Reader, setId: number, photoId: number, typed: Typed | null = null) {
  const { set, photo, number } = findPhoto(reader, setId, photoId);
  const name = nameSet(reader, set);
  const before = set.photos.findLast(({ id, areas }) => id < photoId && areas !== null);
  const marked = photo.areas ?? null;
  const offered =
    typed ??
    (marked
      ? typedMarks(marked, photo)
      : before?.areas
        ? typedMarks(before.areas, before)
        : firstMarks(set.kind));
  const areas = drawMarks(set.kind, offered);
  const cloths = { card: '', one: name.one.name, other: name.other?.name ?? '' };
  const data = {
    requestKey: mintKey(),
    action: markPath(setId, photoId),
    set: { href: photosPath(setId), name: name.title },
    picture: { src: fileHref(photo.sha256), width: photo.widthPx, height: photo.heightPx },
    least: Math.ceil((1000 * LEAST_SIDE_PX) / photo.widthPx) / 10,
    areas: areas.map(({ area, name: areaName, fields }) => ({
      area,
      name: areaName,
      of: set.kind === 'pair' ? cloths[area] : '',
      short: SHORT[area],
      square: drawnSquare(offered, area, photo),
      fields,
    })),
    said: sayPhoto(set, photo),
  };
  return { view: 'shelf/photo/mark', data, title: `Mark photo ${number}`, room: 'shelf' } satisfies Page;
}

const SHORT = { card: 'Card', one: 'A', other: 'B' } as const;

/** The square as it is drawn over the picture; null where what was typed is no number. */
function drawnSquare(typed: Typed, area: string, { widthPx, heightPx }: Photo) {
  const part = (name: string) => Number((typed[`${area}_${name}`] ?? '').replace(',', '.').replace('%', ''));
  const [x, y, size] = [part('x'), part('y'), part('size')];
  if (![x, y, size].every((each) => Number.isFinite(each) && each >= 0 && each <= 100)) return null;
  const side = (size * widthPx) / 100;
  return { x: (x * widthPx) / 100 - side / 2, y: (y * heightPx) / 100 - side / 2, side };
}
