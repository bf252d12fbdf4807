import { deltaE00, type Lab, labToScreen } from '../../../src/colour/lab.ts';
import { showLiquorRatio, showOwf } from '../../../src/dye/bench-figures.ts';
import { cautionsFor } from '../../../src/dye/cautions.ts';
import { depthOwfMilli } from '../../../src/dye/recipe.ts';
import { swatchSideTicks, swatchWarnings } from '../../../src/dye/swatch.ts';
import { showDecimal } from '../../../src/quantity/figure-show.ts';
import { showSize } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { lotPath, piecePath, shadeAgainPath, shadePath, swatchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { readSamples } from '../../orders/asked/sample.ts';
import { viewingValue } from '../../shelf/colour/fields.ts';
import { readUsualViewing } from '../../shelf/colour/readings.ts';
import { newPhotosPath, shapeSets } from '../../shelf/photo/pages.ts';
import { readPhotoSetsOfSwatches } from '../../shelf/photo/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showGrams } from '../card/amounts-show.ts';
import { withHeads } from '../pot/step.ts';
import { sayFigures } from '../recipe/figures.ts';
import { recipePath } from '../recipe/store.ts';
import { showSharedStocks, showSwatchBaths, workOutSwatches } from './amounts.ts';
import { moreSwatchesForm, swatchResultForm } from './form.ts';
import { readSwatchJob, type StoredSwatch, type SwatchJob } from './store.ts';

export type SwatchPageData = ReturnType<typeof swatchPage>['data'];

/** A swatch job: what to cut, to make up and to measure, what was seen, and what follows from it. */
export function swatchPage(reader: Reader, code: string, asker: Asker, typed: Typed = {}) {
  const job = readSwatchJob(reader, code);
  const { cloth, massMg, swatches } = job;
  const { balanceMg } = readWorkroom(reader);
  const worked = workOutSwatches(swatches, { massMg, content: cloth.content, balanceMg });
  const choices = swatches.map((swatch) => ({
    value: String(swatch.id),
    label: `${swatch.name}, ${swatch.stored.name}, ${showOwf(swatch.depthOwfMilli)}`,
  }));
  const open = swatches.find(({ verdict }) => verdict === null) ?? swatches[0];
  const asked = {
    swatch_id: String(open?.id ?? ''),
    state: 'dry',
    seen_by: 'eye',
    viewing: viewingValue(readUsualViewing(reader)),
    ...typed,
  };
  const { swatches: more } = drawFields(moreSwatchesForm(reader).shape, typed, { swatches: 1 });
  const classes = swatches.map(({ recipe }) => recipe.dyeClass);
  const hottest = swatches.toSorted((a, b) => b.recipe.temperatureC - a.recipe.temperatureC)[0];
  const data = {
    requestKey: mintKey(),
    code: job.code,
    href: swatchPath(job.code),
    cloth: cloth.name,
    lot: { code: job.lot.code, href: lotPath(job.lot.code) },
    planned: `${job.plannedBy}, ${showMoment(job.plannedAt)}`,
    note: job.note,
    mass: showGrams(massMg),
    labRatio: showLiquorRatio(job.labRatioMilli),
    bulkRatio: showLiquorRatio(job.bulkRatioMilli),
    cut: sayCut(reader, job, asker),
    cautions: withHeads(hottest ? cautionsFor(hottest.recipe) : []),
    warnings: swatchWarnings(job, classes),
    /** what to make up and to measure; null with `trouble` where it cannot be worked out */
    amounts: worked.ok
      ? {
          stocks: showSharedStocks(worked.stocks, job.dyeLots),
          baths: showSwatchBaths(swatches, worked, balanceMg),
        }
      : null,
    trouble: worked.ok ? '' : worked.reason,
    /** samples of suppliers that were held against its swatches */
    samples: readSamples(reader, job.code),
    dyeLots: [...job.dyeLots].map(([name, lot]) => `${name}: lot ${lot}`),
    swatches: swatches.map((swatch) => shapeSwatch(swatch, job)),
    result: drawFields(resultShape(choices), asked),
    photos: shapeSets(
      reader,
      readPhotoSetsOfSwatches(
        reader,
        swatches.map(({ id }) => id),
      ),
    ),
    more,
  };
  return {
    view: 'dye-bench/swatch/swatch',
    data,
    title: `Swatches ${job.code}`,
    room: 'dye-bench',
  } satisfies Page;
}

function resultShape(choices: Parameters<typeof swatchResultForm>[0]) {
  return swatchResultForm(choices).in.shape;
}

/** What to cut for all the swatches, and of which pieces of the lot. */
function sayCut(reader: Reader, { massMg, cloth, lot }: SwatchJob, { units }: Asker) {
  const pieces = reader.all(
    reader.db
      .selectFrom('piece')
      .select('code')
      .where('lot_id', '=', lot.id)
      .where('on_hand_ticks', '>', 0)
      .orderBy('on_hand_ticks')
      .limit(6),
  );
  const perArea = cloth.massPerAreaMgM2;
  return {
    /** '' where the mass per area of the cloth is not known */
    square: perArea === null ? '' : showSize(swatchSideTicks(massMg, perArea), units, 'up'),
    pieces: pieces.map(({ code }) => ({ code, href: piecePath(code) })),
  };
}

function shapeSwatch(swatch: StoredSwatch, job: SwatchJob) {
  const { stored, depthOwfMilli: depth, recipe, verdict } = swatch;
  const asRecipe = depth === depthOwfMilli(stored.recipe);
  return {
    name: swatch.name,
    recipe: { name: `${stored.name}, version ${stored.version}`, href: recipePath(stored.id) },
    chip: shadeChip(stored.shade, { href: shadePath(stored.shade.id) }),
    depth: showOwf(depth),
    working: sayFigures(recipe),
    verdict: verdict?.verdict ?? '',
    results: swatch.results.map((result) => ({
      verdict: result.verdict ?? 'looked at',
      how: `by ${result.seenBy}, ${result.state}, in ${result.light}`,
      colour: result.lab ? labToScreen(result.lab) : null,
      lab: result.lab ? sayLab(result.lab) : '',
      difference: sayDifference(result.lab, stored.shade),
      photo: result.photo,
      note: result.note,
      who: `${result.person}, ${showMoment(result.at)}`,
    })),
    again: swatch.results.length > 0 ? shadeAgainPath({ kind: 'swatch', id: swatch.id }) : null,
    newPhotos: newPhotosPath({ kind: 'swatch', id: swatch.id }),
    /** what follows from its verdict; null where nothing does yet */
    next: nextOf(swatch, job, asRecipe),
  };
}

/** An approved swatch is dyed, once a recipe has its depth; an adjusted one is made again. */
function nextOf(
  { verdict, stored, depthOwfMilli: depth }: StoredSwatch,
  { cloth }: SwatchJob,
  asRecipe: boolean,
) {
  if (verdict?.verdict !== 'approved' && verdict?.verdict !== 'adjusted') return null;
  if (verdict.verdict === 'approved' && asRecipe)
    return {
      text: 'Plan a batch',
      href: address('/dye-bench/batches/new', { recipe_id: stored.id, cloth: cloth.id }),
    };
  const text =
    verdict.verdict === 'approved' ? 'Keep a recipe of this depth' : 'Copy the recipe to adjust it';
  return {
    text,
    href: address(`${recipePath(stored.id)}/copy`, { cloth_id: cloth.id, at_depth: depth / 1000 }),
  };
}

function sayLab({ l, a, b }: Lab): string {
  const figure = (value: number) => showDecimal(BigInt(Math.round(value * 10)), 1);
  return `L* ${figure(l)}, a* ${figure(a)}, b* ${figure(b)}`;
}

/** "ΔE00 1.4 to Sea green"; '' where one of the two has no colour. */
function sayDifference(lab: Lab | null, shade: StoredSwatch['stored']['shade']): string {
  const { lab_l: l, lab_a: a, lab_b: b } = shade;
  if (!lab || l === null || a === null || b === null) return '';
  return `ΔE00 ${showDecimal(BigInt(Math.round(deltaE00(lab, { l, a, b }) * 10)), 1)} to ${shade.name}`;
}
