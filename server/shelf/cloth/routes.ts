import type { FastifyInstance } from 'fastify';
import { idIn } from '../../kit/address.ts';
import { supplierChoices } from '../../kit/choices.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { clothForm } from './form.ts';
import { clothFormPage, clothPage, clothsPage } from './pages.ts';
import { addCloth, changeCloth, readCloth } from './store.ts';

export function clothRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get('/shelf/cloths', (request, reply) =>
    sendPage(house, request, reply, clothsPage(book, request.query, whoAsks(house, request))),
  );

  app.get('/shelf/cloths/new', (request, reply) =>
    sendPage(house, request, reply, clothFormPage(book, whoAsks(house, request), null)),
  );
  app.post('/shelf/cloths/new', (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: clothForm(asker.units, supplierChoices(book)),
      write: (tx, form) => addCloth(tx, form, asker.units),
      redraw: (typed) => clothFormPage(book, asker, null, typed),
    });
  });

  app.get('/shelf/cloths/:id', (request, reply) =>
    sendPage(house, request, reply, clothPage(book, idIn(request.params), whoAsks(house, request))),
  );
  app.get('/shelf/cloths/:id/edit', (request, reply) =>
    sendPage(house, request, reply, clothFormPage(book, whoAsks(house, request), idIn(request.params))),
  );
  app.post('/shelf/cloths/:id/edit', (request, reply) => {
    const asker = whoAsks(house, request);
    const { id } = readCloth(book, idIn(request.params));
    return handlePost(house, request, reply, {
      schema: clothForm(asker.units, supplierChoices(book)),
      write: (tx, form) => changeCloth(tx, id, form, asker.units),
      redraw: (typed) => clothFormPage(book, asker, id, typed),
    });
  });
}
