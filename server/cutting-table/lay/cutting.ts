import { boxArea, type LaidBox, leadTaken, shareLay, stripArea } from '../../../src/cut-plan/lay.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader, Tx } from '../../database/book.ts';
import { tierNamesOf } from '../../garments/tier/view.ts';
import type { Quantity } from '../../kit/fields.ts';
import { layBenchPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf, listed } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { cutLay, type TierOfLay } from '../../ledger/lay.ts';
import { readPiece } from '../../ledger/state.ts';
import type { PieceRef } from '../../ledger/verbs.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { type GarmentAtTable, type LayAtTable, laidOut, readGarmentAtTable } from './held-lays.ts';
import { restsAt } from './view.ts';

export interface LayForm {
  readonly layId: number;
  /** what was really taken off the piece; null for what was planned */
  readonly used: Quantity | null;
  readonly keeps: (rest: LaidBox, byDefault: boolean) => boolean;
  /** of what is kept; null for the place of the piece */
  readonly placeId: number | null;
}

/** One lay that was cut, and what was kept of it. */
export interface DoneLay {
  readonly at: LayAtTable;
  readonly takenTicks: number;
  readonly kept: readonly { readonly ref: PieceRef; readonly box: LaidBox }[];
  /** one sentence that says what was done */
  readonly said: string;
}

/**
 * Cuts one lay of a garment as it stands now: all its entries, what is kept of it, and its mark in the plan.
 *
 * `alongTicks` is what the same request took off the same piece before it.
 */
export function cutOneLay(
  tx: Tx,
  code: string,
  asked: LayForm,
  alongTicks: ReadonlyMap<number, number>,
  asker: Asker,
): DoneLay {
  const { units } = asker;
  const table = readGarmentAtTable(tx, code, units);
  const at = findToCut(tx, table, asked.layId);
  const { lay, piece } = at;
  const takenTicks = asked.used?.value ?? at.leadTicks + lay.lengthTicks;
  const leadTicks = leadTaken(laidOut(lay), at.leadTicks, takenTicks);
  refuseTooShort(at, takenTicks, asked.used, units);
  const rests = restsAt(at, readWorkroom(tx).usefulRemnantTicks, takenTicks)
    .filter(({ box, keep }) => asked.keeps(box, keep))
    .map(({ box }) => box);
  const before = alongTicks.get(piece.id) ?? 0;
  const { tiers, carrier } = shareAmongTiers(at, takenTicks, rests);
  const kept = cutLay(tx, piece.id, {
    tiers,
    carrier,
    rests: rests.map((box) => ({
      lengthTicks: box.toTicks - box.fromTicks,
      widthTicks: box.rightTicks - box.leftTicks,
      alongTicks: before + leadTicks + box.fromTicks,
      acrossTicks: box.leftTicks,
      placeId: asked.placeId ?? readPiece(tx, piece.id).placeId,
    })),
    mayGive: holdersOf(table, piece.id),
    typed: asked.used?.typed ?? '',
  });
  tx.run(tx.db.updateTable('cut_lay').set({ cut_key: tx.requestKey }).where('id', '=', lay.id));
  const done = { at, takenTicks, kept: kept.map((ref, i) => ({ ref, box: rests[i] as LaidBox })) };
  return { ...done, said: sayDone(table, done, units) };
}

/** @throws {Refusal} conflict with the reason and a way on, where the lay cannot be cut as it was shown */
function findToCut(tx: Tx, table: GarmentAtTable, layId: number): LayAtTable {
  const { garment } = table;
  const wayOn = { text: `The lays of ${garment.code} as they are now`, href: layBenchPath(garment.code) };
  if (table.closed !== '') throw conflict(table.closed, wayOn);
  const at = findLay(table, layId);
  if (!at) throw givenUp(tx, layId, wayOn);
  if (at.lay.state === 'cut') {
    const { by, when } = readWhoCut(tx, at.lay.cutKey);
    throw conflict(`Lay ${at.lay.position} was cut already by ${by}, ${when}. Nothing was entered.`, wayOn);
  }
  if (at.fallsOut !== '') {
    throw conflict(`Lay ${at.lay.position} cannot be cut as planned. ${at.fallsOut}`, wayOn);
  }
  return at;
}

function findLay(table: GarmentAtTable, layId: number): LayAtTable | undefined {
  return table.plans.flatMap(({ lays }) => lays).find(({ lay }) => lay.id === layId);
}

function givenUp(reader: Reader, layId: number, wayOn: { text: string; href: string }) {
  const row = reader.first(reader.db.selectFrom('cut_lay').select('position').where('id', '=', layId));
  if (!row) return unknown('such lay');
  return conflict(`The plan of lay ${row.position} is no longer held. Nothing was entered.`, wayOn);
}

/** Who carried out a request, and when. */
export function readWhoCut(reader: Reader, requestKey: string): { by: string; when: string } {
  const row = reader.first(
    reader.db
      .selectFrom('request')
      .innerJoin('person', 'person.id', 'request.person_id')
      .select(['person.name', 'request.at'])
      .where('key', '=', requestKey),
  );
  return { by: row?.name ?? 'somebody', when: row ? showMoment(row.at) : '' };
}

function refuseTooShort(at: LayAtTable, takenTicks: number, used: Quantity | null, units: Units): void {
  const needs = Math.max(...at.lay.slits.map(({ stack, alongTicks }) => stack * alongTicks));
  if (used && takenTicks < needs) {
    throw invalid('length', `The strips of this lay need ${showLength(needs, units, 'up')}.`);
  }
}

/** What the lay takes for each tier: by the area of its strips, so that each bears the same cost per area. */
function shareAmongTiers(at: LayAtTable, takenTicks: number, rests: readonly LaidBox[]) {
  const { lay, piece } = at;
  const tierIds = [...new Set(lay.slits.map(({ tierId }) => tierId))];
  const ofTier = tierIds.map((tierId) => lay.slits.filter((slit) => slit.tierId === tierId));
  const areas = ofTier.map((slits) => slits.reduce((sum, slit) => sum + stripArea(slit), 0n));
  const keptArea = rests.reduce((sum, box) => sum + boxArea(box), 0n);
  const { lengthsTicks, carrier } = shareLay(takenTicks, areas, keptArea, piece.usable_width_ticks);
  const tiers = tierIds.map(
    (tierId, i): TierOfLay => ({
      tierId,
      strips: (ofTier[i] ?? []).reduce((sum, { strips }) => sum + strips, 0),
      lengthTicks: lengthsTicks[i] ?? 0,
      heldTicks: lay.parts.find((part) => part.tierId === tierId)?.lengthTicks ?? 0,
    }),
  );
  return { tiers, carrier };
}

/** Tiers with lays on a piece, those of the last lays first: their holds give way where more was used. */
function holdersOf(table: GarmentAtTable, pieceId: number): number[] {
  const lays = table.plans.flatMap(({ lays: of }) => of.filter(({ lay }) => lay.pieceId === pieceId));
  return [...new Set(lays.toReversed().flatMap(({ lay }) => lay.parts.map(({ tierId }) => tierId)))];
}

function sayDone(table: GarmentAtTable, done: Omit<DoneLay, 'said'>, units: Units): string {
  const { lay, piece } = done.at;
  const nameOf = tierNamesOf(table.garment);
  const strips = lay.parts.map(
    ({ tierId, strips: count }) => `${countOf(count, 'strip', 'strips')} for ${nameOf(tierId)}`,
  );
  const cut = `Lay ${lay.position} cut from ${showLength(done.takenTicks, units, 'near')} of ${piece.code}: ${listed(strips)}`;
  if (done.kept.length === 0) return `${cut}.`;
  const kept = done.kept.map(
    ({ ref, box }) =>
      `${ref.code} (${showSize(box.rightTicks - box.leftTicks, units, 'down')} wide, ${showSize(box.toTicks - box.fromTicks, units, 'down')} long)`,
  );
  return `${cut}; kept: ${listed(kept)}.`;
}
