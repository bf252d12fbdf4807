import { showLiquorRatio, showOwf } from '../../../src/dye/bench-figures.ts';
import { MOST_STEPS } from '../../../src/dye/ladder.ts';
import { seriesWarnings } from '../../../src/dye/series.ts';
import { sharedStocks } from '../../../src/dye/shared-stock.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { orProblems } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { showGrams } from '../card/amounts-show.ts';
import { showSharedStocks } from '../swatch/amounts.ts';
import { readVesselsInUse } from '../vessels/store.ts';
import { type SeriesPrediction, showDifferences } from './differences.ts';
import { sayEvenLadder } from './even.ts';
import { depthsOf, seriesForm } from './form.ts';
import type { MissingLength, SeriesTold } from './told.ts';
import { type WorkedSeries, workOutSeries } from './work-out.ts';

/**
 * Planning a graded series. Asked with its depths in the address, its steps stand there with the shades and lengths that
 * the tiers of a garment want, and it is worked out; nothing is written. Refused, what was typed stays.
 */
export function newSeriesPage(
  reader: Reader,
  asker: Asker,
  told: SeriesTold,
  typed: Typed,
  opened: 'asked' | 'refused',
  prediction: SeriesPrediction | null,
) {
  const form = seriesForm(reader, asker);
  const depths = typedDepths(reader, asker, typed);
  const missing = missingFor(reader, told, typed);
  const filled = {
    swatch: '5',
    ...typed,
    ...(depths ? stepsTyped(depths.length, missing, typed, asker.units) : {}),
  };
  const asked = opened === 'asked' && depths !== null;
  const leastTicks = leastOf(missing);
  const { value: worked, problems } = orProblems(() =>
    asked
      ? workOutSeries(reader, readForm(form, readBody(filled).body), { units: asker.units, leastTicks })
      : null,
  );
  const { rows, mixing, note, ...fields } = drawFields(form.shape, filled, { rows: depths?.length ?? 0 });
  const data = {
    requestKey: mintKey(),
    /** what must be there first; '' where all is */
    lacking: lackingOf(reader, fields.cloth_id.options?.length ?? 0),
    what: [fields.name, fields.from_recipe_id, fields.to_recipe_id, fields.cloth_id],
    depths: [fields.first, fields.last, fields.steps, fields.depths, fields.most],
    work: [fields.vessel_id, fields.garment_id, fields.swatch, fields.due_on],
    mixing,
    note,
    /** the steps, once their depths are known */
    steps: (depths ?? []).flatMap((depth, at) => {
      const row = rows[at];
      return row
        ? [
            {
              depth: showOwf(depth),
              fields: [row.shade_id, row.shade_name, row.length],
              tiers: tiersOf(missing, row.shade_id.value),
            },
          ]
        : [];
    }),
    /** shades that the garment wants in this cloth beyond the steps, or steps beyond those */
    garmentSaid: sayGarment(missing, depths, typed),
    worked: worked
      ? {
          ...showWorked(reader, worked, { units: asker.units, most: mostOf(typed, form), prediction }),
          even: sayEvenLadder(worked, typed, prediction),
        }
      : null,
  };
  return {
    view: 'dye-bench/series/new',
    data,
    title: 'New graded series',
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

export type WorkedShown = NonNullable<ReturnType<typeof newSeriesPage>['data']['worked']>;

function lackingOf(reader: Reader, clothOptions: number) {
  const recipe = reader.first(reader.db.selectFrom('recipe').select('id').limit(1));
  if (!recipe)
    return { text: 'No recipe is written down yet.', href: '/dye-bench/recipes/new', link: 'New recipe' };
  if (readVesselsInUse(reader).length === 0)
    return { text: 'No vessel is in use.', href: '/dye-bench/vessels', link: 'Add a vessel' };
  // The first option is the blank one.
  return clothOptions > 1
    ? null
    : { text: 'No undyed cloth is free.', href: '/shelf/receive', link: 'Receive cloth' };
}

/** The depths as far as they can be read; null before that. */
function typedDepths(reader: Reader, asker: Asker, typed: Typed): readonly number[] | null {
  const { first, last, steps, depths } = seriesForm(reader, asker).shape;
  const read = {
    first: first.safeParse(typed.first ?? ''),
    last: last.safeParse(typed.last ?? ''),
    steps: steps.safeParse(typed.steps ?? ''),
    depths: depths.safeParse(typed.depths ?? ''),
  };
  const given = {
    first: read.first.data ?? null,
    last: read.last.data ?? null,
    steps: read.steps.data ?? null,
    depths: read.depths.data ?? null,
  };
  return orProblems(() => depthsOf(given)).value;
}

function mostOf(typed: Typed, form: ReturnType<typeof seriesForm>): number | null {
  return form.shape.most.safeParse(typed.most ?? '').data ?? null;
}

/** What the chosen garment is short of in the chosen cloth. */
export function missingFor(reader: Reader, { readMissing }: SeriesTold, typed: Typed): MissingLength[] {
  const garmentId = queryNumber(typed, 'garment_id');
  const clothId = queryNumber(typed, 'cloth_id');
  if (garmentId === null || clothId === null) return [];
  const garment = reader.first(reader.db.selectFrom('garment').select('code').where('id', '=', garmentId));
  if (!garment) return [];
  const grounds = reader.all(reader.db.selectFrom('shade').select('id').where('ground', '=', 1));
  return readMissing(reader, garment.code).filter(
    (each) => each.clothId === clothId && !grounds.some(({ id }) => id === each.shadeId),
  );
}

export function leastOf(missing: readonly MissingLength[]): ReadonlyMap<number, number> {
  return new Map(missing.map(({ shadeId, leastTicks }) => [shadeId, leastTicks]));
}

/** The rows of the steps: what the garment wants where nothing is typed. */
function stepsTyped(count: number, missing: readonly MissingLength[], typed: Typed, units: Units): Typed {
  const open = Object.keys(typed).some((field) => field.startsWith('rows.'));
  const offered = Array.from({ length: Math.min(count, MOST_STEPS) }, (_, at) => {
    const want = open ? undefined : missing[at];
    const length = want?.lengthTicks ? writeLength(roundedUp(want.lengthTicks, units), units) : '';
    const name = typed.name ? `${typed.name} ${at + 1}` : '';
    return [
      [`rows.${at}.shade_id`, want ? String(want.shadeId) : ''],
      [`rows.${at}.shade_name`, want ? '' : name],
      [`rows.${at}.length`, length],
    ];
  });
  const ofRows = Object.fromEntries(Object.entries(typed).filter(([field]) => field.startsWith('rows.')));
  return { ...Object.fromEntries(offered.flat()), ...ofRows };
}

/** A little over what the strips take, as no length shrinks just as it was expected (our rule): 10 cm or 1/8 yd at most. */
function roundedUp(lengthTicks: number, units: Units): number {
  const stepTicks = units.system === 'imperial' ? TICKS_PER.yd / 8 : TICKS_PER.m / 10;
  return Math.ceil(lengthTicks / stepTicks) * stepTicks;
}

function tiersOf(missing: readonly MissingLength[], shadeId: string): string {
  return missing.find((each) => String(each.shadeId) === shadeId)?.tiers.join(', ') ?? '';
}

function sayGarment(
  missing: readonly MissingLength[],
  depths: readonly number[] | null,
  typed: Typed,
): string {
  if (!typed.garment_id || !typed.cloth_id) return '';
  if (missing.length === 0) return 'This garment is short of no dyed shade in this cloth: lengths are typed.';
  if (depths === null || depths.length === missing.length) return '';
  return `This garment wants ${missing.length} shades in this cloth, and the series has ${depths.length} steps.`;
}

function showWorked(
  reader: Reader,
  { source, target, steps }: WorkedSeries,
  {
    units,
    most,
    prediction,
  }: {
    readonly units: Units;
    readonly most: number | null;
    readonly prediction: SeriesPrediction | null;
  },
) {
  const depths = steps.map(({ depthOwfMilli }) => depthOwfMilli);
  const { balanceMg } = readWorkroom(reader);
  const baths = steps.flatMap(({ card }) => card?.bath ?? []);
  const shared = baths.length === 0 ? null : sharedStocks(baths, balanceMg);
  const differences = showDifferences(reader, {
    clothId: steps.flatMap(({ lengths }) => lengths)[0]?.piece.cloth.id ?? 0,
    steps: steps.map(({ depthOwfMilli, recipe }) => ({ depthOwfMilli, recipeId: null, recipe })),
    source,
    kept: target === null,
    prediction,
  });
  return {
    ratio: showLiquorRatio(source.recipe.liquorRatioMilli),
    warnings: seriesWarnings(depths, most),
    steps: steps.map((step, at) => ({
      name: step.shadeName,
      depth: showOwf(step.depthOwfMilli),
      dyes: step.recipe.dyes.map(({ name, owfMilli }) => `${name} ${showOwf(owfMilli)}`).join(', '),
      lots: [...new Set(step.lengths.map(({ piece }) => piece.lotCode))].join(' and '),
      mixed: step.mixed,
      lengths: step.lengths.map(({ piece, lengthTicks }) => ({
        piece: piece.code,
        href: piecePath(piece.code),
        length: showLength(lengthTicks, units, 'near'),
      })),
      mass: step.card ? showGrams(step.card.massMg) : '',
      baths: step.card?.baths.length ?? 0,
      difference: differences[at] ?? '',
    })),
    stocks: shared?.ok ? showSharedStocks(shared.stocks, new Map()) : [],
    stocksTrouble: shared && !shared.ok ? shared.reason : '',
  };
}
