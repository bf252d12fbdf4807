import { type ListOut, text } from './cells.ts';

export const BATCHES: ListOut = {
  name: 'batches',
  what: 'What was dyed by which recipe, in which vessel.',
  heading: ['Batch', 'Recipe', 'Version', 'Shade', 'Vessel', 'Planned', 'Wanted', 'Cancelled', 'Note'],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('batch')
          .innerJoin('recipe', 'recipe.id', 'batch.recipe_id')
          .innerJoin('shade', 'shade.id', 'recipe.shade_id')
          .innerJoin('vessel', 'vessel.id', 'batch.vessel_id')
          .select(['batch.code', 'recipe.name as recipe', 'recipe.version', 'shade.name as shade'])
          .select(['vessel.name as vessel', 'batch.planned_at', 'batch.due_on', 'batch.cancelled_at'])
          .select('batch.note')
          .orderBy('batch.id'),
      )
      .map((row) => [
        row.code,
        row.recipe,
        text(row.version),
        row.shade,
        row.vessel,
        row.planned_at,
        row.due_on ?? '',
        row.cancelled_at ?? '',
        row.note,
      ]),
};

export const RECIPES: ListOut = {
  name: 'recipes',
  what: 'Recipes, each dye and auxiliary a row.',
  heading: [
    'Recipe',
    'Version',
    'Shade',
    'Fibre',
    'Class',
    'Liquor ratio',
    '°C',
    'Minutes',
    'Part',
    'Name',
    'Amount',
  ],
  rows: (reader) => {
    const recipes = reader.all(
      reader.db
        .selectFrom('recipe')
        .innerJoin('shade', 'shade.id', 'recipe.shade_id')
        .selectAll('recipe')
        .select('shade.name as shade')
        .orderBy('recipe.id'),
    );
    const dyes = reader.all(reader.db.selectFrom('recipe_dye').selectAll().orderBy('position'));
    const auxiliaries = reader.all(reader.db.selectFrom('recipe_auxiliary').selectAll().orderBy('position'));
    return recipes.flatMap((row) => {
      const head = [row.name, text(row.version), row.shade, row.fibre, row.dye_class];
      const bath = [`1:${row.liquor_ratio_milli / 1000}`, text(row.temperature_c), text(row.hold_minutes)];
      const mine = <R extends { recipe_id: number }>(rows: readonly R[]) =>
        rows.filter(({ recipe_id: id }) => id === row.id);
      return [
        ...mine(dyes).map((dye) => [...head, ...bath, 'dye', dye.name, `${dye.owf_milli / 1000} % owf`]),
        ...mine(auxiliaries).map(({ name, per, amount: much }) => {
          const asked = per === 'litre' ? `${much / 1000} g/L` : `${much / 1000} % owf`;
          return [...head, ...bath, 'auxiliary', name, asked];
        }),
      ];
    });
  },
};

export const DYES: ListOut = {
  name: 'dyes',
  what: 'The tubs on the workroom’s own shelf.',
  heading: ['Dye', 'Class', 'Group', 'Strength %', 'Lot', 'Put away'],
  rows: (reader) =>
    reader
      .all(reader.db.selectFrom('dye').selectAll().orderBy('id'))
      .map((row) => [
        row.name,
        row.dye_class,
        row.method,
        row.strength_bp === null ? '' : text(row.strength_bp / 100),
        row.lot,
        row.gone_at ?? '',
      ]),
};

export const VESSELS: ListOut = {
  name: 'vessels',
  what: 'What cloth is dyed in.',
  heading: ['Vessel', 'Litres', 'Material', 'Heater', 'Watts', 'Note', 'Put away'],
  rows: (reader) =>
    reader
      .all(reader.db.selectFrom('vessel').selectAll().orderBy('id'))
      .map((row) => [
        row.name,
        text(row.volume_ml / 1000),
        row.material,
        row.heater,
        text(row.heater_watts),
        row.note,
        row.gone_at ?? '',
      ]),
};

export const SWATCHES: ListOut = {
  name: 'swatches',
  what: 'Swatches, a row for each time one was judged.',
  heading: [
    'Swatch',
    'Cloth',
    'Lot',
    'Recipe',
    'Version',
    'Depth % owf',
    'g',
    'Liquor ratio',
    'Verdict',
    'Judged by',
    'Light',
    'Wet or dry',
    'L*',
    'a*',
    'b*',
    'Photograph',
    'Note',
    'Who',
    'When',
  ],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('swatch')
          .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
          .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
          .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
          .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
          .leftJoin('swatch_result', 'swatch_result.swatch_id', 'swatch.id')
          .leftJoin('colour_reading', (join) =>
            join
              .onRef('colour_reading.id', '=', 'swatch_result.reading_id')
              .on('colour_reading.undone_key', 'is', null),
          )
          .leftJoin('person', 'person.id', 'swatch_result.person_id')
          .select(['swatch_job.code', 'swatch.position', 'cloth.name as cloth', 'lot.code as lot'])
          .select(['recipe.name as recipe', 'recipe.version', 'swatch.depth_owf_milli'])
          .select(['swatch_job.mass_mg', 'swatch_job.lab_ratio_milli', 'swatch_result.verdict'])
          .select(['swatch_result.seen_by', 'swatch_result.light', 'swatch_result.state'])
          .select(['colour_reading.lab_l', 'colour_reading.lab_a', 'colour_reading.lab_b'])
          .select(['swatch_result.photo', 'swatch_result.note', 'person.name as person', 'swatch_result.at'])
          .orderBy('swatch.id')
          .orderBy('swatch_result.id'),
      )
      .map((row) => [
        `${row.code}.${row.position}`,
        row.cloth,
        row.lot,
        row.recipe,
        text(row.version),
        text(row.depth_owf_milli / 1000),
        text(row.mass_mg / 1000),
        `1:${row.lab_ratio_milli / 1000}`,
        row.verdict ?? '',
        row.seen_by ?? '',
        row.light ?? '',
        row.state ?? '',
        text(row.lab_l),
        text(row.lab_a),
        text(row.lab_b),
        row.photo ?? '',
        row.note ?? '',
        row.person ?? '',
        row.at ?? '',
      ]),
};

export const SERIES: ListOut = {
  name: 'series',
  what: 'Graded series, each step a row.',
  heading: [
    'Series',
    'Name',
    'Cloth',
    'Step',
    'Depth % owf',
    'Moved %',
    'Recipe',
    'Batch',
    'Planned',
    'Note',
  ],
  rows: (reader) =>
    reader
      .all(
        reader.db
          .selectFrom('series_step')
          .innerJoin('series', 'series.id', 'series_step.series_id')
          .innerJoin('cloth', 'cloth.id', 'series.cloth_id')
          .innerJoin('recipe', 'recipe.id', 'series_step.recipe_id')
          .leftJoin('batch', 'batch.id', 'series_step.batch_id')
          .select(['series.code', 'series.name', 'cloth.name as cloth', 'series_step.position'])
          .select(['series_step.depth_owf_milli', 'series_step.moved_bp', 'recipe.name as recipe'])
          .select(['batch.code as batch', 'series.planned_at', 'series.note'])
          .orderBy('series.id')
          .orderBy('series_step.position'),
      )
      .map((row) => [
        row.code,
        row.name,
        row.cloth,
        text(row.position),
        text(row.depth_owf_milli / 1000),
        text(row.moved_bp / 100),
        row.recipe,
        row.batch ?? '',
        row.planned_at,
        row.note,
      ]),
};
