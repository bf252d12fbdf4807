import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import type { ShelfTold } from '../told.ts';
import { readPieceFacts } from './facts.ts';
import { flawFields, shapeFlaws } from './flaw-form.ts';
import { readFlawsOf } from './flaws.ts';

/** The flaws of a piece, and marking another. */
export function flawPage(
  reader: Reader,
  pieceId: number,
  asker: Asker,
  { readNeeded }: Pick<ShelfTold, 'readNeeded'>,
  back: string,
  typed: Typed = {},
) {
  const piece = readPieceFacts(reader, pieceId, asker, readNeeded(reader));
  const path = `${piecePath(piece.code)}/flaws`;
  const flaws = shapeFlaws(readFlawsOf(reader, pieceId), piece.usableWidthTicks, asker.units);
  const data = {
    piece,
    tapeStep: sayTapeStep(piece.tapeMaxTicks, asker.units),
    flaws: flaws.map((flaw) => ({ ...flaw, strike: `${path}/${flaw.id}/strikes`, requestKey: mintKey() })),
    action: path,
    requestKey: mintKey(),
    fields: drawFields(flawFields(asker.units), { back, ...typed }),
    backHref: back === '' ? piecePath(piece.code) : `/cutting-table/${encodeURIComponent(back)}/bench`,
  };
  return { view: 'shelf/piece/flaws', data, title: `Flaws of ${piece.code}`, room: 'shelf' } satisfies Page;
}
