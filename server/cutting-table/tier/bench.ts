import { z } from 'zod';
import { isWorthKeeping, leftoverOf, type StripSize } from '../../../src/fit/cut-length.ts';
import type { TierCut } from '../../../src/fit/tier-cuts.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import { readHeldPlans } from '../../cut-plans/store.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { optionalText, textField, tickField, wholeField } from '../../kit/fields.ts';
import { benchPath, cutPath, cuttingPath, layBenchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { pulseAddress } from '../../ledger/pulse.ts';
import { sayLeft } from '../../ledger/state.ts';
import { conflict } from '../../refusal.ts';
import { selectPieces } from '../../shelf/piece/list.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { namesAtTable } from './cut-list.ts';
import { sayRestSize } from './cut-page.ts';
import { readCutsDone } from './cuts-done.ts';
import { cutForTier, stripSizeKey } from './cutting.ts';
import { type ShadeFigures, shapeShadeFigures, shapeTierHead } from './head.ts';
import { readOpenTier, readPieceForTier } from './piece.ts';
import { readSources, type Sources } from './sources.ts';
import { readTierAtTable, sayTier, type TierAtTable } from './table.ts';

/** The bench hand of a tier: one cut length at a time. */
export function benchPage(reader: Reader, code: string, tierId: number, asker: Asker) {
  const table = readTierAtTable(reader, code, tierId);
  const sources = readSources(reader, table);
  const names = namesAtTable(reader, table);
  const figures = (source: Sources) => shapeShadeFigures(source.shade, names, asker.units);
  const [cutLength = null, ...then] =
    table.closed === ''
      ? cutLengthsOf(sources).flatMap(
          (at) => shapeCutLength(reader, table, at, figures(at.source), asker) ?? [],
        )
      : [];
  const data = {
    ...shapeTierHead(table),
    pulse: pulseAddress(reader, { garment: table.garment.code }),
    /** the cut length to cut now; null where none can be */
    cutLength,
    /** what comes after it, for a device that goes on while the book does not answer */
    then,
    /** shades with strips left, in the tier's order: how far each is */
    shades: sources.map(figures),
    /** where the lays that are held for the garment are cut; '' where none is */
    laysHref: hasLaysToCut(reader, table.garment.id) ? layBenchPath(table.garment.code) : '',
    allCut: table.shades.length > 0 && table.shades.every(({ leftStrips }) => leftStrips === 0),
    /** why nothing can be cut although strips are left, a sentence a shade */
    stuck: cutLength
      ? []
      : sources
          .filter(({ shade }) => shade.leftStrips > 0)
          .map((source) => sayStuck(source, names.shade(source.shade.shadeId))),
  };
  return {
    view: 'cutting-table/tier/bench',
    data,
    title: `Cut ${sayTier(table)}`,
    room: 'cutting-table',
  } satisfies Page;
}

function hasLaysToCut(reader: Reader, garmentId: number): boolean {
  return readHeldPlans(reader, [garmentId]).some(({ lays }) => lays.some(({ state }) => state === 'held'));
}

/** One cut length of a piece, after those of its shade and of its piece that come before it. */
interface NextCut {
  readonly source: Sources;
  readonly cut: TierCut;
  readonly strips: number;
  readonly stripsBefore: number;
  readonly lengthsBefore: number;
}

/** A page of more cut lengths would be slow to come over weak Wi-Fi. */
const MOST_CUT_LENGTHS = 24;

/** The cut lengths that are left to cut, in order. */
function cutLengthsOf(sources: readonly Sources[]): NextCut[] {
  return sources
    .flatMap((source) => {
      let stripsBefore = 0;
      return source.plan.cuts.flatMap((cut) =>
        Array.from({ length: cut.cutLengths }, (_, lengthsBefore) => {
          const strips = Math.min(cut.columns, cut.strips - lengthsBefore * cut.columns);
          const cutLength = { source, cut, strips, stripsBefore, lengthsBefore };
          stripsBefore += strips;
          return cutLength;
        }),
      );
    })
    .slice(0, MOST_CUT_LENGTHS);
}

export type CutLengthTurn = NonNullable<ReturnType<typeof shapeCutLength>>;

const pieceToCut = prepared((db, id: Param<number>) => selectPieces(db).where('piece.id', '=', id));

function shapeCutLength(
  reader: Reader,
  table: TierAtTable,
  { source: { shade }, cut, strips, stripsBefore, lengthsBefore }: NextCut,
  figures: ShadeFigures,
  asker: Asker,
) {
  const { code } = table.garment;
  const piece = reader.first(pieceToCut(cut.pieceId));
  if (!piece) return null;
  const { units } = asker;
  const { tierId } = shade;
  const cutLength = { strips, columns: cut.columns, cutLengths: 1, lengthTicks: shade.depthTicks };
  const rest = leftoverOf(shade, piece.usable_width_ticks, cutLength);
  const useful = readWorkroom(reader).usefulRemnantTicks;
  const lengthsHere = cut.cutLengths - lengthsBefore;
  return {
    requestKey: mintKey(),
    action: benchPath(code, tierId),
    shade: figures,
    piece: { code: piece.code, place: piece.place_name ?? '', lot: piece.lot_code },
    /** held for the tier, or free */
    from: cut.from,
    /** how long the cut length is along the piece */
    length: showSize(shade.depthTicks, units, 'up'),
    /** how long each strip is across it */
    across: showSize(shade.lengthTicks, units, 'up'),
    strips,
    /** "strips 5 to 7 of 12" */
    count: sayCount(shade.cutStrips + stripsBefore, strips, shade.count),
    /** "3 strips for Tier 1 of G3, from B12" */
    work: `${countOf(strips, 'strip', 'strips')} for ${sayTier(table)}, from ${piece.code}`,
    /** cut lengths left of this shade from this piece, this one included */
    lengthsHere,
    /** what the turns of a device call this cut length and all that are left of it here */
    covers: turnsOf(cut, lengthsBefore, 1),
    all:
      lengthsHere > 1
        ? {
            requestKey: mintKey(),
            strips: cut.strips - lengthsBefore * cut.columns,
            covers: turnsOf(cut, lengthsBefore, lengthsHere),
          }
        : null,
    /** what is left beside the strips; '' where they take the whole width */
    rest: rest ? sayRestSize(rest, asker) : '',
    /** whether the rest is kept unless somebody says otherwise */
    keepRest: rest !== null && isWorthKeeping(rest, shade, useful),
    size: stripSizeKey(shade),
    picture: drawCutLength(shade, piece.usable_width_ticks, strips, units),
    otherwiseHref: address(cutPath(code, tierId), { piece: piece.code, strips, back: 'bench' }),
  };
}

function turnsOf({ pieceId, from }: TierCut, lengthsBefore: number, cutLengths: number): string {
  return Array.from(
    { length: cutLengths },
    (_, cutLength) => `${from}-${pieceId}-${lengthsBefore + cutLength}`,
  ).join(' ');
}

function sayCount(cut: number, strips: number, wanted: number): string {
  const [from, to] = [cut + 1, cut + strips];
  return from === to ? `Strip ${from} of ${wanted}` : `Strips ${from} to ${to} of ${wanted}`;
}

function sayStuck({ shade, free }: Sources, name: string): string {
  const left = countOf(shade.leftStrips, 'strip', 'strips');
  if (free.length === 0) return `${left} of ${name}: no cloth of it is free that gives a strip.`;
  if (free.every(({ lotNote }) => lotNote === 'another lot')) {
    return `${left} of ${name}: what is free is of another lot than what is in use.`;
  }
  return `${left} of ${name}: what is free is counted for garments that are due before. Hold some first.`;
}

export function benchForm() {
  return z.strictObject({
    piece: textField({ max: 40, label: 'The piece' }),
    strips: wholeField({ min: 1, max: 10_000 }),
    keep_rest: tickField(),
    size: optionalText({ max: 40 }),
  });
}

/** Cuts one length as it was shown. Where somebody else was quicker, it says who and what is left. */
export function cutOneLength(
  tx: Tx,
  code: string,
  tierId: number,
  form: z.output<ReturnType<typeof benchForm>>,
  asker: Asker,
): Answer {
  const table = readOpenTier(tx, code, tierId);
  const piece = readPieceForTier(tx, table, form.piece, asker.units);
  const { leftStrips, count } = piece.shade;
  if (form.strips.value > leftStrips) {
    const [last] = readCutsDone(tx, tierId, asker, 1);
    const who = last ? ` The last cut was made by ${last.entry.who}, ${last.entry.when}.` : '';
    const left = leftStrips === 0 ? `All ${count} are cut` : `Only ${leftStrips} of ${count} are left to cut`;
    throw conflict(`${left}.${who} Nothing was entered for this length.`, {
      text: `${table.tier.name} as it is now`,
      href: cuttingPath(code, tierId),
    });
  }
  const cut = cutForTier(
    tx,
    table,
    {
      piece: form.piece,
      strips: form.strips.value,
      length: null,
      keep: form.keep_rest,
      leftover_width: null,
      leftover_length: null,
      place_id: null,
      more_than_wanted: false,
      lots_meet: false,
      why: '',
      size: form.size,
    },
    asker,
  );
  return {
    location: benchPath(code, tierId),
    said: cut.said,
    after: sayLeft(tx, piece.state.id, asker.units),
  };
}

const WIDTH = 320;
/** A cut length is drawn no flatter and no taller than this, so that its numbers can be read. */
const HEIGHTS = { least: 36, most: 200 };

/** One cut length of a piece to scale, seen from above: the piece runs downwards, its selvedges to the left and right. */
export function drawCutLength(strip: StripSize, usableWidthTicks: number, strips: number, units: Units) {
  const scale = WIDTH / usableWidthTicks;
  const round = (value: number) => Math.round(value * 100) / 100;
  const place = (columns: number) => round(columns * strip.lengthTicks * scale);
  const restFrom = place(strips);
  const width = showSize(usableWidthTicks, units, 'down');
  const depth = showSize(strip.depthTicks, units, 'up');
  return {
    /** in viewBox units; the width stands for the usable width of the piece */
    width: WIDTH,
    height: round(Math.min(HEIGHTS.most, Math.max(HEIGHTS.least, strip.depthTicks * scale))),
    strips: Array.from({ length: strips }, (_, column) => ({
      x: place(column),
      width: round(place(column + 1) - place(column)),
      number: column + 1,
    })),
    /** the part that is no strip; null where there is none */
    rest: restFrom < WIDTH ? { x: restFrom, width: round(WIDTH - restFrom) } : null,
    said: `A cut length of ${depth} of cloth ${width} wide, slit into ${strips}`,
  };
}
