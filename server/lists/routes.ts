import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import multipart from '@fastify/multipart';
import type { FastifyInstance } from 'fastify';
import { queryNumber, queryText } from '../kit/address.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { orProblems, Refusal, unknown } from '../refusal.ts';
import type { ShelfTold } from '../shelf/told.ts';
import { answering } from '../web/answering.ts';
import { withoutKey } from '../web/body.ts';
import { sendCsv } from '../web/csv.ts';
import type { House } from '../web/house.ts';
import { readMultipart } from '../web/multipart.ts';
import { wantsJson } from '../web/page.ts';
import { goOn, readForm, readKey } from '../web/post.ts';
import {
  beginTakingBack,
  beginTakingIn,
  COLUMNS_FORM,
  changeColumns,
  changeRows,
  checkOn,
  chosenColumns,
  putAside,
  ROWS_FORM,
  TAKING_FORM,
} from './in/forms.ts';
import { addList, newListPage, usualWriting, whatCame } from './in/new-list.ts';
import { leftOut, listPage } from './in/page.ts';
import { LIST_LIMITS } from './in/parts.ts';
import { ListRunner, listPath } from './in/runner.ts';
import { readList } from './in/store.ts';
import { supplyListForm, supplyListPage, takeInSupplyList } from './in/supply-list.ts';
import { LISTS_OUT } from './out/kinds.ts';
import { listsPage } from './page.ts';

/** A short list is done within this, and its page shows the outcome at once. */
const PATIENCE_MS = 1500;

/** Lists that come in and go out. */
export function listRoutes(app: FastifyInstance, house: House, told: Pick<ShelfTold, 'readNeeded'>): void {
  const { book } = house;
  const { answer, showPage, takeForm } = answering(app, house);
  const runner = new ListRunner(book, (error) =>
    app.log.error({ err: error }, 'the work on a list was not written down'),
  );
  app.addHook('onClose', () => runner.close());
  app.register(multipart);
  const page = (id: number, typed = {}, after = 0) =>
    listPage(book, id, { progress: runner.progressOf(id), typed, after });
  const checkAgain = (id: number) => {
    if (readList(book, id).state === 'checking' && !runner.progressOf(id)) runner.check(id);
    return runner.waitFor(id, PATIENCE_MS);
  };

  showPage('/setup/lists', () => listsPage(book));
  showPage('/setup/lists/new', () => newListPage());
  showPage('/setup/lists/supplies', ({ asker }) => supplyListPage(asker));
  takeForm('/setup/lists/supplies', ({ asker, query, body, typed, save, show }) => {
    const schema = supplyListForm(book, asker);
    if (queryText(query, 'see') === 'list') {
      const { value: form, problems } = orProblems(() => readForm(schema, withoutKey(body)));
      return show({ ...supplyListPage(asker, typed, form), problems });
    }
    return save({
      schema,
      write: takeInSupplyList,
      redraw: (again) => supplyListPage(asker, again),
    });
  });
  takeForm('/setup/lists', async ({ asker, request, reply, show }) => {
    const { typed, files } = await readMultipart(request, LIST_LIMITS);
    const { pasted = '' } = typed;
    try {
      const came = whatCame(files.file ?? null, pasted);
      const key = readKey(typed.request_key);
      const asked = { name: came.name, content: createHash('sha256').update(came.bytes).digest('hex') };
      const saved = book.write({ key, asked, personId: asker.personId, deviceId: asker.deviceId }, (tx) => ({
        location: listPath(addList(tx, came.name, usualWriting(asker))),
        said: `${came.name} came in.`,
      }));
      const listId = Number(saved.location.split('/').at(-1));
      if (readList(book, listId).state === 'reading' && !runner.progressOf(listId))
        runner.read(listId, came.bytes);
      await runner.waitFor(listId, PATIENCE_MS);
      return goOn(request, reply, saved, key);
    } catch (error) {
      if (!(error instanceof Refusal) || error.kind !== 'invalid') throw error;
      return show({ ...newListPage(pasted), problems: error.problems });
    }
  });

  showPage('/setup/lists/:id', ({ id, query }) => page(id, {}, afterIn(query)));
  answer('/setup/lists/:id/left-out.csv', ({ id, reply }) =>
    sendCsv(reply, `left-out-${id}`, leftOut(book, id)),
  );
  takeForm('/setup/lists/:id/columns', ({ id, typed, save }) =>
    save({
      schema: COLUMNS_FORM,
      write: (tx, form) => changeColumns(tx, id, form, chosenColumns(typed, readList(tx, id))),
      redraw: (again) => page(id, again),
      after: () => checkAgain(id),
    }),
  );
  takeForm('/setup/lists/:id/rows', ({ id, query, typed, save }) =>
    save({
      schema: ROWS_FORM,
      write: (tx) => changeRows(tx, id, typed, afterIn(query)),
      redraw: (again) => page(id, again, afterIn(query)),
      after: () => checkAgain(id),
    }),
  );
  takeForm('/setup/lists/:id/checks', ({ id, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => checkOn(tx, id),
      redraw: () => page(id),
      after: () => checkAgain(id),
    }),
  );
  takeForm('/setup/lists/:id/takings', ({ id, save }) =>
    save({
      schema: TAKING_FORM,
      write: (tx, form) => beginTakingIn(tx, id, form),
      redraw: () => page(id),
      after: () => {
        if (readList(book, id).state === 'taking in' && !runner.progressOf(id)) runner.takeIn(id);
        return runner.waitFor(id, PATIENCE_MS);
      },
    }),
  );
  takeForm('/setup/lists/:id/stops', ({ id, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => {
        if (!runner.progressOf(id)) return putAside(tx, id);
        runner.stop(id);
        return { location: listPath(id), said: 'The work on the list is being stopped.' };
      },
      redraw: () => page(id),
      after: () => runner.waitFor(id, PATIENCE_MS),
    }),
  );
  takeForm('/setup/lists/:id/take-backs', ({ id, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => beginTakingBack(tx, id),
      redraw: () => page(id),
      after: () => {
        if (readList(book, id).state !== 'taken back' && !runner.progressOf(id)) runner.takeBack(id);
        return runner.waitFor(id, PATIENCE_MS);
      },
    }),
  );

  answer('/setup/lists/out/:name', ({ params, request, reply }) => {
    const [name, kind] = splitName(params.name);
    const list = LISTS_OUT.find((each) => each.name === name);
    if (!list || kind === null) throw unknown('such list');
    if (kind === 'csv' && !wantsJson(request))
      return sendCsv(reply, list.name, withHeading(list.heading, list.rows(book, told.readNeeded)));
    reply
      .type('application/json; charset=utf-8')
      .header('content-disposition', `attachment; filename="${list.name}.json"`);
    return reply.send(Readable.from(jsonRows(list.heading, list.rows(book, told.readNeeded))));
  });
}

/** The row of a list after which the rows with problems are shown; 0 for all of them. */
const afterIn = (query: unknown) => queryNumber(query, 'after') ?? 0;

function splitName(text: string): [name: string, kind: 'csv' | 'json' | null] {
  const [, name = '', kind] = /^([a-z]+(?:-[a-z]+)*)\.(csv|json)$/.exec(text) ?? [];
  return [name, kind === 'csv' || kind === 'json' ? kind : null];
}

function* withHeading(
  heading: readonly string[],
  rows: Iterable<readonly string[]>,
): Generator<readonly string[]> {
  yield heading;
  yield* rows;
}

function* jsonRows(heading: readonly string[], rows: Iterable<readonly string[]>): Generator<string> {
  let before = '[\n';
  for (const row of rows) {
    yield `${before}${JSON.stringify(Object.fromEntries(heading.map((name, at) => [name, row[at] ?? ''])))}`;
    before = ',\n';
  }
  yield before === '[\n' ? '[]\n' : '\n]\n';
}
