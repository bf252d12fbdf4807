import { inflateRawSync } from 'node:zlib';

// The records of a zip (PKWARE's APPNOTE, 4.3): a file's own head, its entry in the directory, and the end of that.
const HEAD = 0x04_03_4b_50;
const ENTRY = 0x02_01_4b_50;
const END = 0x06_05_4b_50;
const STORED = 0;
const DEFLATED = 8;

/** True for a zip file, which an XLSX workbook is. */
export function isWorkbook(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;
}

interface Unpacked {
  readonly name: Buffer;
  readonly crc: number;
  readonly data: Buffer;
}

/**
 * A zip's files that are XML, unpacked into another zip that only stores them: what a zip says of its own sizes need
 * not be believed then. `look` may refuse a file by what is in it. @throws {RangeError} where they unpack to more than `most` bytes, or this is no zip
 */
export function unpackedZip(
  bytes: Uint8Array,
  most: number,
  look: (name: string, data: Buffer) => void = () => undefined,
): Buffer {
  const zip = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let room = most;
  const files: Unpacked[] = [];
  for (let [left, at] = startOfDirectory(zip); left > 0; left -= 1) {
    if (zip.readUInt32LE(at) !== ENTRY) throw new RangeError('the directory of the zip is broken');
    const name = zip.subarray(at + 46, at + 46 + zip.readUInt16LE(at + 28));
    if (/\.(xml|rels)$/i.test(name.toString('latin1'))) {
      const data = dataOf(zip, at, room);
      room -= data.length;
      look(name.toString('latin1'), data);
      files.push({ name, crc: zip.readUInt32LE(at + 16), data });
    }
    at += 46 + name.length + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return storedZip(files);
}

function startOfDirectory(zip: Buffer): [count: number, at: number] {
  const from = Math.max(0, zip.length - 22 - 0xffff);
  for (let at = zip.length - 22; at >= from; at -= 1) {
    if (zip.readUInt32LE(at) === END) return [zip.readUInt16LE(at + 10), zip.readUInt32LE(at + 16)];
  }
  throw new RangeError('the zip has no directory');
}

/** The data of an entry; a deflated one says itself where it ends. */
function dataOf(zip: Buffer, entry: number, most: number): Buffer {
  const head = zip.readUInt32LE(entry + 42);
  if (zip.readUInt32LE(head) !== HEAD) throw new RangeError('a file of the zip is not where it should be');
  const from = head + 30 + zip.readUInt16LE(head + 26) + zip.readUInt16LE(head + 28);
  const method = zip.readUInt16LE(entry + 10);
  if (method === DEFLATED) {
    // Node takes no bound below 1.
    return inflateRawSync(zip.subarray(from), { maxOutputLength: Math.max(1, most) });
  }
  const length = zip.readUInt32LE(entry + 20);
  if (method !== STORED || from + length > zip.length) throw new RangeError('a file of the zip is cut off');
  return zip.subarray(from, from + length);
}

function storedZip(files: readonly Unpacked[]): Buffer {
  const heads: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const { name, crc, data } of files) {
    const head = Buffer.alloc(30);
    head.writeUInt32LE(HEAD, 0);
    head.writeUInt16LE(20, 4);
    writeSizes(head, 14, { name, crc, data });
    const entry = Buffer.alloc(46);
    entry.writeUInt32LE(ENTRY, 0);
    entry.writeUInt16LE(20, 6);
    writeSizes(entry, 16, { name, crc, data });
    entry.writeUInt32LE(at, 42);
    heads.push(head, name, data);
    directory.push(entry, name);
    at += 30 + name.length + data.length;
  }
  const end = Buffer.alloc(22);
  end.writeUInt32LE(END, 0);
  end.writeUInt16LE(files.length, 8);
  end.writeUInt16LE(files.length, 10);
  end.writeUInt32LE(
    directory.reduce((sum, part) => sum + part.length, 0),
    12,
  );
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...heads, ...directory, end]);
}

function writeSizes(record: Buffer, at: number, { name, crc, data }: Unpacked): void {
  record.writeUInt32LE(crc, at);
  record.writeUInt32LE(data.length, at + 4);
  record.writeUInt32LE(data.length, at + 8);
  record.writeUInt16LE(name.length, at + 12);
}
