import { createHash } from 'node:crypto';
import multipart from '@fastify/multipart';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { PHOTOS } from '../../database/folder.ts';
import { queryNumber } from '../../kit/address.ts';
import { NOTHING_TYPED } from '../../kit/fields.ts';
import { type Problem, Refusal, refuseAny, unknown } from '../../refusal.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { type PartLimits, readMultipart } from '../../web/multipart.ts';
import { marksForm, measureMarks } from './areas.ts';
import { morePhotosForm, photoSetForm, type TakenIn } from './new-form.ts';
import { markPage, newPhotosPage, photoSetPage, photosListPage } from './pages.ts';
import { MOST_PHOTO_BYTES, MOST_PHOTO_MB, Pictures } from './pictures.ts';
import { isNamed } from './store.ts';
import { addMarking, addPhoto, addPhotoSet, findPhoto, leaveOut, PHOTO_RESULT, saveResult } from './verbs.ts';

const PHOTO_LIMITS: PartLimits = {
  fileSize: MOST_PHOTO_BYTES,
  files: 2,
  fields: 20,
  fieldSize: 8000,
  mostBytes: MOST_PHOTO_BYTES + 64 * 1024,
  tooLarge: `A photo is at most ${MOST_PHOTO_MB} MB. Set the camera to a smaller picture, such as 12 megapixels.`,
};

/** Photos of cloths with a grey card, by which they are judged. Whoever works with cloth may take them. */
export function photoRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { answer, showPage, takeForm } = answering(app, house);
  const pictures = new Pictures(book);
  app.register(multipart);
  app.addHook('onReady', async () => {
    if (!book.trouble) pictures.clean((sha256) => isNamed(book, sha256), Date.parse(book.now()));
  });
  app.addHook('onClose', () => pictures.close());

  /** Reads a form with a photo, and has the form read like any other from there on. */
  async function takePhoto(request: FastifyRequest): Promise<TakenIn> {
    const { typed, files } = await readMultipart(request, PHOTO_LIMITS);
    const sent = [files.taken, files.chosen].filter((file) => file !== undefined);
    const [first] = sent;
    const hash = createHash('sha256');
    for (const { bytes } of sent) hash.update(bytes);
    // The bytes are part of what was asked: another photo under the same key is another form.
    request.body = { ...typed, photo: first ? hash.digest('hex') : '' };
    if (!first) return { why: 'Photo: take a photo, or choose one.' };
    if (sent.length > 1) return { why: 'Photo: take a photo or choose one, not both.' };
    try {
      return { picture: await pictures.takeIn(first.bytes) };
    } catch (error) {
      if (error instanceof Refusal && error.kind === 'invalid') return { why: error.message };
      throw error;
    }
  }

  showPage('/shelf/photos', ({ query }) => photosListPage(book, query));
  showPage('/shelf/photos/new', ({ typedInAddress }) => newPhotosPage(book, typedInAddress));
  takeForm('/shelf/photos/new', async (asked) => {
    const taken = await takePhoto(asked.request);
    return asked.save({
      schema: photoSetForm(book, asked.typed, taken),
      write: (tx, form) => addPhotoSet(tx, pictures, form),
      redraw: (typed) => newPhotosPage(book, typed),
    });
  });

  showPage('/shelf/photos/:id', ({ id }) => photoSetPage(book, id));
  takeForm('/shelf/photos/:id', async (asked) => {
    const { id } = asked;
    const taken = await takePhoto(asked.request);
    return asked.save({
      schema: morePhotosForm(taken),
      write: (tx, { photo }) => addPhoto(tx, pictures, id, photo),
      redraw: () => photoSetPage(book, id),
    });
  });

  takeForm('/shelf/photos/:id/results', ({ id, save }) =>
    save({
      schema: PHOTO_RESULT,
      write: (tx, form) => saveResult(tx, id, form),
      redraw: (typed) => photoSetPage(book, id, typed),
    }),
  );

  const PHOTO = '/shelf/photos/:id/photos/:photo';
  showPage(PHOTO, ({ id, params }) => markPage(book, id, numberIn(params)));
  takeForm(PHOTO, async ({ id, params, body, save }) => {
    const photoId = numberIn(params);
    const { set, photo } = findPhoto(book, id, photoId);
    const schema = marksForm(set.kind);
    const { request_key: _, ...fields } = body;
    const read = schema.safeParse(fields);
    const measured = read.success ? await measureMarks(pictures, { ...set, ...photo }, read.data) : null;
    return save({
      schema,
      write: (tx) => {
        const problems: readonly Problem[] =
          measured?.problems.map(({ area, message }) => ({ field: area, message })) ?? [];
        refuseAny(problems);
        if (!measured?.areas) throw new Error('a form that can be read was measured');
        return addMarking(tx, id, photoId, measured.areas);
      },
      redraw: (typed) => markPage(book, id, photoId, typed),
    });
  });
  takeForm(`${PHOTO}/left-out`, ({ id, params, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => leaveOut(tx, id, numberIn(params)),
      redraw: () => photoSetPage(book, id),
    }),
  );

  answer('/shelf/photo-files/:name', async ({ params: { name }, request, reply }) => {
    const sha256 = /^([0-9a-f]{64})\.jpg$/.exec(name)?.[1];
    if (sha256 === undefined || !isNamed(book, sha256)) throw unknown('such photo');
    // Asked for anew each time, so that nobody sees it who may no more; what lies under a name never changes.
    reply.header('cache-control', 'private, no-cache').header('etag', `"${sha256}"`);
    if (request.headers['if-none-match'] === `"${sha256}"`) return reply.code(304).send();
    const jpeg = await pictures.read(sha256);
    if (!jpeg) throw unknown(`file ${PHOTOS}/${name} beside the book any more`);
    return reply.type('image/jpeg').send(jpeg);
  });
}

const numberIn = ({ photo }: { readonly photo: string }) => queryNumber({ photo }, 'photo') ?? 0;
