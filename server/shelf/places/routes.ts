import type { FastifyInstance } from 'fastify';
import { idIn } from '../../kit/address.ts';
import type { House } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { addPlace, PLACE_FORM, placesPage, renamePlace } from './places.ts';

export function placeRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get('/shelf/places', (request, reply) => sendPage(house, request, reply, placesPage(book)));
  app.post('/shelf/places', (request, reply) =>
    handlePost(house, request, reply, {
      schema: PLACE_FORM,
      write: (tx, form) => addPlace(tx, form),
      redraw: (typed) => placesPage(book, { typed }),
    }),
  );
  app.post('/shelf/places/:id/names', (request, reply) => {
    const placeId = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: PLACE_FORM,
      write: (tx, form) => renamePlace(tx, placeId, form),
      redraw: (typed) => placesPage(book, { renaming: placeId, typed }),
    });
  });
}
