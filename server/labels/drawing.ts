import { CODE_TICKS, type LabelSheet } from '../../src/labels/label-sheet.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';
import { drawCode } from './code-picture.ts';
import type { LabelWords } from './words.ts';

interface LabelText {
  readonly text: string;
  readonly x: number;
  /** of the line that the letters stand on */
  readonly y: number;
  readonly size: number;
  readonly large: boolean;
}

const MM = TICKS_PER.mm;
/** Quiet modules around a code (ISO/IEC 18004). */
const QUIET = 4;
const MOST_CODE_TICKS = 30 * MM;
/** What a letter takes of its size in width: the most of codes, and of words with dates, measured on DejaVu Sans. */
const LETTER = { large: 0.77, plain: 0.57 };

/**
 * A label drawn in ticks from its upper left corner. The code at the left, the words beside it: as many lines as the label
 * has room for.
 */
export function drawLabel(sheet: LabelSheet, words: LabelWords, address: string) {
  const picture = drawCode(address);
  const edge = MM;
  const whole = picture.modules + 2 * QUIET;
  const room = Math.min(sheet.heightTicks - edge, Math.round((MOST_CODE_TICKS * whole) / picture.modules));
  const side = Math.max(CODE_TICKS, Math.floor((room * picture.modules) / whole));
  const quiet = Math.ceil((side * QUIET) / picture.modules);
  const codeTop = Math.floor((sheet.heightTicks - side) / 2);
  const left = side + 2 * quiet;
  const width = sheet.widthTicks - left - 2 * MM;
  return {
    code: {
      path: picture.path,
      transform: `translate(${quiet} ${codeTop}) scale(${side / picture.modules})`,
    },
    ...drawWords(words, { left, width, height: sheet.heightTicks }),
  };
}

export type LabelDrawing = ReturnType<typeof drawLabel>;

interface Room {
  readonly left: number;
  readonly width: number;
  readonly height: number;
}

function drawWords({ thing, lines }: LabelWords, room: Room) {
  const letters = [...thing.code].length;
  const most = Math.min(9 * MM, Math.floor(room.height / 4));
  const large = Math.max(
    Math.floor(2.6 * MM),
    Math.min(most, Math.floor(room.width / (letters * LETTER.large))),
  );
  const size = Math.min(5 * MM, Math.max(Math.floor(2.6 * MM), Math.floor(room.height / 12)));
  const step = Math.floor(size * 1.3);
  const first = 2 * MM + large;
  const fitting = Math.max(0, Math.floor((room.height - first - 2 * MM) / step));
  const texts: LabelText[] = [
    {
      text: shortened(thing.code, room.width, large, LETTER.large),
      x: room.left,
      y: first,
      size: large,
      large: true,
    },
  ];
  const chips: { path: string; colour: string }[] = [];
  lines.slice(0, fitting).forEach(({ text, colour }, index) => {
    const y = first + (index + 1) * step;
    const indent = colour === null ? 0 : Math.floor(size * 1.8);
    if (colour !== null) chips.push({ path: pinked(room.left, y - Math.floor(size * 0.82), size), colour });
    const shown = shortened(text, room.width - indent, size, LETTER.plain);
    texts.push({ text: shown, x: room.left + indent, y, size, large: false });
  });
  return { texts, chips };
}

/** A swatch with one pinked edge. */
function pinked(x: number, y: number, height: number): string {
  const width = Math.floor(height * 1.4);
  const tooth = Math.floor(height / 6);
  const right = x + width;
  const teeth = [1, 2, 3, 4, 5]
    .map((n) => `L${n % 2 === 1 ? right : right - tooth} ${y + n * tooth}`)
    .join('');
  return `M${x} ${y}H${right - tooth}${teeth}L${right - tooth} ${y + 6 * tooth}H${x}Z`;
}

function shortened(text: string, width: number, size: number, letter: number): string {
  const most = Math.max(1, Math.floor(width / (size * letter)));
  const letters = [...text];
  return letters.length <= most ? text : `${letters.slice(0, most - 1).join('')}…`;
}
