import type { FastifyInstance } from 'fastify';
import { FIRST_RECIPE } from '../../kit/paths.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { shadeAgainPage } from './again-page.ts';
import { PredictionDesk } from './desk.ts';
import { expectedShadePage } from './expected-page.ts';
import { firstRecipePage } from './first-page.ts';
import { dyedSwatchForm, takeOutForm } from './swatch-form.ts';
import { knownSwatchesPage } from './swatches-page.ts';
import { recordSwatch, takeSwatchOut } from './verbs.ts';

/** Shades predicted from swatches. Gives the desk that learns from them, which ends with the app. */
export function firstRecipeRoutes(app: FastifyInstance, house: House): PredictionDesk {
  const { book } = house;
  const desk = new PredictionDesk();
  app.addHook('onClose', () => desk.close());
  const { showPage, takeForm } = answering(app, house);
  showPage(FIRST_RECIPE, ({ asker, typedInAddress }) => firstRecipePage(book, desk, asker, typedInAddress));
  showPage(`${FIRST_RECIPE}/expected`, ({ typedInAddress }) => expectedShadePage(book, desk, typedInAddress));
  showPage(`${FIRST_RECIPE}/again`, ({ typedInAddress }) => shadeAgainPage(book, desk, typedInAddress));
  showPage(`${FIRST_RECIPE}/swatches`, ({ typedInAddress }) => knownSwatchesPage(book, typedInAddress));
  takeForm(`${FIRST_RECIPE}/swatches`, ({ save }) =>
    save({
      schema: dyedSwatchForm(book),
      write: recordSwatch,
      redraw: (typed) => knownSwatchesPage(book, typed),
    }),
  );
  takeForm(`${FIRST_RECIPE}/take-outs`, ({ save }) =>
    save({
      schema: takeOutForm(book, null),
      write: (tx, { swatch_id }) => takeSwatchOut(tx, swatch_id),
      redraw: (typed) => knownSwatchesPage(book, typed),
    }),
  );
  return desk;
}
