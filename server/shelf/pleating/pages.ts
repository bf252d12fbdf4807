import { freeTicks } from '../../../src/ledger/entries.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { writeLength, writeSize } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { PLEATING_PATH, piecePath, pleatingPath, stripsPleatedPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { readPiece } from '../../ledger/state.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { backFields, sendFields } from './form.ts';
import {
  type Pleating,
  readAllPleatings,
  readOneStripsPleated,
  readPleating,
  type StripsPleated,
  shapePleating,
} from './store.ts';

type AskedOn = Asker & { readonly today: string };

/** What is out at pleaters, and what came back. */
export function pleatingsPage(reader: Reader, asker: AskedOn) {
  const rows = readAllPleatings(reader).map((row) => shapePleating(row, asker.units, asker.today));
  const data = { out: rows.filter(({ isOut }) => isOut), back: rows.filter(({ isOut }) => !isOut).reverse() };
  return { view: 'shelf/pleating/list', data, title: 'At the pleater', room: 'shelf' } satisfies Page;
}

/** A length of a piece that is to be sent. */
export function sendToPleaterPage(reader: Reader, pieceId: number, asker: AskedOn, typed?: Typed) {
  const piece = readPiece(reader, pieceId);
  const free = showLength(freeTicks(piece), asker.units, 'down');
  const data = {
    piece: { code: piece.code, href: piecePath(piece.code), free },
    canSend: freeTicks(piece) > 0,
    action: `${piecePath(piece.code)}/pleating`,
    requestKey: mintKey(),
    fields: drawFields(sendFields(reader, asker, free), typed ?? { sent_on: asker.today }),
    listHref: PLEATING_PATH,
  };
  return {
    view: 'shelf/pleating/send',
    data,
    title: `Send ${piece.code} to a pleater`,
    room: 'shelf',
  } satisfies Page;
}

/** One sending: the note that goes along, and how it measured when it came back. */
export function pleatingPage(reader: Reader, pleatingId: number, asker: AskedOn, typed?: Typed) {
  const row = readPleating(reader, pleatingId);
  return notePage(row, `${pleatingPath(pleatingId)}/back`, '', asker, typed);
}

/** The same of strips. */
export function stripsPleatedPage(reader: Reader, id: number, asker: AskedOn, typed?: Typed) {
  const row = readOneStripsPleated(reader, id);
  const path = stripsPleatedPath(id);
  return notePage(row, `${path}/back`, `${path}/steps`, asker, typed);
}

/** `stepHref` is where a mistake of strips is mended; a sending of a piece is undone instead. */
function notePage(
  row: Pleating | StripsPleated,
  action: string,
  stepHref: string,
  asker: AskedOn,
  typed?: Typed,
) {
  const usual = {
    back_on: row.backOn ?? asker.today,
    length: writeLength(row.backTicks ?? row.length_ticks, asker.units),
    width: row.backWidthTicks === null ? '' : writeSize(row.backWidthTicks, asker.units),
  };
  const data = {
    ...shapePleating(row, asker.units, asker.today),
    listHref: PLEATING_PATH,
    action,
    stepHref,
    requestKey: mintKey(),
    fields: drawFields(backFields(asker), typed ?? usual),
  };
  return {
    view: 'shelf/pleating/note',
    data,
    title: `Pleating by ${row.pleater}`,
    room: 'shelf',
  } satisfies Page;
}
