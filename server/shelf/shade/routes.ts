import type { FastifyInstance } from 'fastify';
import { idIn } from '../../kit/address.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { shadeForm } from './form.ts';
import { shadeFormPage, shadePage, shadesPage } from './pages.ts';
import { addShade, changeShade, readShade } from './store.ts';

export function shadeRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get('/shelf/shades', (request, reply) =>
    sendPage(house, request, reply, shadesPage(book, request.query, whoAsks(house, request))),
  );

  app.get('/shelf/shades/new', (request, reply) =>
    sendPage(house, request, reply, shadeFormPage(book, null)),
  );
  app.post('/shelf/shades/new', (request, reply) =>
    handlePost(house, request, reply, {
      schema: shadeForm(),
      write: (tx, form) => addShade(tx, form),
      redraw: (typed) => shadeFormPage(book, null, typed),
    }),
  );

  app.get('/shelf/shades/:id', (request, reply) =>
    sendPage(house, request, reply, shadePage(book, idIn(request.params), whoAsks(house, request))),
  );
  app.get('/shelf/shades/:id/edit', (request, reply) =>
    sendPage(house, request, reply, shadeFormPage(book, idIn(request.params))),
  );
  app.post('/shelf/shades/:id/edit', (request, reply) => {
    const { id } = readShade(book, idIn(request.params));
    return handlePost(house, request, reply, {
      schema: shadeForm(),
      write: (tx, form) => changeShade(tx, id, form),
      redraw: (typed) => shadeFormPage(book, id, typed),
    });
  });
}
