import type { HowRead } from '../../../src/colour/colour-reading.ts';
import type { KnownSwatch } from '../../../src/colour/prediction/known-swatches.ts';
import { dyesAtDepth } from '../../../src/dye/depth.ts';
import type { RecipeClass } from '../../../src/dye/dye-class.ts';
import type { Reader } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { lotPath, swatchPath } from '../../kit/paths.ts';
import {
  readReadingsOfLots,
  readReadingsOfSwatches,
  type StoredReading,
} from '../../shelf/colour/readings.ts';

/** A class of dye, and of reactive dyes its group: what goes into one bath and is learned from together. */
export interface BathKind {
  readonly dyeClass: RecipeClass;
  readonly method: string;
}

/** A swatch that shades may be predicted from, wherever the book keeps it. */
export interface ReadSwatch extends Omit<KnownSwatch, 'onGround'> {
  readonly groundId: number;
  /** null where it is undyed */
  readonly bath: BathKind | null;
  readonly how: HowRead;
  /** where it is kept; null of one that was only recorded */
  readonly href: string | null;
  /** the number of one that was only recorded, which can be taken out */
  readonly recordedId: number | null;
}

/** As an address writes it: "reactive:vinyl sulphone". */
export function bathValue({ dyeClass, method }: BathKind): string {
  return method === '' ? dyeClass : `${dyeClass}:${method}`;
}

/** Only reactive dyes are told apart by their group: their heats differ. */
export function bathKind(dyeClass: RecipeClass, method: string): BathKind {
  return { dyeClass, method: dyeClass === 'reactive' ? method : '' };
}

/** All swatches of a cloth: undyed lots that were read, those of swatch jobs, and those that were only recorded. */
export function readKnown(reader: Reader, clothId: number): ReadSwatch[] {
  return [
    ...readUndyedLots(reader, clothId),
    ...readOfJobs(reader, clothId),
    ...readRecorded(reader, clothId),
  ];
}

function readUndyedLots(reader: Reader, clothId: number): ReadSwatch[] {
  const lots = reader.all(
    reader.db
      .selectFrom('lot')
      .innerJoin('shade', 'shade.id', 'lot.shade_id')
      .select(['lot.id', 'lot.code', 'lot.shade_id', 'shade.name'])
      .where('lot.cloth_id', '=', clothId)
      .where('shade.ground', '=', 1),
  );
  const readings = grouped(
    readReadingsOfLots(
      reader,
      lots.map(({ id }) => id),
    ),
    ({ lotId }) => lotId,
  );
  return lots.flatMap((lot) =>
    eachObserver(readings.get(lot.id) ?? []).map((reading) => ({
      ...asRead(reading),
      name: `${lot.name}, lot ${lot.code}`,
      dyes: [],
      bath: null,
      groundId: lot.shade_id,
      isGivenUp: false,
      href: lotPath(lot.code),
      recordedId: null,
    })),
  );
}

function readOfJobs(reader: Reader, clothId: number): ReadSwatch[] {
  const rows = reader.all(
    reader.db
      .selectFrom('swatch')
      .innerJoin('swatch_job', 'swatch_job.id', 'swatch.job_id')
      .innerJoin('lot', 'lot.id', 'swatch_job.lot_id')
      .innerJoin('recipe', 'recipe.id', 'swatch.recipe_id')
      .select([
        'swatch.id',
        'swatch.position',
        'swatch.recipe_id',
        'swatch.depth_owf_milli',
        'swatch_job.code',
      ])
      .select(['lot.shade_id', 'recipe.dye_class', 'recipe.method'])
      .where('lot.cloth_id', '=', clothId)
      .orderBy('swatch.id'),
  );
  const ids = rows.map(({ id }) => id);
  const readings = grouped(readReadingsOfSwatches(reader, ids), ({ swatchId }) => swatchId);
  const givenUp = readGivenUp(reader, ids);
  const dyes = readDyesOf(reader, [...new Set(rows.map(({ recipe_id }) => recipe_id))]);
  return rows.flatMap((row) => {
    const proportions = dyes.get(row.recipe_id) ?? [];
    // A bath without dye, such as one that strips, tells nothing of a dye.
    if (proportions.length === 0) return [];
    const used = dyesAtDepth(proportions, row.depth_owf_milli);
    return eachObserver(readings.get(row.id) ?? []).map((reading) => ({
      ...asRead(reading),
      name: `${row.code}.${row.position}`,
      dyes: used.map(({ name, owfMilli }) => ({ name, percent: owfMilli / 1000 })),
      bath: bathKind(row.dye_class as RecipeClass, row.method),
      groundId: row.shade_id,
      isGivenUp: givenUp.has(row.id),
      href: swatchPath(row.code),
      recordedId: null,
    }));
  });
}

/** Of each observer the last reading, a dry one where there is one: what was read later of a swatch counts. */
function eachObserver(readings: readonly StoredReading[]): StoredReading[] {
  return [...grouped(readings, ({ illuminant, observer }) => `${illuminant}/${observer}`).values()].flatMap(
    (alike) => alike.findLast(({ state }) => state === 'dry') ?? alike.at(-1) ?? [],
  );
}

function asRead({ lab, illuminant, observer, uncertaintyCenti, state, backing, how }: StoredReading) {
  return { lab, viewing: { illuminant, observer }, uncertainty: uncertaintyCenti / 100, state, backing, how };
}

function readGivenUp(reader: Reader, swatchIds: readonly number[]): ReadonlySet<number> {
  if (swatchIds.length === 0) return new Set();
  const rows = reader.all(
    reader.db
      .selectFrom('swatch_result')
      .select(['swatch_id', 'verdict'])
      .where('swatch_id', 'in', [...swatchIds])
      .where('verdict', 'is not', null)
      .orderBy('id'),
  );
  const last = new Map(rows.map(({ swatch_id, verdict }) => [swatch_id, verdict]));
  return new Set([...last].flatMap(([id, verdict]) => (verdict === 'given up' ? [id] : [])));
}

function readDyesOf(reader: Reader, recipeIds: readonly number[]) {
  if (recipeIds.length === 0) return new Map<number, { name: string; weight: number }[]>();
  const rows = reader.all(
    reader.db
      .selectFrom('recipe_dye')
      .select(['recipe_id', 'name', 'owf_milli as weight'])
      .where('recipe_id', 'in', [...recipeIds])
      .orderBy('position'),
  );
  return grouped(rows, ({ recipe_id }) => recipe_id);
}

function readRecorded(reader: Reader, clothId: number): ReadSwatch[] {
  const rows = reader.all(
    reader.db
      .selectFrom('dyed_swatch')
      .selectAll()
      .where('cloth_id', '=', clothId)
      .where('undone_key', 'is', null)
      .orderBy('id'),
  );
  const dyes = reader.all(
    reader.db
      .selectFrom('dyed_swatch_dye')
      .innerJoin('dyed_swatch', 'dyed_swatch.id', 'dyed_swatch_dye.swatch_id')
      .innerJoin('dye', 'dye.id', 'dyed_swatch_dye.dye_id')
      .select([
        'dyed_swatch_dye.swatch_id',
        'dyed_swatch_dye.owf_milli',
        'dye.name',
        'dye.dye_class',
        'dye.method',
      ])
      .where('dyed_swatch.cloth_id', '=', clothId)
      .orderBy('dyed_swatch_dye.dye_id'),
  );
  const bySwatch = grouped(dyes, ({ swatch_id }) => swatch_id);
  return rows.map((row) => {
    const used = bySwatch.get(row.id) ?? [];
    const [first] = used;
    return {
      lab: { l: row.lab_l, a: row.lab_a, b: row.lab_b },
      viewing: { illuminant: row.illuminant, observer: row.observer },
      uncertainty: row.uncertainty_centi / 100,
      state: 'dry',
      backing: null,
      how: row.how,
      name: `Swatch ${row.id}`,
      dyes: used.map(({ name, owf_milli }) => ({ name, percent: owf_milli / 1000 })),
      bath: first ? bathKind(first.dye_class as RecipeClass, first.method) : null,
      groundId: row.ground_id,
      isGivenUp: false,
      href: null,
      recordedId: row.id,
    };
  });
}
