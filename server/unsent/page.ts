import { showLength } from '../../src/quantity/length-show.ts';
import { writeLength } from '../../src/quantity/written-length.ts';
import type { Reader } from '../database/book.ts';
import { drawFields } from '../kit/form-drawing.ts';
import { batchPath, piecePath } from '../kit/paths.ts';
import type { Typed } from '../kit/typed.ts';
import { showMoment } from '../kit/when.ts';
import { listed } from '../kit/words.ts';
import { readPiece, tellState } from '../ledger/state.ts';
import { TOLD } from '../web/bench-work.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { type BathWork, readBathWork } from './bath-work.ts';
import { type ClothWork, readClothWork } from './cloth-work.ts';
import { type ToldWay, toldFields } from './form.ts';
import type { SentWork } from './sent.ts';

export const TOLD_PATH = '/unsent/told';

export type WayToTell = ReturnType<typeof waysWithCloth>[number];

/** Work that a device kept and the book refused: what it was, how things stand now, and what may have happened. */
export function whatHappenedPage(reader: Reader, sent: SentWork, asker: Asker, typed: Typed = {}) {
  const cloth = readClothWork(reader, sent, asker);
  const bath = cloth ? null : readBathWork(reader, sent);
  const { key, path, fields, what, reason, doneAt } = sent;
  const ways = [
    ...(cloth ? waysWithCloth(reader, cloth, asker) : []),
    ...(bath ? waysAtPot(bath) : []),
    dropIt(bath !== null),
  ];
  const drawn = drawFields(toldFields(asker.units), { ...filledIn(cloth, asker), ...typed });
  const data = {
    action: TOLD_PATH,
    toldKey: `${key}${TOLD}`,
    sent: { key, path, fields, what, reason, done_at: doneAt },
    what,
    reason,
    done: showMoment(doneAt),
    /** how things stand now, in sentences, each with where it is seen */
    now: [...(cloth ? stateOfPieces(reader, cloth, asker) : []), ...(bath ? [stateOfBath(bath)] : [])],
    ways: ways.map((way) => ({
      ...way,
      isOpen: typed.way === way.way,
      fields: way.asks.map((name) => drawn[name]),
    })),
  };
  return { view: 'unsent/what-happened', data, title: 'What happened?', room: null } satisfies Page;
}

interface Offered {
  readonly way: ToldWay;
  readonly title: string;
  readonly says: string;
  readonly button: string;
  readonly asks: readonly (keyof ReturnType<typeof toldFields>)[];
}

function waysWithCloth(
  reader: Reader,
  { kind, from, tiers, fromOther }: ClothWork,
  { units }: Asker,
): Offered[] {
  const [first] = from;
  const codes = listed(from.map(({ pieceId }) => readPiece(reader, pieceId).code));
  const takes = first?.lengthTicks ?? null;
  const hasStrips = tiers.some(({ strips }) => strips > 0);
  const ticks = [
    ...(hasStrips ? (['more_than_wanted'] as const) : []),
    ...(tiers.length > 0 ? (['lots_meet'] as const) : []),
  ];
  const ways: (Offered | false)[] = [
    kind === 'cut' && {
      way: 'spoiled',
      title: 'It was cut, and is spoiled',
      says: `The length is written off ${codes}. Nothing counts as cut.`,
      button: 'Write it off',
      asks: from.length === 1 ? ['spoiled_length'] : [],
    },
    fromOther !== null && {
      way: 'other piece',
      title: 'It was another piece',
      says: `It is entered for that piece, and ${codes} stays as it is in the book.`,
      button: 'Enter it for this piece',
      asks: ['piece', 'length', ...ticks],
    },
    from.length === 1 &&
      takes !== null && {
        way: 'count',
        title: `The count of ${codes} was wrong`,
        says:
          kind === 'held'
            ? 'Measure the piece. The count is entered, and then this.'
            : `Measure what is left of the piece now. The count is entered as that and ${showLength(takes, units, 'near')} more, and then this is entered.`,
        button: 'Enter the count and this',
        asks: ['counted', ...ticks],
      },
  ];
  return ways.filter((way) => way !== false);
}

function waysAtPot({ baths }: BathWork): Offered[] {
  const ways: (Offered | false)[] = [
    baths > 1 && {
      way: 'other bath',
      title: 'It was another bath',
      says: 'It is logged for that bath.',
      button: 'Log it for this bath',
      asks: ['bath'],
    },
    {
      way: 'note',
      title: 'It happened as well',
      says: 'It is kept as a note of the batch, with when it was done. Something that went in twice: add what went in beside the plan, too.',
      button: 'Keep it as a note',
      asks: ['note'],
    },
  ];
  return ways.filter((way) => way !== false);
}

function dropIt(atPot: boolean): Offered {
  return {
    way: 'none',
    title: atPot ? 'It is in the log already, or did not happen' : 'It did not happen',
    says: 'Nothing is entered, and this device forgets it.',
    button: 'Drop it',
    asks: [],
  };
}

function filledIn(cloth: ClothWork | null, { units }: Asker): Typed {
  const [first, ...more] = cloth?.from ?? [];
  if (!first || first.lengthTicks === null || more.length > 0) return {};
  return { spoiled_length: writeLength(first.lengthTicks, units) };
}

function stateOfPieces(reader: Reader, { from }: ClothWork, { personId }: Asker) {
  return from.map(({ pieceId }) => {
    const { code } = readPiece(reader, pieceId);
    return { said: tellState(reader, pieceId, personId), text: code, href: piecePath(code) };
  });
}

function stateOfBath({ batch, bath, location }: BathWork) {
  return {
    said: `Bath ${bath} of ${batch}, as its log stands:`,
    text: `Batch ${batch}`,
    href: location || batchPath(batch),
  };
}
