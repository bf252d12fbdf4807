import { loadProgramSolver } from '../../server/cut-plans/solver.ts';
import { firstEffort, timedEffort, usualEffort } from '../../src/cut-plan/effort.ts';
import { cutByHand, type HandRule } from '../../src/cut-plan/hand-rules.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { type CutPlan, planCuts } from '../../src/cut-plan/planner.ts';
import type { ProgramSolver } from '../../src/cut-plan/polish.ts';
import { verifyPlan } from '../../src/cut-plan/verify.ts';
import { bestOverLots, firstFitDecreasing, rectanglePacker } from './baselines.ts';
import { binJob, binPackings, MM } from './one-dimension.ts';
import { tripletJob } from './triplets.ts';
import { instanceJob, instances, unitsOf } from './two-stage.ts';
import { CLASSES, type JobClass, workroomJob } from './workroom-jobs.ts';

// Measures the cut-plan engine: `node tests/bench/cut-plan.bench.ts [jobs a class]`. All figures come from one run.

const solver = await loadProgramSolver();
const seeds = Array.from({ length: Number(process.argv[2] ?? 6) }, (_, i) => i + 1);
const percent = (part: number, whole: number) => (whole > 0 ? ((100 * part) / whole).toFixed(1) : '0.0');
const say = (line: string) => process.stdout.write(`${line}\n`);

interface Tally {
  readonly charged: number[];
  compared: number;
}

say(
  'Workroom jobs: saved against each rule in % of its charged area (over the jobs that the rule can cut in full)',
);
say(
  'class | naive | careful | through flaws | FFDH | rectangles | short: rules careful/planner | gap % median/max | first ms | final ms | first CPU ms | final CPU ms',
);
for (const jobClass of Object.keys(CLASSES) as JobClass[]) benchClass(jobClass);

say('');
say('Two-stage instances: plates’ area against the best known, 10 s each');
for (const { name, bestKnown, bestBound } of instances()) {
  for (const firstCut of ['across', 'along'] as const) {
    const [plan, seconds] = withinSeconds(instanceJob(name, firstCut));
    const [area, bound] = [unitsOf(plan.chargedArea), unitsOf(plan.bound.chargedArea)];
    const above = ((100 * (area - bestKnown)) / bestKnown).toFixed(3);
    // The best known is of one first cut; the bound may prove that the other cannot come to it.
    const proof =
      bound > bestKnown ? `, of which ${((100 * (bound - bestKnown)) / bestKnown).toFixed(3)} % proved` : '';
    say(
      `${name} first cut ${firstCut}: ${Math.round(area)} (best known ${Math.round(bestKnown)}: ${above} %${proof}), bound ${Math.round(bound)} (published ${bestBound}), ${seconds.toFixed(1)} s`,
    );
  }
}

say('');
say('Triplets with a known optimum: bins used, least bins, 10 s each');
for (const [bins, seed] of [
  [20, 1],
  [20, 2],
  [40, 1],
  [40, 2],
  [60, 1],
  [83, 1],
  [83, 2],
] as const)
  for (const way of ['pieces', 'lays'] as const) {
    const [plan, seconds] = withinSeconds(tripletJob(bins, seed, way));
    const used = way === 'pieces' ? plan.pieces.length : plan.lays.length;
    say(`t${bins}-${seed} as ${way}: ${used} of ${bins}, ${seconds.toFixed(1)} s`);
  }

say('');
say('Published classes in one dimension: bins used, least bins known, 10 s each');
for (const way of ['pieces', 'lays'] as const) {
  let reached = 0;
  const packings = binPackings();
  for (const packing of packings) {
    const job = binJob(packing, way);
    const binArea = packing.binSize * MM * MM;
    const [plan, seconds] = withinSeconds(job);
    const used = plan.chargedArea / binArea;
    const least = packing.bins ?? Math.ceil(plan.bound.chargedArea / binArea - 1e-9);
    if (used <= least) reached += 1;
    say(`${packing.name} as ${way}: ${used} of ${least}, ${job.kinds.length} kinds, ${seconds.toFixed(1)} s`);
  }
  say(`as ${way}: ${reached} of ${packings.length} reached`);
}

/** A plan with ten seconds to find it, as the planner's thread does it, and the seconds that it took. */
function withinSeconds(job: PlanJob): [CutPlan, number] {
  const startMs = performance.now();
  const gone = () => (performance.now() - startMs) / 9500;
  const timed: ProgramSolver = (program, nodes) => solver(program, nodes, Math.max(0.2, 9.5 * (1 - gone())));
  const plan = planCuts(job, timedEffort(9.5, timed, gone));
  return [plan, (performance.now() - startMs) / 1000];
}

function benchClass(jobClass: JobClass): void {
  const rules: Record<string, Tally> = {};
  const gaps: number[] = [];
  const firstMs: number[] = [];
  const finalMs: number[] = [];
  const firstCpuMs: number[] = [];
  const finalCpuMs: number[] = [];
  let [shortByHand, shortByPlan] = [0, 0];
  for (const seed of seeds) {
    const job = workroomJob(jobClass, seed);
    const [, first, firstCpu] = timed(() => planCuts(job, firstEffort()));
    const [plan, final, finalCpu] = timed(() => planCuts(job, usualEffort(job, solver)));
    if (verifyPlan(job, plan).length > 0) throw new Error(`${jobClass}${seed}: the plan cannot be cut`);
    firstMs.push(first);
    finalMs.push(final);
    firstCpuMs.push(firstCpu);
    finalCpuMs.push(finalCpu);
    gaps.push(plan.bound.gapBp / 100);
    shortByPlan += plan.missingStrips;
    const areas = baselineAreas(job);
    if (areas.careful === Number.POSITIVE_INFINITY) shortByHand += 1;
    for (const [rule, area] of Object.entries(areas)) {
      rules[rule] ??= { charged: [0, 0], compared: 0 };
      const tally = rules[rule];
      if (!tally || !Number.isFinite(area) || plan.missingStrips > 0) continue;
      tally.charged[0] = (tally.charged[0] ?? 0) + area;
      tally.charged[1] = (tally.charged[1] ?? 0) + plan.chargedArea;
      tally.compared += 1;
    }
  }
  const saved = Object.values(rules).map(({ charged: [rule = 0, plan = 0], compared }) =>
    compared === 0 ? 'n/a' : `${percent(rule - plan, rule)} (${compared})`,
  );
  gaps.sort((a, b) => a - b);
  const worst = (list: readonly number[]) => Math.round(Math.max(...list));
  const middle = (list: readonly number[]) =>
    Math.round([...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? 0);
  say(
    `${jobClass} ${CLASSES[jobClass]} | ${saved.join(' | ')} | ${shortByHand} jobs/${shortByPlan} strips | ${gaps[Math.floor(gaps.length / 2)]?.toFixed(2)}/${gaps.at(-1)?.toFixed(2)} | ${middle(firstMs)}/${worst(firstMs)} | ${middle(finalMs)}/${worst(finalMs)} | ${middle(firstCpuMs)}/${worst(firstCpuMs)} | ${middle(finalCpuMs)}/${worst(finalCpuMs)}`,
  );
}

function baselineAreas(job: PlanJob): Record<string, number> {
  const areaOf = (rule: HandRule | 'ffdh') => {
    const plan = bestOverLots(job, (model) =>
      rule === 'ffdh' ? firstFitDecreasing(model) : cutByHand(model, rule),
    );
    return plan.missingStrips > 0 ? Number.POSITIVE_INFINITY : plan.chargedArea;
  };
  const lots = new Set(job.pieces.map(({ lotId }) => lotId)).size;
  return {
    naive: areaOf('naive'),
    careful: areaOf('careful'),
    through: areaOf('through flaws'),
    ffdh: areaOf('ffdh'),
    rectangles: lots > 1 ? Number.POSITIVE_INFINITY : rectanglePacker(job),
  };
}

/** What work gives, its time by the clock, and by the processor, which other programs disturb less; in milliseconds. */
function timed<T>(work: () => T): [T, number, number] {
  const startMs = performance.now();
  const start = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(start);
  return [result, performance.now() - startMs, (user + system) / 1000];
}
