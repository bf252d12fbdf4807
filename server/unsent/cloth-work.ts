import { cutInLengths } from '../../src/fit/cut-length.ts';
import { cutAtBench, layBenchForm } from '../cutting-table/lay/bench.ts';
import { isToCut, readGarmentAtTable } from '../cutting-table/lay/held-lays.ts';
import { cutLayByForm, layForm } from '../cutting-table/lay/page.ts';
import { benchForm, cutOneLength } from '../cutting-table/tier/bench.ts';
import { cutByForm, cutForm } from '../cutting-table/tier/cut-form.ts';
import { cutForTier } from '../cutting-table/tier/cutting.ts';
import { holdForm, holdForTier } from '../cutting-table/tier/holding.ts';
import { readOpenTier } from '../cutting-table/tier/piece.ts';
import { readTierAtTable } from '../cutting-table/tier/table.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { placeChoices } from '../kit/choices.ts';
import type { Quantity } from '../kit/fields.ts';
import { benchPath, cuttingPath, layBenchPath, piecePath } from '../kit/paths.ts';
import { readPiece } from '../ledger/state.ts';
import { invalid } from '../refusal.ts';
import { findPiece, readPieceId } from '../shelf/piece/facts.ts';
import { pieceForms, writeOffFromForm } from '../shelf/piece/forms.ts';
import { cutHeld, cutOrHold, heldUseForm, otherUseForm } from '../shelf/piece/other-use-form.ts';
import { readOpenTiers, tierHoldForm } from '../take/hold.ts';
import type { Asker } from '../web/house.ts';
import { readForm } from '../web/post.ts';
import { ifReadable, type SentWork } from './sent.ts';

/** Cloth that was taken, or was to be: what a person can say of it when it could not be entered. */
export interface ClothWork {
  /** whether the cloth was cut by it, or is only promised or written off */
  readonly kind: 'cut' | 'held' | 'written off';
  /** the piece that it was to come off, and how much of it; null where the form did not say how much */
  readonly from: readonly { readonly pieceId: number; readonly lengthTicks: number | null }[];
  /** strips for tiers, none for other uses */
  readonly tiers: readonly { readonly code: string; readonly tierId: number; readonly strips: number }[];
  /** its page */
  readonly location: string;
  /** Whether it can be entered as it was sent, as far as that is known before it is tried. */
  readonly standsAsSent: (reader: Reader) => boolean;
  /** Enters it as it was sent. */
  again(tx: Tx): Answer;
  /** Enters it of another piece; null where it can be of no other. */
  readonly fromOther: ((tx: Tx, other: OtherPiece) => string) | null;
}

export interface OtherPiece {
  readonly piece: string;
  /** null for what it needs, or what was sent */
  readonly length: Quantity | null;
  readonly moreThanWanted: boolean;
  readonly lotsMeet: boolean;
}

type Reads = (reader: Reader, path: readonly string[], sent: SentWork, asker: Asker) => ClothWork;

/** The forms by where they are sent: each path with what reads it. */
const FORMS: readonly (readonly [RegExp, Reads])[] = [
  [/^\/cutting-table\/([^/]+)\/bench$/, laysAtBench],
  [/^\/cutting-table\/([^/]+)\/lays\/(\d+)$/, oneLay],
  [/^\/cutting-table\/([^/]+)\/(\d+)\/bench$/, lengthAtBench],
  [/^\/cutting-table\/([^/]+)\/(\d+)\/cuts$/, stripsByForm],
  [/^\/cutting-table\/([^/]+)\/(\d+)\/holds$/, holdOfTier],
  [/^\/shelf\/pieces\/([^/]+)\/write-offs$/, writeOff],
  [/^\/shelf\/pieces\/([^/]+)\/uses$/, otherUse],
  [/^\/shelf\/pieces\/([^/]+)\/uses\/(\d+)\/cuts$/, heldUse],
  [/^\/take\/holds$/, holdTaken],
];

/** What was sent, where it was of cloth and can be read; null for anything else. */
export function readClothWork(reader: Reader, sent: SentWork, asker: Asker): ClothWork | null {
  for (const [pattern, read] of FORMS) {
    const found = pattern.exec(sent.path);
    if (found) return ifReadable(() => read(reader, found.slice(1).map(decodeURIComponent), sent, asker));
  }
  return null;
}

function laysAtBench(reader: Reader, [code = '']: readonly string[], { body }: SentWork, asker: Asker) {
  const form = readForm(layBenchForm(), body);
  return {
    ...ofLays(reader, code, form.lays.split(' ').map(Number), null, asker),
    again: (tx: Tx) => cutAtBench(tx, code, form, asker),
  };
}

function oneLay(reader: Reader, [code = '', id = '']: readonly string[], { body }: SentWork, asker: Asker) {
  const form = readForm(layForm(asker.units, placeChoices(reader)), body);
  return {
    ...ofLays(reader, code, [Number(id)], form.length.value, asker),
    again: (tx: Tx) => cutLayByForm(tx, code, Number(id), form, asker),
  };
}

/** Lays as they were held, whether their plan still is. */
function ofLays(
  reader: Reader,
  code: string,
  layIds: readonly number[],
  usedTicks: number | null,
  asker: Asker,
) {
  const { db } = reader;
  const lays = reader.all(db.selectFrom('cut_lay').selectAll().where('id', 'in', layIds).orderBy('position'));
  const parts = reader.all(db.selectFrom('cut_lay_tier').selectAll().where('lay_id', 'in', layIds));
  const pieceIds = [...new Set(lays.map((lay) => lay.piece_id))];
  const tiers = [...new Set(parts.map((part) => part.tier_id))].map((tierId) => ({
    code,
    tierId,
    strips: parts.reduce((sum, part) => sum + (part.tier_id === tierId ? part.strips : 0), 0),
  }));
  const work = {
    standsAsSent: (now: Reader) => areToCut(now, code, layIds, asker),
    kind: 'cut',
    from: pieceIds.map((pieceId) => ({
      pieceId,
      lengthTicks:
        usedTicks ?? lays.reduce((sum, lay) => sum + (lay.piece_id === pieceId ? lay.length_ticks : 0), 0),
    })),
    tiers,
    location: layBenchPath(code),
  } as const;
  return { ...work, fromOther: (tx: Tx, other: OtherPiece) => cutStrips(tx, tiers, other, asker) };
}

/** Whether lays are held still, and can be cut as they were planned. */
function areToCut(reader: Reader, code: string, layIds: readonly number[], { units }: Asker): boolean {
  const { plans } = readGarmentAtTable(reader, code, units);
  const toCut = new Set(plans.flatMap(({ lays }) => lays.filter(isToCut).map(({ lay }) => lay.id)));
  return layIds.every((id) => toCut.has(id));
}

function lengthAtBench(reader: Reader, path: readonly string[], { body }: SentWork, asker: Asker) {
  const { code, tierId } = tierIn(path);
  const form = readForm(benchForm(), body);
  return {
    ...ofTier(reader, { code, tierId, strips: form.strips.value }, form.piece, null, asker),
    location: benchPath(code, tierId),
    standsAsSent: () => true,
    again: (tx: Tx) => cutOneLength(tx, code, tierId, form, asker),
  };
}

function stripsByForm(reader: Reader, path: readonly string[], { body }: SentWork, asker: Asker) {
  const { code, tierId } = tierIn(path);
  const form = readForm(cutForm(asker.units, placeChoices(reader)), body);
  return {
    ...ofTier(
      reader,
      { code, tierId, strips: form.strips.value },
      form.piece,
      form.length?.value ?? null,
      asker,
    ),
    standsAsSent: () => true,
    again: (tx: Tx) => cutByForm(tx, code, tierId, form, asker),
  };
}

function ofTier(
  reader: Reader,
  tier: { readonly code: string; readonly tierId: number; readonly strips: number },
  piece: string,
  takenTicks: number | null,
  asker: Asker,
) {
  const pieceId = idOf(reader, piece);
  const tiers = [tier];
  return {
    kind: 'cut',
    from: [{ pieceId, lengthTicks: takenTicks ?? needsOf(reader, tier, pieceId) }],
    tiers,
    location: cuttingPath(tier.code, tier.tierId),
    fromOther: (tx: Tx, other: OtherPiece) => cutStrips(tx, tiers, other, asker),
  } as const;
}

/** What so many strips need of a piece; null where they do not fit across it. */
function needsOf(
  reader: Reader,
  { code, tierId, strips }: { readonly code: string; readonly tierId: number; readonly strips: number },
  pieceId: number,
): number | null {
  const piece = readPiece(reader, pieceId);
  const { shades } = readTierAtTable(reader, code, tierId);
  const lot = reader.first(
    reader.db.selectFrom('lot').select(['cloth_id', 'shade_id']).where('id', '=', piece.lotId),
  );
  const shade = shades.find(({ clothId, shadeId }) => clothId === lot?.cloth_id && shadeId === lot?.shade_id);
  return (shade && cutInLengths(shade, piece.usableWidthTicks, strips)?.lengthTicks) ?? null;
}

/** Cuts the strips of each tier from one piece, as long as each needs; a length that was measured is of one tier. */
function cutStrips(tx: Tx, tiers: ClothWork['tiers'], other: OtherPiece, asker: Asker): string {
  if (other.length && tiers.length > 1)
    throw invalid(
      'length',
      'These strips are of several tiers: leave it blank, and each takes what it needs.',
    );
  const said = tiers.map(({ code, tierId, strips }) => {
    const table = readOpenTier(tx, code, tierId);
    return cutForTier(
      tx,
      table,
      {
        piece: other.piece,
        strips,
        length: other.length,
        keep: false,
        leftover_width: null,
        leftover_length: null,
        place_id: null,
        more_than_wanted: other.moreThanWanted,
        lots_meet: other.lotsMeet,
        why: '',
        size: '',
      },
      asker,
    ).said;
  });
  return said.join(' ');
}

function holdOfTier(reader: Reader, path: readonly string[], { body }: SentWork, asker: Asker) {
  return holdFor(reader, tierIn(path), readForm(holdForm(asker.units), body), asker);
}

type HoldAsked = Parameters<typeof holdForTier>[3];

function holdFor(
  reader: Reader,
  { code, tierId }: { readonly code: string; readonly tierId: number },
  form: HoldAsked,
  asker: Asker,
) {
  return {
    kind: 'held',
    from: [{ pieceId: idOf(reader, form.piece), lengthTicks: form.length.value }],
    tiers: [{ code, tierId, strips: 0 }],
    location: cuttingPath(code, tierId),
    standsAsSent: () => true,
    again: (tx: Tx) => holdForTier(tx, code, tierId, form, asker),
    fromOther: (tx: Tx, { piece, length, lotsMeet }: OtherPiece) =>
      holdForTier(tx, code, tierId, { piece, length: length ?? form.length, lots_meet: lotsMeet }, asker)
        .said,
  } as const;
}

function writeOff(reader: Reader, [code = '']: readonly string[], { body }: SentWork, asker: Asker) {
  const form = readForm(pieceForms(asker, placeChoices(reader))['write-off'], body);
  const pieceId = readPieceId(reader, code);
  return {
    kind: 'written off',
    from: [{ pieceId, lengthTicks: form.length?.value ?? null }],
    tiers: [],
    location: piecePath(code),
    standsAsSent: () => true,
    again: (tx: Tx) => writeOffFromForm(tx, pieceId, form, asker),
    fromOther: (tx: Tx, { piece, length }: OtherPiece) => {
      const of = length ? { ...form, length, all: false } : form;
      return writeOffFromForm(tx, idOf(tx, piece), of, asker).said;
    },
  } as const;
}

function otherUse(reader: Reader, [code = '']: readonly string[], { body }: SentWork, asker: Asker) {
  const form = readForm(otherUseForm(reader, asker), body);
  const pieceId = readPieceId(reader, code);
  return {
    kind: form.doing === 'cut' ? 'cut' : 'held',
    from: [{ pieceId, lengthTicks: form.length?.value ?? null }],
    tiers: [],
    location: piecePath(code),
    standsAsSent: () => true,
    again: (tx: Tx) => cutOrHold(tx, pieceId, form, asker),
    fromOther: (tx: Tx, { piece, length }: OtherPiece) => {
      const of = length ? { ...form, length, all: false } : form;
      return cutOrHold(tx, idOf(tx, piece), of, asker).said;
    },
  } as const;
}

function heldUse(reader: Reader, [code = '', id = '']: readonly string[], { body }: SentWork, asker: Asker) {
  const form = readForm(heldUseForm(asker), body);
  const pieceId = readPieceId(reader, code);
  return {
    kind: 'cut',
    from: [{ pieceId, lengthTicks: form.length?.value ?? null }],
    tiers: [],
    location: piecePath(code),
    standsAsSent: () => true,
    again: (tx: Tx) => cutHeld(tx, pieceId, Number(id), form, asker),
    // What is held of a piece is cut from it.
    fromOther: null,
  } as const;
}

function holdTaken(reader: Reader, _: readonly string[], { body }: SentWork, asker: Asker) {
  const { tier, ...form } = readForm(tierHoldForm(reader, asker.units), body);
  const code = readOpenTiers(reader).find(({ tierId }) => tierId === tier)?.garmentCode ?? '';
  return holdFor(reader, { code, tierId: tier }, { ...form, lots_meet: false }, asker);
}

function tierIn([code = '', tierId = '']: readonly string[]) {
  return { code, tierId: Number(tierId) };
}

function idOf(reader: Reader, code: string): number {
  const found = findPiece(reader, code);
  if (!found) throw invalid('piece', `There is no piece ${code}: check the code.`);
  return found.id;
}
