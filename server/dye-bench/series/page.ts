import { showOwf } from '../../../src/dye/bench-figures.ts';
import { isHalving, jugHalving } from '../../../src/dye/ladder.ts';
import { bathOrder, seriesWarnings } from '../../../src/dye/series.ts';
import { sharedStocks } from '../../../src/dye/shared-stock.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { batchPath, clothPath, shadePath, swatchPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { cardOf } from '../batch/page.ts';
import { readBatch, readSentLengths, stateOf } from '../batch/store.ts';
import { recipePath } from '../recipe/store.ts';
import { showSharedStocks, showSwatchBaths } from '../swatch/amounts.ts';
import { readSwatchJob } from '../swatch/store.ts';
import { type SeriesPrediction, showDifferences } from './differences.ts';
import { readSeries, type StoredSeries } from './store.ts';

export type SeriesPageData = ReturnType<typeof seriesPage>['data'];

/** A graded series: its steps with shade, recipe, swatch and batch, one stock for all, and the order of the baths. */
export function seriesPage(reader: Reader, code: string, asker: Asker, prediction: SeriesPrediction | null) {
  const series = readSeries(reader, code);
  const { cloth, from, to } = series;
  const steps = series.steps.map((step) => ({ ...step, batch: batchOf(reader, step.batchCode, asker) }));
  const depths = steps.map(({ depthOwfMilli }) => depthOwfMilli);
  const differences = showDifferences(reader, {
    clothId: cloth.id,
    steps: steps.map(({ depthOwfMilli, stored }) => ({
      depthOwfMilli,
      recipeId: stored.id,
      recipe: stored.recipe,
    })),
    prediction,
    source: from,
    kept: to === null,
  });
  const order = bathOrder(depths);
  const { balanceMg } = readWorkroom(reader);
  const bathed = order.flatMap((at) => {
    const step = steps[at];
    const card = step?.batch?.card;
    if (!step || !card) return [];
    const { liquorRatioMilli } = card.recipe;
    return [
      {
        name: `${step.batch?.code}, ${step.stored.shade.name}`,
        depthOwfMilli: step.depthOwfMilli,
        // A batch may have a liquor ratio of its own.
        recipe: { ...step.stored.recipe, liquorRatioMilli },
        bath: card.bath,
      },
    ];
  });
  const shared =
    bathed.length === 0
      ? null
      : sharedStocks(
          bathed.map(({ bath }) => bath),
          balanceMg,
        );
  const data = {
    code: series.code,
    name: series.name,
    cloth: { name: cloth.name, href: clothPath(cloth.id) },
    from: { name: `${from.name}, version ${from.version}`, href: recipePath(from.id) },
    to: to === null ? null : { name: `${to.name}, version ${to.version}`, href: recipePath(to.id) },
    planned: `${series.plannedBy}, ${showMoment(series.plannedAt)}`,
    note: series.note,
    warnings: seriesWarnings(depths, null),
    steps: steps.map((step, at) => ({
      number: step.position,
      chip: shadeChip(step.stored.shade, { href: shadePath(step.stored.shade.id) }),
      depth: showOwf(step.depthOwfMilli),
      moved: to === null ? '' : showPercent(step.movedBp),
      recipe: { name: step.stored.name, href: recipePath(step.stored.id) },
      dyes: step.stored.recipe.dyes.map(({ name, owfMilli }) => `${name} ${showOwf(owfMilli)}`).join(', '),
      swatch: swatchOf(reader, step),
      batch: step.batch
        ? {
            code: step.batch.code,
            href: batchPath(step.batch.code),
            state: step.batch.state,
            lots: step.batch.lots,
            length: step.batch.length,
            mixed: step.batch.mixed,
          }
        : null,
      difference: differences[at] ?? '',
    })),
    stocks: shared?.ok ? showSharedStocks(shared.stocks, new Map()) : [],
    /** what each bath takes of them, from pale to deep */
    baths: shared?.ok
      ? showSwatchBaths(bathed, shared, balanceMg).map((bath) => ({
          ...bath,
          // What else goes in, and when, stands on the card of each batch.
          lines: bath.lines.filter(({ from }) => from !== ''),
          water: '',
        }))
      : [],
    stocksTrouble: shared && !shared.ok ? shared.reason : '',
    /** the baths in their order in one pot */
    order: order.flatMap((at) => {
      const step = steps[at];
      return step?.batch
        ? [
            {
              code: step.batch.code,
              href: batchPath(step.batch.code),
              shade: step.stored.shade.name,
              state: step.batch.state,
            },
          ]
        : [];
    }),
    /** parts of the strongest solution by vessel, where each step is half of the next; none otherwise */
    halving: isHalving(depths)
      ? jugHalving(depths.length).map(({ denominator }) => (denominator === 1 ? '1' : `1/${denominator}`))
      : [],
  };
  return {
    view: 'dye-bench/series/series',
    data,
    title: `Graded series ${series.code}, ${series.name}`,
    room: 'dye-bench',
  } satisfies Page;
}

function batchOf(reader: Reader, code: string | null, { units }: Asker) {
  if (code === null) return null;
  const batch = readBatch(reader, code);
  const state = stateOf(batch, readSentLengths(reader, batch.id));
  const { card } = cardOf(reader, batch, state, units);
  const lots = [...new Set(card?.pieces.map(({ lot }) => lot) ?? [])];
  const ticks = card?.pieces.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0) ?? 0;
  return {
    code,
    state,
    card,
    lots: lots.join(' and '),
    mixed: lots.length > 1,
    length: showLength(ticks, units, 'near'),
  };
}

/** The swatch of a step and its last verdict; null where the series was made without. */
function swatchOf(reader: Reader, { swatch }: StoredSeries['steps'][number]) {
  if (!swatch) return null;
  const found = readSwatchJob(reader, swatch.jobCode).swatches.find(({ id }) => id === swatch.id);
  return {
    name: swatch.name,
    href: swatchPath(swatch.jobCode),
    verdict: found?.verdict?.verdict ?? 'not judged yet',
  };
}

/** All series, the newest first. */
export function seriesListPage(reader: Reader) {
  const rows = reader.all(
    reader.db
      .selectFrom('series')
      .innerJoin('cloth', 'cloth.id', 'series.cloth_id')
      .innerJoin('series_step', 'series_step.series_id', 'series.id')
      .select(['series.id', 'series.code', 'series.name', 'series.planned_at', 'cloth.name as cloth'])
      .select((of) => of.fn.countAll<number>().as('steps'))
      .groupBy('series.id')
      .orderBy('series.id', 'desc')
      .limit(MOST_LISTED),
  );
  const data = {
    series: rows.map((row) => ({
      code: row.code,
      href: `/dye-bench/series/${row.code}`,
      name: row.name,
      cloth: row.cloth,
      steps: row.steps,
      planned: showMoment(row.planned_at),
    })),
    /** true where only the newest are shown */
    more: rows.length === MOST_LISTED,
  };
  return { view: 'dye-bench/series/list', data, title: 'Graded series', room: 'dye-bench' } satisfies Page;
}

const MOST_LISTED = 200;
