import type { FastifyInstance } from 'fastify';
import type { Answer, Tx } from '../../database/book.ts';
import { queryNumber, queryText } from '../../kit/address.ts';
import { placeChoices } from '../../kit/choices.ts';
import { answering } from '../../web/answering.ts';
import type { Asker, House } from '../../web/house.ts';
import { inspectionForm, inspectPiece } from '../inspection/form.ts';
import { inspectionPage } from '../inspection/page.ts';
import { readGradingRule } from '../inspection/store.ts';
import type { ShelfTold } from '../told.ts';
import { readPieceId } from './facts.ts';
import { flawForm, markFlaw, STRIKE_FORM, strikeFlaw } from './flaw-form.ts';
import { flawPage } from './flaw-page.ts';
import {
  giveBack,
  movePiece,
  PIECE_FORMS,
  type PieceForm,
  type PieceFormName,
  pieceForms,
  writeOffFromForm,
  writeRecount,
  writeSplit,
} from './forms.ts';
import { piecePage } from './page.ts';
import { measureWidth } from './width.ts';

/** A piece: its page, and what can be done to it, each a resource of its own. */
export function pieceRoutes(app: FastifyInstance, house: House, told: ShelfTold): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house, { POST: 'hand' });
  const returning = answering(app, house, { POST: 'keeper' });
  showPage('/shelf/pieces/:code', ({ asker, params, query }) =>
    piecePage(book, readPieceId(book, params.code), asker, told, { before: queryNumber(query, 'before') }),
  );

  /** Carries out one form of a piece; refused, the piece's page is drawn again with that form open. */
  function change<Name extends PieceFormName>(
    name: Name,
    write: (tx: Tx, pieceId: number, form: PieceForm<Name>, asker: Asker) => Answer,
  ): void {
    const { takeForm: take } = name === 'return' ? returning : { takeForm };
    take(`/shelf/pieces/:code/${PIECE_FORMS[name].resource}`, ({ asker, params, save }) => {
      const pieceId = readPieceId(book, params.code);
      return save({
        schema: pieceForms(asker, placeChoices(book))[name],
        write: (tx, form) => write(tx, pieceId, form, asker),
        redraw: (typed) => piecePage(book, pieceId, asker, told, { open: name, typed }),
      });
    });
  }
  change('split', writeSplit);
  change('move', movePiece);
  change('recount', (tx, pieceId, form, asker) =>
    told.withPlanWayOn(tx, pieceId, () => writeRecount(tx, pieceId, form, asker)),
  );
  change('width', (tx, pieceId, form, asker) =>
    told.withFallenOut(tx, pieceId, asker.units, measureWidth(tx, pieceId, form, asker)),
  );
  change('write-off', writeOffFromForm);
  change('return', giveBack);

  showPage('/shelf/pieces/:code/flaws', ({ asker, params, query }) =>
    flawPage(book, readPieceId(book, params.code), asker, told, queryText(query, 'back').slice(0, 40)),
  );
  takeForm('/shelf/pieces/:code/flaws', ({ asker, params, save }) => {
    const pieceId = readPieceId(book, params.code);
    return save({
      schema: flawForm(asker.units),
      write: (tx, form) => told.withFallenOut(tx, pieceId, asker.units, markFlaw(tx, pieceId, form, asker)),
      redraw: (typed) => flawPage(book, pieceId, asker, told, typed.back ?? '', typed),
    });
  });
  takeForm('/shelf/pieces/:code/flaws/:flaw/strikes', ({ asker, params, save }) => {
    const pieceId = readPieceId(book, params.code);
    return save({
      schema: STRIKE_FORM,
      write: (tx, form) => strikeFlaw(tx, pieceId, queryNumber(params, 'flaw') ?? 0, form.back, asker),
      redraw: (typed) => flawPage(book, pieceId, asker, told, typed.back ?? ''),
    });
  });

  showPage('/shelf/pieces/:code/inspections', ({ asker, params }) =>
    inspectionPage(book, params.code, asker),
  );
  takeForm('/shelf/pieces/:code/inspections', ({ asker, params: { code }, typed, save }) => {
    const pieceId = readPieceId(book, code);
    return save({
      schema: inspectionForm(asker),
      write: (tx, form) => inspectPiece(tx, pieceId, form, readGradingRule(tx), typed, asker),
      redraw: (again) => inspectionPage(book, code, asker, again),
    });
  });
}
