import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { queryNumber, queryText } from '../kit/address.ts';
import { placeChoices } from '../kit/choices.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { answering } from '../web/answering.ts';
import type { Asker, House } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { cutAtBench, layBenchForm, layBenchPage } from './lay/bench.ts';
import { cutSheetPage } from './lay/cut-sheet.ts';
import { cutLayByForm, layForm, layPage } from './lay/page.ts';
import { cuttingTablePage } from './overview.ts';
import { planRoutes } from './plan/routes.ts';
import { benchForm, benchPage, cutOneLength } from './tier/bench.ts';
import { cutByForm, cutForm } from './tier/cut-form.ts';
import { cutListPage } from './tier/cut-list.ts';
import { type AskedCutPage, cutPage } from './tier/cut-page.ts';
import { holdPage, releasePage } from './tier/hold-page.ts';
import { holdForm, holdForTier, releaseAll, releaseForm, releaseForTier } from './tier/holding.ts';
import { sendStripsToPleater, stripsToPleaterForm, stripsToPleaterPage } from './tier/pleating.ts';
import { readTierId } from './tier/table.ts';

export function cuttingTableRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage } = answering(app, house);
  showPage('/cutting-table', ({ query }) => cuttingTablePage(book, query, book.now()));
  tierRoutes(app, house);
  layRoutes(app, house);
  planRoutes(app, house);
}

/** A form for a piece: what it asks, its page, which is drawn again where it is refused, and what it writes. */
interface PieceForm<T> {
  schema(units: Units): z.ZodType<T>;
  page(reader: Reader, code: string, tierId: number, asker: Asker, asked: AskedCutPage): Page;
  write(tx: Tx, code: string, tierId: number, form: T, asker: Asker): Answer;
}

/** The cut list of a tier, what is held, released and cut for it, and its bench. */
function tierRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  showPage('/cutting-table/:code/:tier', ({ params: { code, tier }, asker }) =>
    cutListPage(book, code, readTierId(tier), asker),
  );
  const pieceRoutes = <T>(name: string, form: PieceForm<T>) => {
    const path = `/cutting-table/:code/:tier/${name}` as const;
    showPage(path, ({ params: { code, tier }, query, asker }) =>
      form.page(book, code, readTierId(tier), asker, askedIn(query)),
    );
    takeForm(path, ({ params: { code, tier }, query, asker, save }) => {
      const tierId = readTierId(tier);
      return save({
        schema: form.schema(asker.units),
        write: (tx, read) => form.write(tx, code, tierId, read, asker),
        redraw: (typed) => form.page(book, code, tierId, asker, { ...askedIn(query), typed }),
      });
    });
  };
  pieceRoutes('holds', { schema: holdForm, page: holdPage, write: holdForTier });
  pieceRoutes('releases', { schema: releaseForm, page: releasePage, write: releaseForTier });
  pieceRoutes('cuts', {
    schema: (units) => cutForm(units, placeChoices(book)),
    page: cutPage,
    write: cutByForm,
  });
  takeForm('/cutting-table/:code/:tier/releases/all', ({ params: { code, tier }, asker, save }) => {
    const tierId = readTierId(tier);
    return save({
      schema: NOTHING_TYPED,
      write: (tx) => releaseAll(tx, code, tierId),
      redraw: () => cutListPage(book, code, tierId, asker),
    });
  });

  showPage('/cutting-table/:code/:tier/pleating', ({ params: { code, tier }, asker, today }) =>
    stripsToPleaterPage(book, code, readTierId(tier), { ...asker, today }),
  );
  takeForm('/cutting-table/:code/:tier/pleating', ({ params: { code, tier }, asker, today, save }) => {
    const tierId = readTierId(tier);
    return save({
      schema: stripsToPleaterForm(book, asker),
      write: (tx, form) => sendStripsToPleater(tx, code, tierId, form),
      redraw: (typed) => stripsToPleaterPage(book, code, tierId, { ...asker, today }, typed),
    });
  });

  showPage('/cutting-table/:code/:tier/bench', ({ params: { code, tier }, asker }) =>
    benchPage(book, code, readTierId(tier), asker),
  );
  takeForm('/cutting-table/:code/:tier/bench', ({ params: { code, tier }, asker, save }) => {
    const tierId = readTierId(tier);
    return save({
      schema: benchForm(),
      write: (tx, form) => cutOneLength(tx, code, tierId, form, asker),
      redraw: () => benchPage(book, code, tierId, asker),
    });
  });
}

/** Cutting the lays that are held for a garment. */
function layRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  showPage('/cutting-table/:code/sheet', ({ params, asker }) => cutSheetPage(book, params.code, asker));
  showPage('/cutting-table/:code/bench', ({ params, asker }) => layBenchPage(book, params.code, asker));
  takeForm('/cutting-table/:code/bench', ({ params: { code }, asker, save }) =>
    save({
      schema: layBenchForm(),
      write: (tx, form) => cutAtBench(tx, code, form, asker),
      redraw: () => layBenchPage(book, code, asker),
    }),
  );
  showPage('/cutting-table/:code/lays/:id', ({ params, id, asker }) => layPage(book, params.code, id, asker));
  takeForm('/cutting-table/:code/lays/:id', ({ params: { code }, id, asker, save }) =>
    save({
      schema: layForm(asker.units, placeChoices(book)),
      write: (tx, form) => cutLayByForm(tx, code, id, form, asker),
      redraw: (typed) => layPage(book, code, id, asker, typed),
    }),
  );
}

function askedIn(query: unknown): AskedCutPage {
  return {
    piece: queryText(query, 'piece').slice(0, 40),
    strips: queryNumber(query, 'strips'),
    back: queryText(query, 'back') === 'bench' ? 'bench' : '',
  };
}
