import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import type { Answer, Book, Tx } from '../database/book.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import type { Typed } from '../kit/typed.ts';
import type { ShelfTold } from '../shelf/told.ts';
import { answering } from '../web/answering.ts';
import type { Asker, House } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { finishBatch, finishForm } from './batch/finish.ts';
import { finishPage } from './batch/finish-page.ts';
import { batchPage } from './batch/page.ts';
import { batchPlanForm, planBatch } from './batch/plan.ts';
import { batchPlanPage } from './batch/plan-page.ts';
import { repeatBatch, repeatPage } from './batch/repeat.ts';
import { tagPage } from './batch/tag-page.ts';
import { cancelBatch, putBatchBack, startBatch } from './batch/verbs.ts';
import { BATCH_CARD } from './batch-card/form.ts';
import { batchCardPage } from './batch-card/page.ts';
import { fillBatchCard } from './batch-card/verbs.ts';
import { labelRecipeForm, labelVersionForm } from './by-label/form.ts';
import { labelRecipePage, labelVersionPage } from './by-label/page.ts';
import { keepLabelRecipe, keepLabelVersion } from './by-label/verbs.ts';
import { CORRECTION_READ, stripForm } from './correction/form.ts';
import { correctionPage } from './correction/page.ts';
import { logReadForCorrection, planStrip } from './correction/verbs.ts';
import { choosePot, potChoiceForm } from './day/pot-choice.ts';
import { dayRoutes } from './day/routes.ts';
import { DIP_MOVE, dipForm } from './dip/form.ts';
import { dipPage } from './dip/page.ts';
import { logDipMove, planDip } from './dip/verbs.ts';
import { fibresPage } from './dyes/fibres-page.ts';
import { dyeRoutes } from './dyes/routes.ts';
import type { PredictionDesk } from './first-recipe/desk.ts';
import { firstRecipeRoutes } from './first-recipe/routes.ts';
import { makerLabelRoutes } from './label/routes.ts';
import { dyeBenchPage } from './overview.ts';
import { ADDITION, additionPage, addToBatch } from './pot/addition.ts';
import { BY_HAND, byHandPage, logByHand } from './pot/by-hand.ts';
import { NOTE, PH, STEP_DONE, TAKE_BACK, TEMPERATURE } from './pot/log-forms.ts';
import { finishStep, logNote, logReading, takeBack } from './pot/log-verbs.ts';
import { batchBenchPage } from './pot/page.ts';
import { logReadAtPot, READ } from './pot/read-cautions.ts';
import { quickBathPage } from './quick/page.ts';
import { BY_LABEL } from './recipe/by-label.ts';
import { copyRecipeForm, newRecipeForm, versionForm } from './recipe/form.ts';
import { copyRecipePage, newRecipePage, versionPage } from './recipe/form-page.ts';
import { recipesPage } from './recipe/list-page.ts';
import { recipePage } from './recipe/page.ts';
import { addLabelDoses, keepCopy, keepNewRecipe, keepNewVersion } from './recipe/verbs.ts';
import { judgeShade, keepSwatch, RESULT, SWATCH } from './record/forms.ts';
import { recordPage } from './record/page.ts';
import { askedSeries, knownForSeries, predictSeries } from './series/differences.ts';
import { seriesForm } from './series/form.ts';
import { leastOf, missingFor, newSeriesPage } from './series/new-page.ts';
import { seriesListPage, seriesPage } from './series/page.ts';
import { readSeries } from './series/store.ts';
import type { SeriesTold } from './series/told.ts';
import { makeSeries } from './series/verbs.ts';
import { moreSwatchesForm, swatchJobForm, swatchResultForm } from './swatch/form.ts';
import { swatchesPage } from './swatch/list-page.ts';
import { newSwatchPage } from './swatch/new-page.ts';
import { swatchPage } from './swatch/page.ts';
import { readSwatchJob } from './swatch/store.ts';
import { addSwatches, judgeSwatch, planSwatches } from './swatch/verbs.ts';
import { swatchBookPage } from './swatch-book/page.ts';
import { BALANCE, VESSEL } from './vessels/form.ts';
import { vesselPage, vesselsPage } from './vessels/page.ts';
import { addVessel, changeVessel, putVesselAway, setBalance, takeVesselBack } from './vessels/verbs.ts';

const BATCH = '/dye-bench/batches/:code';

type Answering = ReturnType<typeof answering>;

export function dyeBenchRoutes(
  app: FastifyInstance,
  house: House,
  told: Pick<ShelfTold, 'readNeeded'> & SeriesTold,
): void {
  const { book } = house;
  const answers = answering(app, house);
  const { showPage } = answers;
  const keeping = answering(app, house, { POST: 'keeper' });
  const planning = answering(app, house, { GET: 'keeper', POST: 'keeper' });
  showPage('/dye-bench', ({ asker, query }) => dyeBenchPage(book, asker, book.now(), query));
  showPage('/dye-bench/quick', ({ typedInAddress }) => quickBathPage(book, typedInAddress));
  showPage('/dye-bench/fibres', fibresPage);
  dayRoutes(book, keeping);
  dyeRoutes(book, planning);
  vesselRoutes(book, keeping);
  recipeRoutes(book, keeping, planning);
  makerLabelRoutes(book, planning);
  labelRoutes(book, planning);
  planRoutes(book, told, planning);
  batchRoutes(book, answers);
  logRoutes(book, answers);
  swatchRoutes(book, answers);
  correctionRoutes(book, planning);
  seriesRoutes(book, told, firstRecipeRoutes(app, house), planning);
  dipRoutes(book, answers);
}

function vesselRoutes(book: Book, { showPage, takeForm }: Answering): void {
  showPage('/dye-bench/vessels', () => vesselsPage(book));
  takeForm('/dye-bench/vessels', ({ save }) =>
    save({ schema: VESSEL, write: addVessel, redraw: (typed) => vesselsPage(book, typed) }),
  );
  takeForm('/dye-bench/balance', ({ save }) =>
    save({ schema: BALANCE, write: setBalance, redraw: (typed) => vesselsPage(book, typed) }),
  );
  showPage('/dye-bench/vessels/:id', ({ id }) => vesselPage(book, id));
  takeForm('/dye-bench/vessels/:id', ({ id, save }) =>
    save({
      schema: VESSEL,
      write: (tx, form) => changeVessel(tx, id, form),
      redraw: (typed) => vesselPage(book, id, typed),
    }),
  );
  for (const [name, change] of Object.entries({ 'put-aways': putVesselAway, 'take-backs': takeVesselBack })) {
    takeForm(`/dye-bench/vessels/:id/${name}`, ({ id, save }) =>
      save({ schema: NOTHING_TYPED, write: (tx) => change(tx, id), redraw: () => vesselsPage(book) }),
    );
  }
}

function recipeRoutes(book: Book, { showPage, takeForm }: Answering, planning: Answering): void {
  showPage('/dye-bench/recipes', ({ query }) => recipesPage(book, query));
  planning.showPage('/dye-bench/recipes/new', ({ typedInAddress }) =>
    newRecipePage(book, typedInAddress, 'asked'),
  );
  takeForm('/dye-bench/recipes/new', ({ typed, save }) =>
    save({
      schema: newRecipeForm(book),
      write: (tx, form) => keepNewRecipe(tx, form, typed),
      redraw: (again) => newRecipePage(book, again, 'refused'),
    }),
  );
  showPage('/dye-bench/recipes/:id', ({ id }) => recipePage(book, id));
  planning.showPage('/dye-bench/recipes/:id/versions/new', ({ id, typedInAddress }) =>
    versionPage(book, id, typedInAddress, 'asked'),
  );
  takeForm('/dye-bench/recipes/:id/versions/new', ({ id, typed, save }) =>
    save({
      schema: versionForm(book),
      write: (tx, form) => keepNewVersion(tx, id, form, typed),
      redraw: (again) => versionPage(book, id, again, 'refused'),
    }),
  );
  takeForm('/dye-bench/recipes/:id/label-doses', ({ id, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => addLabelDoses(tx, id),
      redraw: () => recipePage(book, id),
    }),
  );
  planning.showPage('/dye-bench/recipes/:id/copy', ({ id, typedInAddress }) =>
    copyRecipePage(book, id, typedInAddress, 'asked'),
  );
  takeForm('/dye-bench/recipes/:id/copy', ({ id, typed, save }) =>
    save({
      schema: copyRecipeForm(book),
      write: (tx, form) => keepCopy(tx, id, form, typed),
      redraw: (again) => copyRecipePage(book, id, again, 'refused'),
    }),
  );
}

/** Recipes that are worked by the maker's label. */
function labelRoutes(book: Book, { showPage, takeForm }: Answering): void {
  showPage(BY_LABEL, ({ typedInAddress }) => labelRecipePage(book, typedInAddress));
  takeForm(BY_LABEL, ({ typed, save }) =>
    save({
      schema: labelRecipeForm(book),
      write: (tx, form) => keepLabelRecipe(tx, form, typed),
      redraw: (again) => labelRecipePage(book, again),
    }),
  );
  showPage('/dye-bench/recipes/:id/by-label', ({ id, typedInAddress }) =>
    labelVersionPage(book, id, typedInAddress),
  );
  takeForm('/dye-bench/recipes/:id/by-label', ({ id, typed, save }) =>
    save({
      schema: labelVersionForm(book),
      write: (tx, form) => keepLabelVersion(tx, id, form, typed),
      redraw: (again) => labelVersionPage(book, id, again),
    }),
  );
}

/** Planning and repeating work a batch out where the address has what is needed for that; nothing is written. */
function planRoutes(
  book: Book,
  { readNeeded }: Pick<ShelfTold, 'readNeeded'>,
  { showPage, showKeyedPage, takeForm }: Answering,
): void {
  const planPage = (asker: Asker, typed: Typed, opened: 'asked' | 'refused') =>
    batchPlanPage(book, asker, readNeeded(book), typed, opened);
  showKeyedPage('/dye-bench/batches/new', ({ asker, typedInAddress }) =>
    planPage(asker, typedInAddress, 'asked'),
  );
  takeForm('/dye-bench/batches/new', ({ asker, save }) =>
    save({
      schema: batchPlanForm(book, asker),
      write: (tx, form) => planBatch(tx, form, asker.units),
      redraw: (typed) => planPage(asker, typed, 'refused'),
    }),
  );
  showPage(`${BATCH}/repeat`, ({ asker, params, typedInAddress }) =>
    repeatPage(book, params.code, asker, typedInAddress, 'asked'),
  );
  takeForm(`${BATCH}/repeat`, ({ asker, params: { code }, save }) =>
    save({
      schema: batchPlanForm(book, asker),
      write: (tx, form) => repeatBatch(tx, code, form, asker),
      redraw: (typed) => repeatPage(book, code, asker, typed, 'refused'),
    }),
  );
}

function batchRoutes(book: Book, { showPage, takeForm }: Answering): void {
  showPage(BATCH, ({ asker, params }) => batchPage(book, params.code, asker));
  showPage(`${BATCH}/tag`, ({ asker, params }) => tagPage(book, params.code, asker));
  const changes = { starts: startBatch, cancellations: cancelBatch, returns: putBatchBack };
  for (const [name, change] of Object.entries(changes)) {
    takeForm(`${BATCH}/${name}`, ({ asker, params: { code }, save }) =>
      save({
        schema: NOTHING_TYPED,
        write: (tx) => change(tx, code, asker.units),
        redraw: () => batchPage(book, code, asker),
      }),
    );
  }
  showPage(`${BATCH}/finish`, ({ asker, params }) => finishPage(book, params.code, asker));
  takeForm(`${BATCH}/finish`, ({ asker, params: { code }, save }) =>
    save({
      schema: finishForm(book, asker),
      write: (tx, form) => finishBatch(tx, code, form, asker),
      redraw: (typed) => finishPage(book, code, asker, typed),
    }),
  );
}

/** Swatches, dyed before the cloth. */
function swatchRoutes(book: Book, { showPage, takeForm }: Answering): void {
  showPage('/dye-bench/swatch-book', ({ query }) => swatchBookPage(book, query));
  showPage('/dye-bench/swatches', ({ query }) => swatchesPage(book, query));
  showPage('/dye-bench/swatches/new', ({ typedInAddress }) => newSwatchPage(book, typedInAddress));
  takeForm('/dye-bench/swatches/new', ({ save }) =>
    save({
      schema: swatchJobForm(book),
      write: planSwatches,
      redraw: (typed) => newSwatchPage(book, typed),
    }),
  );
  const SWATCHES = '/dye-bench/swatches/:code';
  showPage(SWATCHES, ({ asker, params }) => swatchPage(book, params.code, asker));
  takeForm(`${SWATCHES}/results`, ({ asker, params: { code }, save }) =>
    save({
      schema: swatchResultForm(
        readSwatchJob(book, code).swatches.map(({ id, name }) => ({ value: String(id), label: name })),
      ),
      write: (tx, form) => judgeSwatch(tx, code, form),
      redraw: (typed) => swatchPage(book, code, asker, typed),
    }),
  );
  takeForm(`${SWATCHES}/swatches`, ({ asker, params: { code }, save }) =>
    save({
      schema: moreSwatchesForm(book),
      write: (tx, form) => addSwatches(tx, code, form.swatches),
      redraw: (typed) => swatchPage(book, code, asker, typed),
    }),
  );
}

/** What may be done about a shade, and its strip planned as a batch of its own. */
function correctionRoutes(book: Book, { showPage, takeForm }: Answering): void {
  showPage(`${BATCH}/correction`, ({ asker, params, typedInAddress }) =>
    correctionPage(book, params.code, asker, typedInAddress),
  );
  takeForm(`${BATCH}/correction`, ({ asker, params: { code }, save }) =>
    save({
      schema: stripForm(book),
      write: (tx, form) => planStrip(tx, code, form, asker.units),
      redraw: (typed) => correctionPage(book, code, asker, typed),
    }),
  );
  takeForm(`${BATCH}/correction/reads`, ({ asker, params: { code }, save }) =>
    save({
      schema: CORRECTION_READ,
      write: (tx, form) => logReadForCorrection(tx, code, form),
      redraw: (typed) => correctionPage(book, code, asker, typed),
    }),
  );
}

/** Graded series: worked out where the address has the depths; nothing is written by that. */
function seriesRoutes(
  book: Book,
  told: SeriesTold,
  desk: PredictionDesk,
  { showPage, showKeyedPage, takeForm }: Answering,
): void {
  showPage('/dye-bench/series', () => seriesListPage(book));
  showKeyedPage('/dye-bench/series/new', async ({ asker, typedInAddress: typed }) => {
    const asked = askedSeries(book, typed);
    const prediction = asked && (await predictSeries(book, desk, asked.clothId, asked.source));
    return newSeriesPage(book, asker, told, typed, 'asked', prediction);
  });
  takeForm('/dye-bench/series/new', ({ asker, typed, save }) =>
    save({
      schema: seriesForm(book, asker),
      write: (tx, form) =>
        makeSeries(tx, form, { units: asker.units, leastTicks: leastOf(missingFor(tx, told, typed)) }),
      redraw: (again) => {
        const asked = askedSeries(book, again);
        const prediction = asked && knownForSeries(book, desk, asked.clothId, asked.source);
        return newSeriesPage(book, asker, told, again, 'refused', prediction);
      },
    }),
  );
  showPage('/dye-bench/series/:code', async ({ asker, params: { code } }) => {
    const { cloth, from } = readSeries(book, code);
    return seriesPage(book, code, asker, await predictSeries(book, desk, cloth.id, from));
  });
}

/** Gradients within one length: how a batch is dipped, and where its cloth hung. */
function dipRoutes(book: Book, { showPage, takeForm }: Answering): void {
  showPage(`${BATCH}/dip`, ({ asker, params }) => dipPage(book, params.code, asker));
  takeForm(`${BATCH}/dip`, ({ asker, params: { code }, save }) =>
    save({
      schema: dipForm(asker),
      write: (tx, form) => planDip(tx, code, form),
      redraw: (typed) => dipPage(book, code, asker, typed),
    }),
  );
  takeForm(`${BATCH}/dip/moves`, ({ asker, params: { code }, save }) =>
    save({
      schema: DIP_MOVE,
      write: (tx, form) => logDipMove(tx, code, form),
      redraw: (typed) => dipPage(book, code, asker, typed),
    }),
  );
}

/** What is told at the pot, and what is kept of a batch beside that; refused, its page is drawn again as it was typed. */
function logRoutes(book: Book, { showPage, takeForm }: Answering): void {
  const drawBench = (code: string, asker: Asker, typed: Typed) =>
    batchBenchPage(book, code, asker, book.now(), typed);
  const drawRecord = (code: string, asker: Asker, typed: Typed = {}) => recordPage(book, code, asker, typed);
  const take = <T>(
    name: string,
    draw: (code: string, asker: Asker, typed: Typed) => Page,
    schema: z.ZodType<T>,
    write: (tx: Tx, code: string, form: T) => Answer,
  ) =>
    takeForm(`${BATCH}/${name}`, ({ asker, params: { code }, save }) =>
      save({
        schema,
        write: (tx, form) => write(tx, code, form),
        redraw: (typed) => draw(code, asker, typed),
      }),
    );
  showPage(`${BATCH}/bench`, ({ asker, params, typedInAddress }) =>
    drawBench(params.code, asker, typedInAddress),
  );
  take('logs/steps', drawBench, STEP_DONE, finishStep);
  take('logs/temperatures', drawBench, TEMPERATURE, (tx, code, { bath, temperature }) =>
    logReading(tx, code, { bath: bath.value, kind: 'temperature', value: temperature }),
  );
  take('logs/phs', drawBench, PH, (tx, code, { bath, ph }) =>
    logReading(tx, code, { bath: bath.value, kind: 'pH', value: ph }),
  );
  take('logs/reads', drawBench, READ, logReadAtPot);
  take('logs/take-backs', drawBench, TAKE_BACK, (tx, code, { bath, id }) =>
    takeBack(tx, code, { bath: bath.value, id }),
  );
  takeForm(`${BATCH}/pots`, ({ asker, params: { code }, save }) =>
    save({
      schema: potChoiceForm(book),
      write: (tx, form) => choosePot(tx, code, form),
      redraw: (typed) => drawBench(code, asker, typed),
    }),
  );
  showPage(`${BATCH}/addition`, ({ params, typedInAddress }) =>
    additionPage(book, params.code, typedInAddress),
  );
  take('addition', (code, _, typed) => additionPage(book, code, typed, 'refused'), ADDITION, addToBatch);
  showPage(`${BATCH}/by-hand`, ({ params, typedInAddress }) => byHandPage(book, params.code, typedInAddress));
  take('by-hand', (code, _, typed) => byHandPage(book, code, typed, 'refused'), BY_HAND, logByHand);
  showPage(`${BATCH}/card`, ({ asker, params, typedInAddress }) =>
    batchCardPage(book, params.code, asker, typedInAddress),
  );
  take('card', (code, asker, typed) => batchCardPage(book, code, asker, typed), BATCH_CARD, fillBatchCard);
  showPage(`${BATCH}/record`, ({ asker, params }) => drawRecord(params.code, asker));
  take('results', drawRecord, RESULT, judgeShade);
  take('swatches', drawRecord, SWATCH, keepSwatch);
  take('notes', drawRecord, NOTE, (tx, code, { note }) => logNote(tx, code, note));
}
