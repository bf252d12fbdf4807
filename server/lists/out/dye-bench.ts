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
