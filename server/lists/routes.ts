import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import multipart from '@fastify/multipart';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { idIn, queryNumber } from '../kit/address.ts';
import { Refusal, unknown } from '../refusal.ts';
import { readBody } from '../web/body.ts';
import { sendCsv } from '../web/csv.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage, wantsJson } from '../web/page.ts';
import { goOn, handlePost, readKey } from '../web/post.ts';
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
import { addList, newListPage, usualWriting, whatCame } from './in/new-page.ts';
import { listPage } from './in/page.ts';
import { PART_LIMITS, readMultipart } from './in/parts.ts';
import { ListRunner, listPath } from './in/runner.ts';
import { readList } from './in/store.ts';
import { LISTS_OUT } from './out/kinds.ts';
import { leftOut, listsPage } from './page.ts';

/** A short list is done within this, and its page shows the outcome at once. */
const PATIENCE_MS = 1500;
const NOTHING_TYPED = z.strictObject({});

interface OneList {
  Params: { id: string };
}

/** Lists that come in and go out. */
export function listRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const runner = new ListRunner(book, (error) =>
    app.log.error({ err: error }, 'the work on a list was not written down'),
  );
  app.addHook('onClose', () => runner.close());
  app.register(multipart, { limits: PART_LIMITS });
  const page = (id: number, typed = {}, after = 0) =>
    listPage(book, id, { progress: runner.progressOf(id), typed, after });

  app.get('/setup/lists', (request, reply) => sendPage(house, request, reply, listsPage(book)));
  app.get('/setup/lists/new', (request, reply) => sendPage(house, request, reply, newListPage()));
  app.post('/setup/lists', async (request, reply) => {
    const sent = await readMultipart(request);
    try {
      const came = whatCame(sent.file, sent.pasted);
      const asker = whoAsks(house, request);
      const key = readKey(sent.key);
      const asked = { name: came.name, content: createHash('sha256').update(came.bytes).digest('hex') };
      const answer = book.write({ key, asked, personId: asker.personId }, (tx) => ({
        location: listPath(addList(tx, came.name, usualWriting(asker))),
        said: `${came.name} came in.`,
      }));
      const listId = Number(answer.location.split('/').at(-1));
      if (readList(book, listId).state === 'reading' && !runner.progressOf(listId))
        runner.read(listId, came.bytes);
      await runner.waitFor(listId, PATIENCE_MS);
      return goOn(request, reply, answer, key);
    } catch (error) {
      if (!(error instanceof Refusal) || error.kind !== 'invalid') throw error;
      const redrawn = { ...newListPage({ pasted: sent.pasted }), problems: error.problems };
      return sendPage(house, request, reply, redrawn, error.status);
    }
  });

  app.get<OneList>('/setup/lists/:id', (request, reply) =>
    sendPage(house, request, reply, page(idIn(request.params), {}, afterIn(request))),
  );
  app.get<OneList>('/setup/lists/:id/left-out.csv', (request, reply) =>
    sendCsv(reply, `left-out-${idIn(request.params)}`, leftOut(book, idIn(request.params))),
  );
  app.post<OneList>('/setup/lists/:id/columns', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: COLUMNS_FORM,
      write: (tx, form) =>
        changeColumns(tx, id, form, chosenColumns(readBody(request.body).typed, readList(tx, id))),
      redraw: (typed) => page(id, typed),
      after: () => checkAgain(id),
    });
  });
  app.post<OneList>('/setup/lists/:id/rows', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: ROWS_FORM,
      write: (tx) => changeRows(tx, id, readBody(request.body).typed, afterIn(request)),
      redraw: (typed) => page(id, typed, afterIn(request)),
      after: () => checkAgain(id),
    });
  });
  app.post<OneList>('/setup/lists/:id/checks', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: NOTHING_TYPED,
      write: (tx) => checkOn(tx, id),
      redraw: () => page(id),
      after: () => checkAgain(id),
    });
  });
  app.post<OneList>('/setup/lists/:id/takings', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: TAKING_FORM,
      write: (tx, form) => beginTakingIn(tx, id, form),
      redraw: () => page(id),
      after: () => {
        if (readList(book, id).state === 'taking in' && !runner.progressOf(id)) runner.takeIn(id);
        return runner.waitFor(id, PATIENCE_MS);
      },
    });
  });
  app.post<OneList>('/setup/lists/:id/stops', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: NOTHING_TYPED,
      write: (tx) => {
        if (!runner.progressOf(id)) return putAside(tx, id);
        runner.stop(id);
        return { location: listPath(id), said: 'The work on the list is being stopped.' };
      },
      redraw: () => page(id),
      after: () => runner.waitFor(id, PATIENCE_MS),
    });
  });
  app.post<OneList>('/setup/lists/:id/take-backs', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: NOTHING_TYPED,
      write: (tx) => beginTakingBack(tx, id),
      redraw: () => page(id),
      after: () => {
        if (readList(book, id).state !== 'taken back' && !runner.progressOf(id)) runner.takeBack(id);
        return runner.waitFor(id, PATIENCE_MS);
      },
    });
  });

  function checkAgain(id: number): Promise<void> {
    if (readList(book, id).state === 'checking' && !runner.progressOf(id)) runner.check(id);
    return runner.waitFor(id, PATIENCE_MS);
  }

  app.get<{ Params: { name: string } }>('/setup/lists/out/:name', (request, reply) => {
    const [name, kind] = splitName(request.params.name);
    const list = LISTS_OUT.find((each) => each.name === name);
    if (!list || kind === null) throw unknown('such list');
    if (kind === 'csv' && !wantsJson(request))
      return sendCsv(reply, list.name, withHeading(list.heading, list.rows(book)));
    reply
      .type('application/json; charset=utf-8')
      .header('content-disposition', `attachment; filename="${list.name}.json"`);
    return reply.send(Readable.from(jsonRows(list.heading, list.rows(book))));
  });
}

/** The row of a list after which the rows with problems are shown; 0 for all of them. */
const afterIn = (request: FastifyRequest) => queryNumber(request.query, 'after') ?? 0;

function splitName(text: string): [name: string, kind: 'csv' | 'json' | null] {
  const [, name = '', kind] = /^([a-z]+)\.(csv|json)$/.exec(text) ?? [];
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
