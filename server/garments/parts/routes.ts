import type { FastifyInstance } from 'fastify';
import { queryText } from '../../kit/address.ts';
import { NOTHING_TYPED } from '../../kit/fields.ts';
import { type Asked, answering } from '../../web/answering.ts';
import { readBody } from '../../web/body.ts';
import type { House } from '../../web/house.ts';
import { readGarment } from '../garment/records.ts';
import { bareUnit } from '../quick/band-form.ts';
import { partOfKind } from './all.ts';
import { keptPartOf } from './kept.ts';
import { keptPartSchema } from './kept-form.ts';
import {
  choosePartPage,
  keptPartState,
  newPartState,
  type PartFormState,
  partFormPage,
  workOutPart,
} from './kept-page.ts';
import { addPart, changePart, putBackPart, takeOutPart } from './kept-verbs.ts';
import { PARTS, partPage, partsPage } from './page.ts';

/** Parts worked out without a garment, and those that are kept with one. */
export function partRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  const planning = answering(app, house, { GET: 'keeper' });

  // The whole question stands in the address, so that an answer can be kept: nothing is written.
  showPage(PARTS, () => partsPage());
  showPage(`${PARTS}/:part`, ({ asker, params, query }) =>
    partPage(book, params.part, readBody(query).typed, asker),
  );

  planning.showPage('/garments/:code/parts/new', ({ params }) => choosePartPage(book, params.code));
  planning.showPage('/garments/:code/parts/new/:kind', ({ asker, params, query }) => {
    const tierId = Number(queryText(query, 'tier')) || null;
    const state = newPartState(book, params.code, params.kind, tierId, asker.units);
    return partFormPage(book, state, workOutPart(book, state).answer);
  });
  takeForm('/garments/:code/parts/new/:kind', (asked) => {
    const { params, asker, typed } = asked;
    const { kind, code } = params as { readonly kind: string; readonly code: string };
    const unit = bareUnit(typed.unit, asker.units);
    const part = partOfKind(kind);
    return answerForm(asked, { garment: readGarment(book, code), part, unit, kept: null, typed, from: [] });
  });
  showPage('/garments/:code/parts/:id', ({ params, id }) => {
    const garment = readGarment(book, params.code);
    const state = keptPartState(garment, keptPartOf(garment, id));
    return partFormPage(book, state, workOutPart(book, state).answer);
  });
  takeForm('/garments/:code/parts/:id', (asked) => {
    const { params, id, asker, typed } = asked;
    const garment = readGarment(book, params.code);
    const kept = keptPartOf(garment, id);
    const unit = bareUnit(typed.unit ?? kept.unit, asker.units);
    return answerForm(asked, { ...keptPartState(garment, kept), unit, typed });
  });
  for (const [verb, step] of [
    ['taken-out', takeOutPart],
    ['put-back', putBackPart],
  ] as const)
    takeForm(`/garments/:code/parts/:id/${verb}`, ({ params, id, save }) => {
      const garment = readGarment(book, params.code);
      return save({
        schema: NOTHING_TYPED,
        write: (tx) => step(tx, garment.code, id),
        redraw: () => {
          const state = keptPartState(garment, keptPartOf(garment, id));
          return partFormPage(book, state, workOutPart(book, state).answer);
        },
      });
    });

  /** Works a part's form out without saving it where that is asked; saves it otherwise. */
  function answerForm({ typed, workedOut, save }: Asked, state: PartFormState) {
    if (typed.act === 'work-out') {
      const { answer, problems } = workOutPart(book, state);
      return workedOut(partFormPage(book, state, answer), problems);
    }
    const { garment, part, unit, kept } = state;
    return save({
      schema: keptPartSchema(book, part, unit),
      write: (tx, form) => {
        const sent = { part, unit, typed, form };
        return kept ? changePart(tx, garment.code, kept.id, sent) : addPart(tx, garment.code, sent);
      },
      redraw: (again) => partFormPage(book, { ...state, typed: again }, null),
    });
  }
}
