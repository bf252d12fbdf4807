const DIRECTORY_ENTRY = 0x02_01_4b_50;

/** True for a zip file, which an XLSX workbook is. */
export function isWorkbook(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 3 && bytes[3] === 4;
}

/** What the directory of a zip says that its files unpack to; a liar is stopped by the thread's own limits. */
export function unpackedSize(bytes: Uint8Array): number {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let sum = 0;
  for (let at = 0; at + 46 <= bytes.length; at += 1) {
    if (bytes[at] !== 0x50 || view.getUint32(at, true) !== DIRECTORY_ENTRY) continue;
    sum += view.getUint32(at + 24, true);
    at += 45;
  }
  return sum;
}
