import { readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { PHOTOS } from '../../../../server/database/folder.ts';
import { ProcessRunner } from '../../../../server/process.ts';
import { MOST_PHOTO_BYTES, Pictures } from '../../../../server/shelf/photo/pictures.ts';
import type { Picture, PictureTask, PictureTaskDone } from '../../../../server/shelf/photo/process.ts';
import { openTestBook, type TestBook } from '../../support.ts';
import { bombFile, photoFile } from './picture-files.ts';

let opened: TestBook;
let folder: string;
let pictures: Pictures;

beforeEach(async () => {
  opened = await openTestBook();
  folder = opened.putDown();
  pictures = new Pictures({ file: join(folder, 'clothroom.db') });
});
afterEach(async () => {
  await pictures.close();
  opened.close();
});

const refusalOf = (bytes: Buffer) =>
  pictures.takeIn(bytes).then(
    () => 'taken in',
    (error: Error) => error.message,
  );

describe('a photo', () => {
  it('is kept as a JPEG in sRGB of at most 1600 pixels, named by its hash', async () => {
    const picture = await pictures.takeIn(await photoFile(4000, 3000));
    expect(picture).toMatchObject({
      widthPx: 1600,
      heightPx: 1200,
      sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
    });
    pictures.keep(picture);
    pictures.keep(picture);
    expect(readdirSync(join(folder, PHOTOS))).toEqual([`${picture.sha256}.jpg`]);
    expect(await sharp(picture.jpeg).metadata()).toMatchObject({
      format: 'jpeg',
      space: 'srgb',
      width: 1600,
    });
  });

  it.each([
    ['PNG', (picture: Sharp) => picture.png()],
    ['PNG with 16 bits', (picture: Sharp) => picture.toColourspace('rgb16').png()],
    ['grey JPEG', (picture: Sharp) => picture.greyscale().jpeg()],
    ['WebP', (picture: Sharp) => picture.webp()],
    ['PNG that one sees through', (picture: Sharp) => picture.ensureAlpha(0.5).png()],
  ])('may be a %s', async (_, change) => {
    const picture = await pictures.takeIn(await photoFile(500, 400, change));
    expect(picture).toMatchObject({ widthPx: 500, heightPx: 400 });
    expect(await sharp(picture.jpeg).metadata()).toMatchObject({ format: 'jpeg', channels: 3 });
  });

  it('is turned upright as its camera was held', async () => {
    // Bright on top as it was held; the sensor saw it lying on its side.
    const upright = await photoFile(600, 400, (picture) =>
      picture
        .composite([
          {
            input: { create: { width: 600, height: 100, channels: 3, background: '#fff' } },
            top: 0,
            left: 0,
          },
        ])
        .png(),
    );
    const lying = await sharp(upright).rotate(-90).jpeg().withMetadata({ orientation: 6 }).toBuffer();
    const { jpeg, widthPx } = await pictures.takeIn(lying);
    expect(widthPx).toBe(600);
    const brightness = async (top: number) => {
      const { data } = await sharp(jpeg)
        .extract({ left: 100, top, width: 400, height: 50 })
        .raw()
        .toBuffer({ resolveWithObject: true });
      return data.reduce((sum, value) => sum + value, 0) / data.length;
    };
    expect(await brightness(20)).toBeGreaterThan(250);
    expect(await brightness(330)).toBeLessThan(110);
  });

  it('says nothing of where and with what it was taken, and carries nothing along', async () => {
    const script = '<script>alert(1)</script>';
    const file = await photoFile(500, 400, (picture) =>
      picture
        .jpeg()
        .withXmp(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><![CDATA[${script}]]></x:xmpmeta>`)
        .withExif({ IFD0: { Artist: script, Make: 'Invented' }, IFD3: { GPSLatitude: '51/1 30/1 0/1' } }),
    );
    const sent = Buffer.concat([file, Buffer.from(script)]);
    expect(sent.toString('latin1')).toContain('alert(1)');
    const { jpeg } = await pictures.takeIn(sent);
    expect(Buffer.from(jpeg).toString('latin1')).not.toMatch(/script|alert|Invented|Exif|http/);
    const kept = await sharp(jpeg).metadata();
    expect([kept.exif, kept.xmp, kept.iptc, kept.icc]).toEqual([undefined, undefined, undefined, undefined]);
  });

  it('of another colour space is turned into sRGB', async () => {
    const plain = await photoFile(500, 400, (picture) => picture.png());
    const wide = await sharp(plain)
      .jpeg({ quality: 100, chromaSubsampling: '4:4:4' })
      .withIccProfile('p3')
      .toBuffer();
    const of = async (picture: Picture) =>
      (await sharp(picture.jpeg).stats()).channels.map(({ mean }) => mean);
    const [one, other] = [await of(await pictures.takeIn(plain)), await of(await pictures.takeIn(wide))];
    for (const channel of [0, 1, 2])
      expect(Math.abs((one[channel] ?? 0) - (other[channel] ?? 0))).toBeLessThan(1.5);
  });

  it('is made smaller in linear light', async () => {
    const width = 3200;
    const pixels = Buffer.alloc(width * width * 3);
    for (let at = 0; at < width * width; at++)
      pixels.fill((at + Math.floor(at / width)) % 2 === 0 ? 20 : 220, at * 3, at * 3 + 3);
    const file = await sharp(pixels, { raw: { width, height: width, channels: 3 } })
      .png()
      .toBuffer();
    const { jpeg } = await pictures.takeIn(file);
    // The mean of 0.00700 and 0.71569 (IEC 61966-2-1) is 0.36134, which is coded as 162; the mean of the codes is 120.
    expect((await sharp(jpeg).stats()).channels[0]?.mean).toBeCloseTo(162, -0.5);
  });

  it('is measured where it is marked', async () => {
    const picture = await pictures.takeIn(await photoFile(800, 600));
    pictures.keep(picture);
    const [area, ...more] = await pictures.measure(picture.sha256, [{ leftPx: 100, topPx: 50, sidePx: 120 }]);
    expect(more).toEqual([]);
    // About the coded value 97.5.
    expect(area).toMatchObject({ sidePx: 120, clippedHigh: 0, clippedLow: 0 });
    expect(area?.light[0]).toBeCloseTo(0.121, 2);
  });
});

// What a process held is told by Linux alone.
it.runIf(process.platform === 'linux')(
  'the largest photo that is taken is read in bounded memory',
  async () => {
    const background = { r: 90, g: 80, b: 70, alpha: 0.5 };
    const file = await sharp({ create: { width: 6400, height: 5000, channels: 4, background } })
      .toColourspace('rgb16')
      .png({ progressive: true })
      .toBuffer();
    expect(await refusalOf(file)).toBe('taken in');
    const status = readFileSync(`/proc/${pictures.process?.pid}/status`, 'utf8');
    expect(Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1]) / 1024).toBeLessThan(600);
  },
);

describe('what is refused', () => {
  it.each([
    ['nothing', Buffer.alloc(0), 'Photo: this is no photo. Choose a JPEG, PNG or WebP file.'],
    [
      'a text',
      Buffer.from('L12 is redder than L13'),
      'Photo: this is no photo. Choose a JPEG, PNG or WebP file.',
    ],
    [
      'a text that begins like a JPEG',
      Buffer.from(`\xff\xd8\xff${'L12 is redder. '.repeat(900)}`, 'latin1'),
      'Photo: the file is damaged or incomplete. Choose it again, or take the photo again.',
    ],
    [
      'a drawing',
      Buffer.from(
        '<svg xmlns="http://www.w3.org/2000/svg" width="900" height="900"><rect width="9" height="9"/></svg>',
      ),
      'Photo: this is no photo. Choose a JPEG, PNG or WebP file.',
    ],
    [
      'HEIC',
      Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic\0\0\0\0mif1heic'), Buffer.alloc(900)]),
      'Photo: HEIC and AVIF files are not read. Set the camera to save JPEG, or share the photo as JPEG.',
    ],
    [
      'a picture that unpacks to 900 megapixels',
      bombFile(30_000, 30_000),
      'Photo: 900 megapixels are too many; 32 are the most. Set the camera to a smaller picture, such as 12 megapixels.',
    ],
  ])('%s', async (_, bytes, message) => {
    expect(await refusalOf(bytes)).toBe(message);
    expect(() => readdirSync(join(folder, PHOTOS))).toThrow('ENOENT');
  });

  it('a JPEG that breaks off', async () => {
    const whole = await photoFile(1200, 900);
    for (const share of [0.01, 0.3, 0.9])
      expect(await refusalOf(whole.subarray(0, Math.floor(whole.length * share)))).toMatch(
        /damaged or incomplete/,
      );
  });

  it('a preview', async () => {
    expect(await refusalOf(await photoFile(320, 240))).toMatch(
      /^Photo: 320 × 240 pixels are too few\. Choose the photo itself/,
    );
  });

  it('sixty megapixels, without making pixels of them', async () => {
    const file = await photoFile(9000, 6700, (picture) => picture.jpeg({ quality: 1 }));
    expect(file.length).toBeLessThan(MOST_PHOTO_BYTES);
    const before = Date.now();
    expect(await refusalOf(file)).toMatch(/^Photo: 61 megapixels are too many/);
    expect(Date.now() - before).toBeLessThan(5000);
  });

  it('by the library itself: drawings, TIFF and GIF, whatever the first bytes were taken for', async () => {
    const runner = new ProcessRunner<PictureTask, PictureTaskDone>(
      new URL('../../../../server/shelf/photo/process.ts', import.meta.url),
      { mostMs: 20_000 },
    );
    const drawing = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="900" height="900"/>');
    const tiff = await photoFile(500, 400, (picture) => picture.tiff());
    const gif = await photoFile(500, 400, (picture) => picture.gif());
    for (const bytes of [drawing, tiff, gif])
      expect(await runner.ask({ kind: 'take in', bytes })).toMatchObject({ kind: 'refused' });
    expect(await runner.ask({ kind: 'take in', bytes: await photoFile(500, 400) })).toMatchObject({
      kind: 'taken in',
    });
    await runner.close();
  });

  it('what takes too long', async () => {
    await pictures.close();
    pictures = new Pictures({ file: join(folder, 'clothroom.db') }, 30);
    expect(await refusalOf(await photoFile(4000, 3000))).toMatch(/took too long and was stopped/);
  });

  it('what ends the process, and the next photo is read all the same', async () => {
    const asked = refusalOf(await photoFile(4000, 3000));
    pictures.process?.kill('SIGKILL');
    expect(await asked).toMatch(/^Photo: the file cannot be read/);
    expect(await refusalOf(await photoFile(500, 400))).toBe('taken in');
  });

  it('more at once than can be worked on', async () => {
    const file = await photoFile(2000, 1500);
    const answers = await Promise.all(Array.from({ length: 9 }, () => refusalOf(file)));
    expect(answers.filter((answer) => answer === 'taken in')).toHaveLength(6);
    expect(answers.at(-1)).toBe('Several photos are being read just now. Send this one again in a moment.');
  });
});

describe('cleaning', () => {
  const DAY_MS = 24 * 3_600_000;
  const now = Date.parse('2026-03-02T12:00:00Z');

  it('removes what was broken off, and after a month what no row names', async () => {
    const [kept, stray, fresh] = ['a', 'b', 'c'].map((letter) => letter.repeat(64));
    pictures.keep(await pictures.takeIn(await photoFile(500, 400)));
    const place = join(folder, PHOTOS);
    const put = (name: string, days: number) => {
      writeFileSync(join(place, name), 'x');
      utimesSync(join(place, name), new Date(now - days * DAY_MS), new Date(now - days * DAY_MS));
    };
    const [taken] = readdirSync(place);
    utimesSync(join(place, taken ?? ''), new Date(now), new Date(now));
    put(`${kept}.jpg`, 400);
    put(`${stray}.jpg`, 31);
    put(`${fresh}.jpg`, 29);
    put(`${fresh}.jpg.part`, 0);
    put('my own note.txt', 400);
    pictures.clean((sha256) => sha256 === kept, now);
    expect(readdirSync(place).sort()).toEqual(
      [taken, `${kept}.jpg`, `${fresh}.jpg`, 'my own note.txt'].sort(),
    );
  });

  it('is nothing where no photo was ever kept', () => {
    pictures.clean(() => false, now);
    expect(() => statSync(join(folder, PHOTOS))).toThrow('ENOENT');
  });
});
