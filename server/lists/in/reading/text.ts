/**
 * The text of a file: UTF-8 with or without its mark, UTF-16 either way round, else windows-1252, which is what
 * spreadsheets on office machines write. Never throws: every byte is a letter of windows-1252.
 */
export function decodeText(bytes: Uint8Array): string {
  if (starts(bytes, [0xff, 0xfe])) return new TextDecoder('utf-16le').decode(bytes);
  if (starts(bytes, [0xfe, 0xff])) return new TextDecoder('utf-16be').decode(bytes);
  const unmarked = withoutMark(bytes);
  if (unmarked !== null) return new TextDecoder(unmarked).decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return Buffer.from(bytes)
      .toString('latin1')
      .replaceAll(/[\x80-\x9f]/g, (letter) => HIGH.at(letter.charCodeAt(0) - 0x80) ?? letter);
  }
}

// The letters 80 to 9F of windows-1252 (index of the WHATWG Encoding Standard); Node 20's own decoder leaves them out.
const HIGH = [...'€\x81‚ƒ„…†‡ˆ‰Š‹Œ\x8dŽ\x8f\x90‘’“”•–—˜™š›œ\x9džŸ'];

/** UTF-16 without its mark shows by a nought in every second byte of plain letters. */
function withoutMark(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const looked = bytes.subarray(0, 400);
  if (looked.length < 8) return null;
  const noughts = (parity: number) => looked.filter((byte, at) => at % 2 === parity && byte === 0).length;
  const many = looked.length * 0.35;
  if (noughts(1) > many && noughts(0) < 4) return 'utf-16le';
  return noughts(0) > many && noughts(1) < 4 ? 'utf-16be' : null;
}

function starts(bytes: Uint8Array, mark: readonly number[]): boolean {
  return mark.every((byte, at) => bytes[at] === byte);
}
