import type { FastifyInstance } from 'fastify';
import { idIn } from '../../kit/address.ts';
import { chosenField, shadeChoices } from '../../kit/choices.ts';
import type { Typed } from '../../kit/typed.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import type { House } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { newRecipeForm, versionForm } from './form.ts';
import { newRecipePage, versionPage } from './form-page.ts';
import { recipesPage } from './list-page.ts';
import { keepNewRecipe, keepNewVersion } from './making.ts';
import { recipePage } from './page.ts';

export function recipeRoutes(app: FastifyInstance, house: House): void {
  const shade = () => chosenField(shadeChoices(house.book), 'the shade wanted');
  app.get('/dye-bench/recipes', (request, reply) =>
    sendPage(house, request, reply, recipesPage(house.book, request.query)),
  );
  app.get('/dye-bench/recipes/new', (request, reply) =>
    sendPage(house, request, reply, newRecipePage(house.book, typedIn(request.query), 'asked')),
  );
  app.post('/dye-bench/recipes/new', (request, reply) => {
    const { typed } = readBody(request.body);
    return handlePost(house, request, reply, {
      schema: newRecipeForm(shade()),
      write: (tx, form) => keepNewRecipe(tx, form, typed),
      redraw: (sent) => newRecipePage(house.book, sent, 'refused'),
    });
  });
  app.get('/dye-bench/recipes/:id', (request, reply) =>
    sendPage(house, request, reply, recipePage(house.book, idIn(request.params))),
  );
  const path = '/dye-bench/recipes/:id/versions/new';
  app.get(path, (request, reply) => {
    const page = versionPage(house.book, idIn(request.params), typedIn(request.query), 'asked');
    return sendPage(house, request, reply, page);
  });
  app.post(path, (request, reply) => {
    const id = idIn(request.params);
    const { typed } = readBody(request.body);
    return handlePost(house, request, reply, {
      schema: versionForm(shade()),
      write: (tx, form) => keepNewVersion(tx, id, form, typed),
      redraw: (sent) => versionPage(house.book, id, sent, 'refused'),
    });
  });
}

/** What an address asks for, by the names of the form's fields. */
export function typedIn(query: unknown): Typed {
  const { done: _, ...typed } = withoutKey(readBody(query).typed);
  return typed;
}
