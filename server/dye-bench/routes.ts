import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import type { Answer, Tx } from '../database/book.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { readWorkroom } from '../kit/workroom.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { finishBatch, finishForm } from './batch/finish.ts';
import { finishPage } from './batch/finish-page.ts';
import { batchPage } from './batch/page.ts';
import { batchPlanForm, planBatch } from './batch/plan.ts';
import { batchPlanPage } from './batch/plan-page.ts';
import { repeatBatch, repeatPage } from './batch/repeat.ts';
import { tagPage } from './batch/tag-page.ts';
import { cancelBatch, putBatchBack, startBatch } from './batch/verbs.ts';
import { fibresPage } from './dyes/fibres-page.ts';
import { dyeForm } from './dyes/form.ts';
import { dyePage, dyesPage } from './dyes/page.ts';
import { addDye, changeDye, putDyeAway, takeDyeBack } from './dyes/verbs.ts';
import { dyeBenchPage } from './overview.ts';
import { ADDITION, additionPage, addToBatch } from './pot/addition.ts';
import { NOTE, PH, STEP_DONE, TAKE_BACK, TEMPERATURE } from './pot/log-forms.ts';
import { finishStep, logNote, logReading, takeBack } from './pot/log-verbs.ts';
import { batchBenchPage } from './pot/page.ts';
import { quickBathPage } from './quick/page.ts';
import { newRecipeForm, versionForm } from './recipe/form.ts';
import { newRecipePage, versionPage } from './recipe/form-page.ts';
import { recipesPage } from './recipe/list-page.ts';
import { recipePage } from './recipe/page.ts';
import { keepNewRecipe, keepNewVersion } from './recipe/verbs.ts';
import { judgeShade, keepSwatch, RESULT, SWATCH } from './record/forms.ts';
import { recordPage } from './record/page.ts';
import { BALANCE, VESSEL } from './vessels/form.ts';
import { vesselPage, vesselsPage } from './vessels/page.ts';
import { addVessel, changeVessel, putVesselAway, setBalance, takeVesselBack } from './vessels/verbs.ts';

const BATCH = '/dye-bench/batches/:code';

export function dyeBenchRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage } = answering(app, house);
  showPage('/dye-bench', ({ asker, query }) => dyeBenchPage(book, asker, book.now(), query));
  showPage('/dye-bench/quick', ({ typedInAddress }) =>
    quickBathPage(typedInAddress, readWorkroom(book).balanceMg),
  );
  showPage('/dye-bench/fibres', fibresPage);
  dyeRoutes(app, house);
  vesselRoutes(app, house);
  recipeRoutes(app, house);
  planRoutes(app, house);
  batchRoutes(app, house);
  potRoutes(app, house);
  recordRoutes(app, house);
}

function dyeRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  const schema = () => dyeForm(readWorkroom(book).currency);
  showPage('/dye-bench/dyes', () => dyesPage(book));
  takeForm('/dye-bench/dyes', ({ save }) =>
    save({ schema: schema(), write: addDye, redraw: (typed) => dyesPage(book, typed) }),
  );
  showPage('/dye-bench/dyes/:id', ({ id }) => dyePage(book, id));
  takeForm('/dye-bench/dyes/:id', ({ id, save }) =>
    save({
      schema: schema(),
      write: (tx, form) => changeDye(tx, id, form),
      redraw: (typed) => dyePage(book, id, typed),
    }),
  );
  for (const [name, change] of Object.entries({ 'put-aways': putDyeAway, 'take-backs': takeDyeBack })) {
    takeForm(`/dye-bench/dyes/:id/${name}`, ({ id, save }) =>
      save({ schema: NOTHING_TYPED, write: (tx) => change(tx, id), redraw: () => dyesPage(book) }),
    );
  }
}

function vesselRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
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

function recipeRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage('/dye-bench/recipes', ({ query }) => recipesPage(book, query));
  showPage('/dye-bench/recipes/new', ({ typedInAddress }) => newRecipePage(book, typedInAddress, 'asked'));
  takeForm('/dye-bench/recipes/new', ({ typed, save }) =>
    save({
      schema: newRecipeForm(book),
      write: (tx, form) => keepNewRecipe(tx, form, typed),
      redraw: (again) => newRecipePage(book, again, 'refused'),
    }),
  );
  showPage('/dye-bench/recipes/:id', ({ id }) => recipePage(book, id));
  showPage('/dye-bench/recipes/:id/versions/new', ({ id, typedInAddress }) =>
    versionPage(book, id, typedInAddress, 'asked'),
  );
  takeForm('/dye-bench/recipes/:id/versions/new', ({ id, typed, save }) =>
    save({
      schema: versionForm(book),
      write: (tx, form) => keepNewVersion(tx, id, form, typed),
      redraw: (again) => versionPage(book, id, again, 'refused'),
    }),
  );
}

/** Planning and repeating work a batch out where the address has what is needed for that; nothing is written. */
function planRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, showKeyedPage, takeForm } = answering(app, house);
  showKeyedPage('/dye-bench/batches/new', ({ asker, typedInAddress }) =>
    batchPlanPage(book, asker, typedInAddress, 'asked'),
  );
  takeForm('/dye-bench/batches/new', ({ asker, save }) =>
    save({
      schema: batchPlanForm(book, asker),
      write: (tx, form) => planBatch(tx, form, asker.units),
      redraw: (typed) => batchPlanPage(book, asker, typed, 'refused'),
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

function batchRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
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
      write: (tx, form) => finishBatch(tx, code, form, asker.units),
      redraw: (typed) => finishPage(book, code, asker, typed),
    }),
  );
}

/** What is told at the pot; refused, the bench is drawn again with what was typed. */
function potRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage(`${BATCH}/bench`, ({ asker, params, typedInAddress }) =>
    batchBenchPage(book, params.code, asker, book.now(), typedInAddress),
  );
  const takeLog = <T>(name: string, schema: z.ZodType<T>, write: Write<T>) =>
    takeForm(`${BATCH}/logs/${name}`, ({ asker, params: { code }, save }) =>
      save({
        schema,
        write: (tx, form) => write(tx, code, form),
        redraw: (typed) => batchBenchPage(book, code, asker, book.now(), typed),
      }),
    );
  takeLog('steps', STEP_DONE, finishStep);
  takeLog('temperatures', TEMPERATURE, (tx, code, { bath, temperature }) =>
    logReading(tx, code, { bath: bath.value, kind: 'temperature', value: temperature }),
  );
  takeLog('phs', PH, (tx, code, { bath, ph }) =>
    logReading(tx, code, { bath: bath.value, kind: 'pH', value: ph }),
  );
  takeLog('take-backs', TAKE_BACK, (tx, code, { bath, id }) => takeBack(tx, code, { bath: bath.value, id }));
  showPage(`${BATCH}/addition`, ({ params, typedInAddress }) =>
    additionPage(book, params.code, typedInAddress),
  );
  takeForm(`${BATCH}/addition`, ({ params: { code }, save }) =>
    save({
      schema: ADDITION,
      write: (tx, form) => addToBatch(tx, code, form),
      redraw: (typed) => additionPage(book, code, typed, 'refused'),
    }),
  );
}

type Write<T> = (tx: Tx, code: string, form: T) => Answer;

/** What is kept of a batch beside its log. */
function recordRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage(`${BATCH}/record`, ({ asker, params }) => recordPage(book, params.code, asker));
  const takeRecord = <T>(name: string, schema: z.ZodType<T>, write: Write<T>) =>
    takeForm(`${BATCH}/${name}`, ({ asker, params: { code }, save }) =>
      save({
        schema,
        write: (tx, form) => write(tx, code, form),
        redraw: (typed) => recordPage(book, code, asker, typed),
      }),
    );
  takeRecord('results', RESULT, judgeShade);
  takeRecord('swatches', SWATCH, keepSwatch);
  takeRecord('notes', NOTE, (tx, code, { note }) => logNote(tx, code, note));
}
