import { crc32, deflateSync } from 'node:zlib';
import culori from 'culori/require';
import sharp, { type Sharp } from 'sharp';
import type { Lab } from '../../../../src/colour/lab.ts';

/** A picture of noise about a colour, as a JPEG unless said. */
export async function photoFile(
  widthPx: number,
  heightPx: number,
  change: (picture: Sharp) => Sharp = (picture) => picture.jpeg(),
): Promise<Buffer> {
  const pixels = Buffer.alloc(widthPx * heightPx * 3);
  for (let at = 0; at < pixels.length; at++) pixels[at] = 90 + (Math.imul(at, 2654435761) >>> 28);
  return change(sharp(pixels, { raw: { width: widthPx, height: heightPx, channels: 3 } })).toBuffer();
}

/** A PNG of one colour that is tiny as a file and as large as said once it is unpacked. */
export function bombFile(widthPx: number, heightPx: number): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
    const ends = Buffer.alloc(8);
    ends.writeUInt32BE(data.length, 0);
    ends.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([ends.subarray(0, 4), body, ends.subarray(4)]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(widthPx, 0);
  head.writeUInt32BE(heightPx, 4);
  // One bit a pixel, grey.
  head.set([1, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc((Math.ceil(widthPx / 8) + 1) * heightPx);
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

const toRgb = culori.converter('rgb');

/** What lies in a photo: the middle of a square in percent of its width and height, its side in percent of the width. */
export interface Laid {
  readonly lab: Lab;
  readonly at: readonly [across: number, down: number];
  readonly size: number;
}

/** L* of a card that reflects 18 %. */
export const CARD_L = 49.496;

const drawn = new Map<string, Promise<Buffer>>();

/**
 * A photo of squares of cloth and card on a brown table, the same bytes each time; drawn once.
 * @param fall how much more light falls on the right edge than on the left, as a share
 */
export function clothPhoto(laid: readonly Laid[], { fall = 0 } = {}): Promise<Buffer> {
  const asked = JSON.stringify([laid, fall]);
  const photo = drawn.get(asked) ?? draw(laid, fall);
  drawn.set(asked, photo);
  return photo;
}

function draw(laid: readonly Laid[], fall: number): Promise<Buffer> {
  const [width, height] = [1200, 900];
  const table = { lab: { l: 40, a: 8, b: 18 }, at: [50, 50], size: 200 } as const;
  const squares = [table, ...laid].map(({ lab, at, size }) => {
    const { r, g, b } = toRgb({ mode: 'lab65', ...lab });
    const half = (size * width) / 200;
    const [x, y] = [(at[0] * width) / 100, (at[1] * height) / 100];
    return {
      linear: [r, g, b].map(decoded),
      left: x - half,
      right: x + half,
      top: y - half,
      bottom: y + half,
    };
  });
  const pixels = Buffer.alloc(width * height * 3);
  let noise = 1;
  for (let y = 0; y < height; y++) {
    const inRow = squares.filter((each) => y >= each.top && y < each.bottom);
    for (let x = 0; x < width; x++) {
      const under = inRow.findLast((each) => x >= each.left && x < each.right);
      noise = (Math.imul(noise, 1664525) + 1013904223) >>> 0;
      const light = (1 + fall * (x / width - 0.5)) * (0.97 + (0.06 * noise) / 2 ** 32);
      const [red = 0, green = 0, blue = 0] = under?.linear ?? [];
      const at = (y * width + x) * 3;
      pixels[at] = codedByte(red * light);
      pixels[at + 1] = codedByte(green * light);
      pixels[at + 2] = codedByte(blue * light);
    }
  }
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 95, chromaSubsampling: '4:4:4' })
    .toBuffer();
}

const decoded = (part: number) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
const coded = (linear: number) =>
  linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;

/** Light in steps so fine that none is as much as a twentieth of a byte's. */
const FINEST = 2 ** 16;
const BYTES = Uint8Array.from({ length: FINEST + 1 }, (_, step) => Math.round(255 * coded(step / FINEST)));
const codedByte = (linear: number) => BYTES[Math.min(FINEST, Math.round(linear * FINEST))] ?? 0;

/** Where `pairPhoto` lays card and cloths, as a form says it. */
export const PAIR_MARKS = {
  card_x: '15',
  card_y: '20',
  card_size: '12',
  one_x: '35',
  one_y: '60',
  one_size: '18',
  other_x: '65',
  other_y: '60',
  other_size: '18',
};

/** Two cloths side by side, and the card. */
export function pairPhoto(one: Lab, other: Lab, more: { readonly fall?: number } = {}): Promise<Buffer> {
  const laid = [
    { lab: { l: CARD_L, a: 0, b: 0 }, at: [15, 20], size: 14 },
    { lab: one, at: [35, 60], size: 30 },
    { lab: other, at: [65, 60], size: 30 },
  ] as const;
  return clothPhoto(laid, more);
}
