import { createHash } from 'node:crypto';
import sharp from 'sharp';
import { type AreaMeasured, measureArea, type PixelSquare } from '../../../src/colour/photo-area.ts';
import { answerQuestions } from '../../process.ts';

/** What is asked of a picture: to be made fit to keep, or to be measured within some squares. */
export type PictureTask =
  | { readonly kind: 'take in'; readonly bytes: Uint8Array }
  | { readonly kind: 'measure'; readonly file: string; readonly squares: readonly PixelSquare[] };

/** A picture as it is kept: upright, in sRGB, no larger than is of use, and with nothing said of where and by what it was taken. */
export interface Picture {
  readonly jpeg: Uint8Array;
  readonly sha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

export type PictureTaskDone =
  | { readonly kind: 'taken in'; readonly picture: Picture }
  | { readonly kind: 'measured'; readonly areas: readonly AreaMeasured[] }
  /** in a sentence for whoever sent it */
  | { readonly kind: 'refused'; readonly why: string };

/** Twice the twelve megapixels that phones take if nobody asks for more, and a third beyond. */
const MOST_MEGAPIXELS = 32;
/** A square of a sixteenth of the width still has a hundred pixels a side. */
const LONGER_SIDE_PX = 1600;
const LEAST_SHORTER_PX = 400;

// Each picture is another's: nothing of one is of use for the next.
sharp.cache(false);
sharp.concurrency(1);
// Of all that the library reads these alone: drawings that run over pages, fetch or nest are a world of their own.
sharp.block({ operation: ['VipsForeignLoad'] });
sharp.unblock({
  operation: ['VipsForeignLoadJpegBuffer', 'VipsForeignLoadPngBuffer', 'VipsForeignLoadWebpBuffer'],
});
sharp.unblock({ operation: ['VipsForeignLoadJpegFile'] });

answerQuestions(
  (task: PictureTask): Promise<PictureTaskDone> =>
    task.kind === 'measure' ? measure(task.file, task.squares) : takeIn(task.bytes),
);

async function takeIn(bytes: Uint8Array): Promise<PictureTaskDone> {
  const why = await whyRefused(bytes);
  if (why !== null) return { kind: 'refused', why };
  try {
    return { kind: 'taken in', picture: await fitToKeep(bytes) };
  } catch {
    return { kind: 'refused', why: DAMAGED };
  }
}

const DAMAGED = 'the file is damaged or incomplete. Choose it again, or take the photo again.';

/** Looks at the head of the file, before any pixel is made of it. */
async function whyRefused(bytes: Uint8Array): Promise<string | null> {
  const size = await sharp(bytes, { limitInputPixels: false })
    .metadata()
    .catch(() => null);
  if (size === null) return DAMAGED;
  const { width, height } = size;
  const megapixels = (width * height) / 1e6;
  if (megapixels > MOST_MEGAPIXELS)
    return `${Math.ceil(megapixels)} megapixels are too many; ${MOST_MEGAPIXELS} are the most. Set the camera to a smaller picture, such as 12 megapixels.`;
  if (Math.min(width, height) < LEAST_SHORTER_PX)
    return `${width} × ${height} pixels are too few. Choose the photo itself, not a preview: ${LEAST_SHORTER_PX} pixels or more along the shorter side.`;
  return null;
}

async function fitToKeep(bytes: Uint8Array): Promise<Picture> {
  const limits = { limitInputPixels: MOST_MEGAPIXELS * 1e6, failOn: 'error' } as const;
  const upright = await sharp(bytes, limits)
    .autoOrient()
    .flatten({ background: '#fff' })
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
  const { width, height, channels } = upright.info;
  // Made smaller in linear light: a mean of coded values would be darker than the cloth.
  const { data, info } = await sharp(upright.data, { raw: { width, height, channels } })
    .pipelineColourspace('scrgb')
    .resize({ width: LONGER_SIDE_PX, height: LONGER_SIDE_PX, fit: 'inside', withoutEnlargement: true })
    .toColourspace('srgb')
    .jpeg({ quality: 92, chromaSubsampling: '4:4:4' })
    .toBuffer({ resolveWithObject: true });
  const sha256 = createHash('sha256').update(data).digest('hex');
  return { jpeg: data, sha256, widthPx: info.width, heightPx: info.height };
}

async function measure(file: string, squares: readonly PixelSquare[]): Promise<PictureTaskDone> {
  const areas: AreaMeasured[] = [];
  for (const { leftPx, topPx, sidePx } of squares) {
    const pixels = await sharp(file)
      .extract({ left: leftPx, top: topPx, width: sidePx, height: sidePx })
      .raw()
      .toBuffer();
    areas.push(measureArea(pixels, sidePx));
  }
  return { kind: 'measured', areas };
}
