import type { LayOfPiece } from '../../../src/cut-plan/folds.ts';
import { stripsToCut, takeStrips } from '../../../src/cut-plan/held-lays.ts';
import {
  type LaidBox,
  type LaidOut,
  type LaidStrips,
  restsToKeep,
  startOfLay,
} from '../../../src/cut-plan/lay.ts';
import { flawsSeenFrom } from '../../../src/cut-plan/stock.ts';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { readHeldPlans, type StoredLay, type StoredPlan, type StoredSlit } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { readCutStrips } from '../../garments/garment/done.ts';
import { type Garment, readGarment } from '../../garments/garment/records.ts';
import { stripRowsOf, wantedOfParts } from '../../garments/garment/strip-rows.ts';
import { readShapedRows, workGarment } from '../../garments/garment/worked.ts';
import { tierNamesOf, wantedNow } from '../../garments/tier/view.ts';
import { showMoment } from '../../kit/when.ts';
import { wordFor } from '../../kit/words.ts';
import { readTakenTicks } from '../../shelf/piece/flaw-places.ts';
import { type PieceFlaw, readFlaws } from '../../shelf/piece/flaws.ts';
import { type PieceRecord, selectPieces } from '../../shelf/piece/list.ts';
import { readTableWays, type TableWays } from './table-ways.ts';

/** The lays that are held for a garment, as they come to the table. */
export interface GarmentAtTable {
  readonly garment: Garment;
  /** why nothing can be cut for it now, in a sentence; '' where it can */
  readonly closed: string;
  readonly plans: readonly PlanAtTable[];
}

export interface PlanAtTable {
  readonly plan: StoredPlan;
  readonly table: TableWays;
  /** in the order of cutting */
  readonly lays: readonly LayAtTable[];
}

export interface LayAtTable {
  readonly lay: StoredLay;
  readonly piece: PieceRecord;
  /** what lies between the free end and the lay when its turn comes; it is cut off with it. In ticks */
  readonly leadTicks: number;
  /** flaws of the piece from the edge where the lay begins */
  readonly flaws: readonly PieceFlaw[];
  /** why it cannot be cut as planned, in a sentence; '' where it can, or is cut */
  readonly fallsOut: string;
  /** whether shapes are cut out of its strips */
  readonly isShaped: boolean;
}

/** A lay in the words of `src/cut-plan/lay.ts`. */
export function laidOut(lay: StoredLay): LaidOut<StoredSlit> {
  return { heightTicks: lay.lengthTicks, runs: lay.slits };
}

/** A lay as it comes off its piece; cloth beside its strips that is long enough to be useful is kept whole. */
export function layOfPiece({ lay, piece, leadTicks, isShaped }: LayAtTable, usefulTicks: number): LayOfPiece {
  const widthTicks = piece.usable_width_ticks;
  return {
    ...laidOut(lay),
    widthTicks,
    leadTicks,
    isShaped,
    keepsSpare: keepsSpare(laidOut(lay), widthTicks, usefulTicks),
  };
}

/** Whether the cloth beside the columns of a lay is kept unless somebody says otherwise. */
export function keepsSpare(
  lay: LaidOut<LaidStrips & { readonly depthTicks: number }>,
  widthTicks: number,
  usefulTicks: number,
): boolean {
  const rests = restsToKeep(lay, { widthTicks, leadTicks: 0, usefulTicks });
  return rests.some(({ box, keep }) => keep && box.rightTicks === widthTicks);
}

export function isToCut({ lay, fallsOut }: LayAtTable): boolean {
  return lay.state !== 'cut' && fallsOut === '';
}

/** @throws {Refusal} unknown, where there is no such garment */
export function readGarmentAtTable(reader: Reader, code: string, units: Units): GarmentAtTable {
  const garment = readGarment(reader, code);
  const plans = readHeldPlans(reader, [garment.id]);
  const pieceIds = [...new Set(plans.flatMap(({ lays }) => lays.map(({ pieceId }) => pieceId)))];
  const pieces = readPiecesAtTable(reader, plans, pieceIds);
  const wanted = readWanted(reader, code);
  const cut = readCutStrips(
    reader,
    stripRowsOf(garment).map(({ id }) => id),
  );
  const shaped = readShapedRows(reader, garment);
  const ways = readTableWays(
    reader,
    plans.map(({ clothId }) => clothId),
  );
  return {
    garment,
    closed:
      garment.finishedAt === null
        ? ''
        : `${garment.code} was finished ${showMoment(garment.finishedAt)}: reopen it before anything is cut for it.`,
    plans: plans.map((plan) => {
      const isOfPlan = (of: { readonly clothId: number; readonly shadeId: number }) =>
        of.clothId === plan.clothId && of.shadeId === plan.shadeId;
      const strips = {
        nameOf: tierNamesOf(garment),
        wanted: new Set(wanted.map(wantedKey)),
        left: stripsToCut(wanted.filter(isOfPlan), cut.filter(isOfPlan)),
      };
      return {
        plan,
        table: ways(plan.clothId),
        lays: plan.lays.map((lay) => ({
          ...layAtTable(plan, lay, pieces, strips, units),
          isShaped: lay.slits.some(({ tierId }) => shaped.has(tierId)),
        })),
      };
    }),
  };
}

/** A piece with how far its lays have been laid out. */
interface PieceAtTable {
  readonly record: PieceRecord;
  readonly flaws: readonly PieceFlaw[];
  readonly takenTicks: number;
  /** what is free of it, or held for tiers that have lays on it */
  readonly lengthTicks: number;
  /** where the next lay may begin */
  nextTicks: number;
}

const recordsOf = prepared((db, pieceIds: Param<readonly number[]>) =>
  selectPieces(db).where('piece.id', 'in', inList(pieceIds)),
);
const holdsOn = prepared((db, pieceIds: Param<readonly number[]>) =>
  db.selectFrom('hold').selectAll().where('piece_id', 'in', inList(pieceIds)),
);

function readPiecesAtTable(
  reader: Reader,
  plans: readonly StoredPlan[],
  pieceIds: readonly number[],
): Map<number, PieceAtTable> {
  if (pieceIds.length === 0) return new Map();
  const tiers = new Set(
    plans.flatMap(({ lays }) =>
      lays.flatMap(({ pieceId, parts }) => parts.map(({ tierId }) => `${pieceId} ${tierId}`)),
    ),
  );
  const flaws = readFlaws(reader, pieceIds);
  const taken = readTakenTicks(reader, pieceIds);
  const holds = reader.all(holdsOn([...pieceIds]));
  const records = reader.all(recordsOf([...pieceIds]));
  return new Map(
    records.map((record) => {
      const others = holds
        .filter(({ piece_id: id, tier_id: tierId }) => id === record.id && !tiers.has(`${id} ${tierId}`))
        .reduce((sum, { held_ticks: ticks }) => sum + ticks, 0);
      return [
        record.id,
        {
          record,
          flaws: flaws.get(record.id) ?? [],
          takenTicks: taken.get(record.id) ?? 0,
          lengthTicks: record.on_hand_ticks - others,
          nextTicks: 0,
        },
      ];
    }),
  );
}

/** The strips that tiers and parts want now: for which, cloth, shade and size of each. */
function readWanted(reader: Reader, code: string) {
  const worked = workGarment(reader, code);
  return [...worked.tiers.flatMap(wantedNow), ...wantedOfParts(worked)];
}

/** The strips of a plan's cloth and shade: the sizes wanted, and how many of each tier no lay has yet. */
interface StripsAtTable {
  readonly wanted: ReadonlySet<string>;
  readonly left: Map<number, number>;
  nameOf(tierId: number): string;
}

type Wanted = Pick<
  ReturnType<typeof wantedNow>[number],
  'tierId' | 'clothId' | 'shadeId' | 'depthTicks' | 'lengthTicks'
>;

function wantedKey({ tierId, clothId, shadeId, depthTicks, lengthTicks }: Wanted): string {
  return [tierId, clothId, shadeId, depthTicks, lengthTicks].join(' ');
}

function layAtTable(
  plan: StoredPlan,
  lay: StoredLay,
  pieces: ReadonlyMap<number, PieceAtTable>,
  strips: StripsAtTable,
  units: Units,
): Omit<LayAtTable, 'isShaped'> {
  const piece = pieces.get(lay.pieceId);
  if (!piece) throw new Error('a lay lies on a piece');
  const { record } = piece;
  if (lay.state === 'cut') return { lay, piece: record, leadTicks: 0, flaws: [], fallsOut: '' };
  const out = (fallsOut: string) => ({ lay, piece: record, leadTicks: 0, flaws: [], fallsOut });
  const { clothId, shadeId } = plan;
  if (lay.slits.some((slit) => !strips.wanted.has(wantedKey({ ...slit, clothId, shadeId })))) {
    return out('A tier was changed since: it wants strips of another size.');
  }
  if (lay.state === 'out') return out(`What it was to be cut from is no longer held on ${record.code}.`);
  const rest = {
    widthTicks: record.usable_width_ticks,
    lengthTicks: piece.lengthTicks - piece.nextTicks,
    flaws: flawsSeenFrom(piece.flaws, piece.nextTicks),
  };
  const planned = lay.fromTicks - piece.takenTicks - piece.nextTicks;
  const start = startOfLay(laidOut(lay), { ...rest, flaws: asPlanned(rest, planned, plan.at) }, planned);
  if (start === null) return out(sayWhy(lay, record, rest, units));
  if (!takeStrips(strips.left, lay.parts)) {
    return out(sayTooMany(lay, strips));
  }
  piece.nextTicks += start + lay.lengthTicks;
  return { lay, piece: record, leadTicks: start, flaws: flawsSeenFrom(rest.flaws, start), fallsOut: '' };
}

/** A lay that was planned behind a flaw stays behind it, also where its strips would lie beside the flaw. */
function asPlanned(
  { flaws, widthTicks }: { readonly flaws: readonly PieceFlaw[]; readonly widthTicks: number },
  plannedTicks: number,
  heldAt: string,
): PieceFlaw[] {
  return flaws.map((flaw) =>
    flaw.at < heldAt && flaw.toTicks <= plannedTicks
      ? { ...flaw, leftTicks: 0, rightTicks: widthTicks }
      : flaw,
  );
}

/** "Strips were cut since, or fewer are wanted: 1 of Tier 2 is left to cut, and it gives 3." */
function sayTooMany({ parts }: StoredLay, { left, nameOf }: StripsAtTable): string {
  const said = parts.flatMap(({ tierId, strips }) => {
    const toCut = Math.max(0, left.get(tierId) ?? 0);
    return strips > toCut
      ? [`${toCut} of ${nameOf(tierId)} ${wordFor(toCut, 'is', 'are')} left to cut, and it gives ${strips}`]
      : [];
  });
  return `Strips were cut since, or fewer are wanted: ${said.join('; ')}.`;
}

function sayWhy(
  lay: StoredLay,
  piece: PieceRecord,
  rest: { readonly widthTicks: number; readonly lengthTicks: number },
  units: Units,
): string {
  const right = Math.max(...lay.slits.map((slit) => slit.leftTicks + slit.columns * slit.acrossTicks));
  if (right > rest.widthTicks) {
    return `It needs ${showSize(right, units, 'up')} across, and ${piece.code} is ${showSize(rest.widthTicks, units, 'down')} wide in use.`;
  }
  if (lay.lengthTicks > rest.lengthTicks) {
    return `It needs ${showLength(lay.lengthTicks, units, 'up')}, and ${showLength(Math.max(0, rest.lengthTicks), units, 'down')} of ${piece.code} is left for it.`;
  }
  return `A flaw of ${piece.code} is in its way.`;
}

/** Where a rest of a lay lies on its piece, as a key that a form can name it by. */
export function restKey({ fromTicks, leftTicks }: LaidBox): string {
  return `${fromTicks}.${leftTicks}`;
}
