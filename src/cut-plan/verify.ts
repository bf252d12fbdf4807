import type { Flaw, PlanJob, PlanPiece } from './job.ts';
import type { Cutting, Lay } from './plan.ts';

/**
 * All that is wrong with a plan, in sentences; none where it can be cut as it stands. It looks at the plan in ticks and
 * knows nothing of how it was found.
 */
export function verifyPlan(job: PlanJob, plan: Cutting): string[] {
  const problems: string[] = [];
  const made = job.kinds.map(() => 0);
  const ends = new Map<string, number>();
  for (const lay of plan.lays) {
    const piece = job.pieces.find(({ pieceId }) => pieceId === lay.pieceId);
    if (!piece || lay.copy < 0 || lay.copy >= piece.count) {
      problems.push(`There is no piece ${lay.pieceId}.`);
      continue;
    }
    const key = `${lay.pieceId} ${lay.copy}`;
    if (lay.fromTicks < (ends.get(key) ?? 0)) problems.push('Two lays lie on each other.');
    ends.set(key, lay.fromTicks + lay.heightTicks);
    if (lay.fromTicks + lay.heightTicks > piece.lengthTicks) problems.push('A lay runs off its piece.');
    problems.push(...verifyLay(job, piece, lay, made));
  }
  job.kinds.forEach(({ count }, i) => {
    const right = plan.made[i] === made[i] && (made[i] as number) + (plan.missing[i] ?? -1) === count;
    if (!right || (plan.missing[i] ?? -1) < 0) problems.push('Strips made and missing do not add up.');
  });
  problems.push(...verifyLots(job, plan));
  return problems;
}

function verifyLay(job: PlanJob, piece: PlanPiece, lay: Lay, made: number[]): string[] {
  const problems: string[] = [];
  const order = [...lay.columns].sort((a, b) => a.leftTicks - b.leftTicks);
  let rightTicks = 0;
  for (const columns of order) {
    const index = job.kinds.findIndex(({ kindId }) => kindId === columns.kindId);
    const kind = job.kinds[index];
    if (!kind) return [...problems, 'A lay has strips that nobody wants.'];
    const { turned, acrossTicks, alongTicks, leftTicks, strips, stack } = columns;
    const across = turned ? kind.depthTicks : kind.lengthTicks;
    const along = turned ? kind.lengthTicks : kind.depthTicks;
    const right = across === acrossTicks && along === alongTicks;
    const allowed = kind.direction === 'either' || (kind.direction === 'along') === turned;
    if (!right || !allowed) problems.push('A strip has another size or lies another way round than wanted.');
    if (leftTicks < rightTicks) problems.push('Two columns lie on each other.');
    rightTicks = leftTicks + columns.columns * acrossTicks;
    if (stack * alongTicks > lay.heightTicks) problems.push('A column is longer than its lay.');
    if (strips > columns.columns * stack || strips <= (columns.columns - 1) * stack)
      problems.push('A lay counts other strips than it has.');
    made[index] = (made[index] as number) + strips;
    const area = {
      fromTicks: lay.fromTicks,
      toTicks: lay.fromTicks + stack * alongTicks,
      leftTicks,
      rightTicks,
    };
    if (piece.flaws.some((flaw) => isOn(flaw, area))) problems.push('A strip has a flaw.');
  }
  if (rightTicks > piece.widthTicks) problems.push('A lay is wider than its piece.');
  return problems;
}

function isOn(a: Flaw, b: Flaw): boolean {
  return (
    a.fromTicks < b.toTicks &&
    b.fromTicks < a.toTicks &&
    a.leftTicks < b.rightTicks &&
    b.leftTicks < a.rightTicks
  );
}

function verifyLots(job: PlanJob, plan: Cutting): string[] {
  const byGroup = new Map<number, Set<number>>();
  for (const lay of plan.lays) {
    const lotId = job.pieces.find(({ pieceId }) => pieceId === lay.pieceId)?.lotId ?? -1;
    for (const { kindId } of lay.columns) {
      const group = job.kinds.find((kind) => kind.kindId === kindId)?.group ?? -1;
      byGroup.set(group, (byGroup.get(group) ?? new Set()).add(lotId));
    }
  }
  const meet = (a: number, b: number) =>
    a === b || job.meets.some(([x, y]) => (x === a && y === b) || (x === b && y === a));
  return [...byGroup].flatMap(([group, lots]) => {
    const rule = job.kinds.find((kind) => kind.group === group)?.lots;
    const list = [...lots];
    const isWrong =
      (rule === 'one' && list.length > 1) ||
      (rule === 'meet' && list.some((a) => list.some((b) => !meet(a, b))));
    return isWrong ? ['Strips that belong together come from lots that do not match.'] : [];
  });
}
