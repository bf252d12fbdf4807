import { expect } from 'vitest';
import type { PlanJob, PlanPiece } from '../../../src/cut-plan/job.ts';
import type { Cutting, Lay } from '../../../src/cut-plan/plan.ts';

/** A rectangle of cloth, in ticks from the free end and the left edge of its piece. */
interface Cloth {
  readonly from: number;
  readonly to: number;
  readonly left: number;
  readonly right: number;
}

/**
 * Cuts a plan out of its pieces, straight cut by straight cut, and fails where it cannot be done or does not add up.
 *
 * Written from the rules of cutting alone: each cut goes right through the cloth that it is made in. It shares no
 * arithmetic with the planner.
 */
export function replay(job: PlanJob, plan: Cutting): void {
  const made = new Map(job.kinds.map(({ kindId }) => [kindId, 0]));
  const lotsOf = new Map<number, Set<number>>();
  let [used, charged, area] = [0, 0, 0];
  for (const piece of job.pieces)
    for (let copy = 0; copy < piece.count; copy += 1) {
      const lays = plan.lays.filter((lay) => lay.pieceId === piece.pieceId && lay.copy === copy);
      const uses = plan.pieces.filter((use) => use.pieceId === piece.pieceId && use.copy === copy);
      expect(uses.length).toBe(lays.length > 0 ? 1 : 0);
      if (lays.length === 0) continue;
      const cut = cutPiece(job, piece, lays, made);
      expect(uses[0]).toMatchObject({ usedTicks: cut.used, chargedTicks: cut.charged, lotId: piece.lotId });
      used += cut.used;
      charged += cut.charged;
      area += cut.charged * piece.widthTicks;
      for (const lay of lays)
        for (const { kindId } of lay.columns) {
          const group = job.kinds.find((kind) => kind.kindId === kindId)?.group ?? -1;
          lotsOf.set(group, (lotsOf.get(group) ?? new Set()).add(piece.lotId));
        }
    }
  expect(plan).toMatchObject({ usedTicks: used, chargedTicks: charged, chargedArea: area });
  let missing = 0;
  job.kinds.forEach(({ kindId, count }, i) => {
    const strips = made.get(kindId) ?? 0;
    expect(plan.made[i]).toBe(strips);
    expect(plan.missing[i]).toBe(count - strips);
    expect(strips).toBeLessThanOrEqual(count);
    missing += count - strips;
  });
  expect(plan.missingStrips).toBe(missing);
  for (const [group, lots] of lotsOf) holdLots(job, group, [...lots]);
}

function cutPiece(job: PlanJob, piece: PlanPiece, lays: readonly Lay[], made: Map<number, number>) {
  let rest: Cloth = { from: 0, to: piece.lengthTicks, left: 0, right: piece.widthTicks };
  let strips = 0;
  let waste = 0;
  for (const lay of lays) {
    expect(lay.fromTicks).toBeGreaterThanOrEqual(rest.from);
    const [gap, fresh] = cutAcross(rest, lay.fromTicks);
    const [cutLength, left] = cutAcross(fresh, lay.fromTicks + lay.heightTicks);
    rest = left;
    waste += areaOf(gap);
    const got = cutLay(job, piece, lay, cutLength, made);
    strips += got.strips;
    waste += got.waste;
  }
  const used = rest.from;
  const end = rest.to - rest.from;
  const isUseful = piece.buying === undefined && end >= job.usefulTicks;
  const bought = piece.buying ? boughtFor(piece, used) : 0;
  const charged = piece.buying ? bought : isUseful ? used : piece.lengthTicks;
  const remnant = (piece.lengthTicks - charged) * piece.widthTicks;
  waste += (charged - used) * piece.widthTicks;
  // Nothing is lost and nothing is made of nothing: strips, remnant and waste are the piece.
  expect(strips + waste + remnant).toBe(piece.lengthTicks * piece.widthTicks);
  expect(waste).toBeGreaterThanOrEqual(0);
  return { used, charged };
}

/** A straight cut over the full width. */
function cutAcross(cloth: Cloth, at: number): [Cloth, Cloth] {
  expect(at).toBeGreaterThanOrEqual(cloth.from);
  expect(at).toBeLessThanOrEqual(cloth.to);
  return [
    { ...cloth, to: at },
    { ...cloth, from: at },
  ];
}

/** A straight cut over the full length. */
function slit(cloth: Cloth, at: number): [Cloth, Cloth] {
  expect(at).toBeGreaterThanOrEqual(cloth.left);
  expect(at).toBeLessThanOrEqual(cloth.right);
  return [
    { ...cloth, right: at },
    { ...cloth, left: at },
  ];
}

function cutLay(job: PlanJob, piece: PlanPiece, lay: Lay, cutLength: Cloth, made: Map<number, number>) {
  let rest = cutLength;
  let [strips, waste] = [0, 0];
  for (const columns of [...lay.columns].sort((a, b) => a.leftTicks - b.leftTicks)) {
    const kind = job.kinds.find(({ kindId }) => kindId === columns.kindId);
    if (!kind) throw new Error('strips of no kind');
    let wanted = columns.strips;
    const [gap, fresh] = slit(rest, columns.leftTicks);
    rest = fresh;
    waste += areaOf(gap);
    for (let n = 0; n < columns.columns; n += 1) {
      let column: Cloth;
      [column, rest] = slit(rest, columns.leftTicks + (n + 1) * columns.acrossTicks);
      for (let row = 0; row < columns.stack && wanted > 0; row += 1) {
        let strip: Cloth;
        [strip, column] = cutAcross(column, lay.fromTicks + (row + 1) * columns.alongTicks);
        holdStrip(piece, kind, columns.turned, strip);
        made.set(kind.kindId, (made.get(kind.kindId) ?? 0) + 1);
        strips += areaOf(strip);
        wanted -= 1;
      }
      waste += areaOf(column);
    }
    expect(wanted).toBe(0);
  }
  return { strips, waste: waste + areaOf(rest) };
}

function holdStrip(piece: PlanPiece, kind: PlanJob['kinds'][number], turned: boolean, strip: Cloth): void {
  const [along, across] = [strip.to - strip.from, strip.right - strip.left];
  expect([along, across]).toEqual(
    turned ? [kind.lengthTicks, kind.depthTicks] : [kind.depthTicks, kind.lengthTicks],
  );
  if (kind.direction !== 'either') expect(turned).toBe(kind.direction === 'along');
  for (const flaw of piece.flaws) {
    const clear =
      strip.to <= flaw.fromTicks ||
      strip.from >= flaw.toTicks ||
      strip.right <= flaw.leftTicks ||
      strip.left >= flaw.rightTicks;
    expect(clear).toBe(true);
  }
}

function holdLots(job: PlanJob, group: number, lots: readonly number[]): void {
  const rule = job.kinds.find((kind) => kind.group === group)?.lots;
  if (rule === 'one') expect(lots).toHaveLength(1);
  if (rule === 'meet')
    for (const a of lots)
      for (const b of lots)
        if (a !== b) expect(job.meets.some((pair) => pair.includes(a) && pair.includes(b))).toBe(true);
}

/** Whole steps, never less than the least cut, never more than there is. */
function boughtFor(piece: PlanPiece, used: number): number {
  const { stepTicks, leastTicks } = piece.buying ?? { stepTicks: 1, leastTicks: 0 };
  let bought = 0;
  while (bought < used || bought < leastTicks) bought += 1;
  while (bought % stepTicks !== 0) bought += 1;
  return Math.min(bought, piece.lengthTicks);
}

function areaOf({ from, to, left, right }: Cloth): number {
  return (to - from) * (right - left);
}
