import type { TierCut } from '../../../src/fit/tier-cuts.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { sayLeftFor } from '../../garments/as-made/measures.ts';
import { type Names, readNames } from '../../garments/garment/names.ts';
import { differences } from '../../garments/versions/differences.ts';
import { readWantedWhenHeld } from '../../garments/versions/held-then.ts';
import { sayChangedSince } from '../../garments/versions/slip.ts';
import { address } from '../../kit/address.ts';
import { cuttingPath, holdPath, planPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { sayTapeStep } from '../../kit/tape.ts';
import { lengthUnit } from '../../kit/units.ts';
import { countOf } from '../../kit/words.ts';
import { pulseAddress } from '../../ledger/pulse.ts';
import { readCloth } from '../../shelf/cloth/store.ts';
import { longest, type PieceRow, selectPieces, shapeShelfPieces } from '../../shelf/piece/list.ts';
import { readNeeded } from '../../short/spare.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readCutsDone } from './cuts-done.ts';
import { sayCutLengths, shapeShadeFigures, shapeTierHead } from './head.ts';
import { sayLotsInUse } from './lots.ts';
import { shapeFreeRows, shapeHeldRows } from './piece-rows.ts';
import { shapeStripsPleated } from './pleating.ts';
import { readSources, type Sources } from './sources.ts';
import { readTierAtTable, sayTier, type TierAtTable } from './table.ts';

/** The most free pieces that are listed under one shade. */
const MOST_FREE = 50;

/** The cut list of a tier. */
export function cutListPage(reader: Reader, code: string, tierId: number, asker: Asker) {
  const table = readTierAtTable(reader, code, tierId);
  const sources = readSources(reader, table);
  const names = namesAtTable(reader, table);
  const pieces = readPieces(reader, table, sources, asker.units);
  const { units } = asker;
  const strange = table.held.filter((row) => !table.shades.some((shade) => shade.held.includes(row)));
  const data = {
    ...shapeTierHead(table),
    pulse: pulseAddress(reader, { garment: table.garment.code }),
    shades: sources.map((source) => shapeShade(reader, table, source, names, pieces, units)),
    /** held for the tier in a cloth or shade that it does not want now */
    strange: strange.flatMap((row) => shapeHeldRows(table, null, row, pieces.byId, units)),
    /** where the tier differs from what is cut and held for it, in sentences */
    differences: table.closed === '' ? sayDifferences(reader, table, names, units) : [],
    /** of all that is held for the tier; null where nothing is */
    releaseAll:
      table.held.length === 0
        ? null
        : { action: `${cuttingPath(code, tierId)}/releases/all`, requestKey: mintKey() },
    canCutNow: table.closed === '' && sources.some(({ plan }) => plan.cuts.length > 0),
    cutsDone: readCutsDone(reader, tierId, asker),
    /** how its cloths let it lie, in sentences */
    ways: sayWays(reader, table, units),
    /** what the stand has left for it, where tiers above were measured; '' where that says nothing of it */
    left: sayLeftFor(reader, table.garment, tierId, units),
    pleating: shapeStripsPleated(reader, table, asker),
    holdHref: holdPath(code, tierId),
    shortHref: address('/short', { garment: code }),
    tapeStep: sayTapeStep(pieces.scaleTicks, units),
    unit: lengthUnit(units),
  };
  return {
    view: 'cutting-table/tier/cut-list',
    data,
    title: sayTier(table),
    room: 'cutting-table',
  } satisfies Page;
}

/** What a cloth that has a way or a pattern asks of whoever cuts. */
function sayWays(reader: Reader, { shades }: TierAtTable, units: Units): string[] {
  const cloths = [...new Set(shades.map(({ clothId }) => clothId))].map((id) => readCloth(reader, id));
  return cloths.flatMap(({ name, oneWay, repeatTicks, halfDrop }) => [
    ...(oneWay ? [`${name} has a way: lay all strips with it, none turned.`] : []),
    ...(repeatTicks === null
      ? []
      : [
          `${name} repeats every ${showSize(repeatTicks, units, 'near')}: each strip takes whole repeats, begins at the same place of the pattern, and is trimmed. Allow a repeat more where a length begins elsewhere.`,
        ]),
    ...(halfDrop
      ? [
          'Half-drop: neighbours begin half a repeat apart. Cut all of one kind first, then the others half a repeat on.',
        ]
      : []),
  ]);
}

export function namesAtTable(reader: Reader, table: TierAtTable): Names {
  const rows = [...table.shades, ...table.cut, ...table.held];
  const clothIds = rows.map(({ clothId }) => clothId);
  const shadeIds = rows.map(({ shadeId }) => shadeId);
  return readNames(reader, [table.tier.clothId, ...clothIds], shadeIds);
}

interface Pieces {
  readonly byId: ReadonlyMap<number, PieceRow>;
  readonly scaleTicks: number;
}

const piecesOf = prepared((db, ids: Param<readonly number[]>) =>
  selectPieces(db).where('piece.id', 'in', inList(ids)),
);

/** All pieces that the page names, their tapes on one scale. */
function readPieces(reader: Reader, table: TierAtTable, sources: readonly Sources[], units: Units): Pieces {
  const ids = new Set([
    ...table.held.map(({ pieceId }) => pieceId),
    ...sources.flatMap(({ free }) => free.slice(0, MOST_FREE).map(({ pieceId }) => pieceId)),
    ...sources.flatMap(({ plan }) => plan.cuts.map(({ pieceId }) => pieceId)),
  ]);
  const rows = ids.size === 0 ? [] : reader.all(piecesOf([...ids]));
  const shaped = shapeShelfPieces(reader, rows, units, readNeeded(reader));
  return { byId: new Map(shaped.map((piece) => [piece.id, piece])), scaleTicks: longest(rows) };
}

/** The part of a cut list for one shade. */
export type ShadeList = ReturnType<typeof shapeShade>;

function shapeShade(
  reader: Reader,
  table: TierAtTable,
  source: Sources,
  names: Names,
  pieces: Pieces,
  units: Units,
) {
  const { shade, share, free, plan } = source;
  const listed = free.slice(0, MOST_FREE);
  const shelf = address('/shelf', { cloth: shade.clothId, shade: shade.shadeId });
  return {
    ...shapeShadeFigures(shade, names, units),
    /** "8 strips in 8 cut lengths of 33 cm, 1 strip a length: 2.64 m", at the cloth's own width; '' where all are cut */
    toCut:
      shade.leftStrips === 0
        ? ''
        : sayCutLengths(shade, usableWidth(reader, shade.clothId), shade.leftStrips, units),
    /** lots in use already, as a sentence; '' where none is or lots may mix */
    inUse: shade.lots === 'any' || shade.inUse.length === 0 ? '' : sayLotsInUse(shade.inUse, units),
    held: shade.held.flatMap((row) => shapeHeldRows(table, shade, row, pieces.byId, units)),
    free: listed.flatMap((row) => shapeFreeRows(table, source, row, pieces.byId, units)),
    /** what is held gives every strip that is left, so that nothing more need be held */
    heldCoversAll: shade.leftStrips > 0 && source.missingStrips === 0,
    /** free pieces beyond those listed, and where to see them */
    more: free.length > listed.length ? { count: free.length - listed.length, href: shelf } : null,
    /** free pieces that give no strip, as a sentence; '' where there are none */
    tooSmall: sayTooSmall(source, units),
    /** what garments that are due before this one are counted to take of what is free; '' for nothing */
    taken: share && share.takenTicks > 0 ? showLength(share.takenTicks, units, 'down') : '',
    /** from which pieces the strips that are left come, for paper */
    sheet: shapeSheet(plan.cuts, shade.cutStrips, pieces.byId, units),
    /** strips that are left and for which there is no cloth */
    missingStrips: plan.missingStrips,
    /** strips that the lays of a held plan have still to give, and where that plan is */
    plannedStrips: source.plannedStrips,
    planHref: planPath(table.garment.code),
  };
}

const widthOf = prepared((db, clothId: Param<number>) =>
  db.selectFrom('cloth').select('usable_width_ticks').where('id', '=', clothId),
);

function usableWidth(reader: Reader, clothId: number): number {
  const cloth = reader.first(widthOf(clothId));
  return cloth?.usable_width_ticks ?? 1;
}

function sayTooSmall({ tooSmall, shade }: Sources, units: Units): string {
  if (tooSmall.length === 0 || shade.leftStrips === 0) return '';
  const inAll = tooSmall.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
  const pieces = countOf(tooSmall.length, 'free piece gives', 'free pieces give');
  return `${pieces} no strip, being too short or too narrow: ${showLength(inAll, units, 'down')} in all.`;
}

function sayDifferences(reader: Reader, table: TierAtTable, names: Names, units: Units): string[] {
  const nameOf = (clothId: number, shadeId: number) => `${names.cloth(clothId)}, ${names.shade(shadeId)}`;
  const { garment, tier } = table;
  const whenHeld = readWantedWhenHeld(reader, garment, [tier.id]);
  return [
    ...sayChangedSince(reader, garment, tier.id, names, units),
    ...differences(table.shades, table.cut, table.held, nameOf, units, whenHeld),
  ];
}

const STRIPS_A_GROUP = 5;

/** The planned cuts of a shade of which `cutStrips` are cut already. */
export function shapeSheet(
  cuts: readonly TierCut[],
  cutStrips: number,
  pieces: ReadonlyMap<number, PieceRow>,
  units: Units,
) {
  let counted = cutStrips;
  return cuts.flatMap((cut) => {
    const piece = pieces.get(cut.pieceId);
    if (!piece) return [];
    const from = counted;
    counted += cut.strips;
    return [
      {
        code: piece.code,
        place: piece.place,
        lot: piece.lot.code,
        from: cut.from,
        strips: cut.strips,
        cutLengths: cut.cutLengths,
        columns: cut.columns,
        length: showLength(cut.lengthTicks, units, 'up'),
        /** boxes in groups: a cut length each where it gives several strips, else five strips each */
        groups: groupsOf(from, cut.strips, cut.columns > 1 ? cut.columns : STRIPS_A_GROUP),
      },
    ];
  });
}

/** Strips are numbered through a shade, so that a sheet can be talked about and agrees with the bench. */
function groupsOf(before: number, strips: number, size: number) {
  const groups = Math.floor((strips + size - 1) / size);
  return Array.from({ length: groups }, (_, place) => ({
    from: before + place * size + 1,
    to: before + Math.min(strips, (place + 1) * size),
  }));
}
