import type { FastifyInstance } from 'fastify';
import { idIn } from '../kit/address.ts';
import type { Typed } from '../kit/typed.ts';
import { readWorkroom } from '../kit/workroom.ts';
import type { House } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { fibresPage } from './dyes/fibres-page.ts';
import { dyePage, dyesPage } from './dyes/page.ts';
import { addDye, changeDye, dyeForm, putDyeAway, takeDyeBack } from './dyes/store.ts';
import { quickBathPage } from './quick/page.ts';
import { typedIn } from './recipe/routes.ts';
import {
  addVessel,
  BALANCE,
  changeVessel,
  NOTHING_TYPED,
  putVesselAway,
  setBalance,
  takeVesselBack,
  VESSEL,
  vesselPage,
  vesselsPage,
} from './vessels/vessels.ts';

/** The quick bath, what fibres take, the workroom's dyes and vessels, and what its balance resolves. */
export function amountRoutes(app: FastifyInstance, house: House): void {
  app.get('/dye-bench/quick', (request, reply) => {
    const page = quickBathPage(typedIn(request.query), readWorkroom(house.book).balanceMg);
    return sendPage(house, request, reply, page);
  });
  app.get('/dye-bench/fibres', (request, reply) => sendPage(house, request, reply, fibresPage()));
  dyeRoutes(app, house);
  vesselRoutes(app, house);
}

function dyeRoutes(app: FastifyInstance, house: House): void {
  const schema = () => dyeForm(readWorkroom(house.book).currency);
  app.get('/dye-bench/dyes', (request, reply) => sendPage(house, request, reply, dyesPage(house.book)));
  app.post('/dye-bench/dyes', (request, reply) =>
    handlePost(house, request, reply, {
      schema: schema(),
      write: addDye,
      redraw: (typed) => dyesPage(house.book, typed),
    }),
  );
  app.get('/dye-bench/dyes/:id', (request, reply) =>
    sendPage(house, request, reply, dyePage(house.book, idIn(request.params))),
  );
  app.post('/dye-bench/dyes/:id', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: schema(),
      write: (tx, form) => changeDye(tx, id, form),
      redraw: (typed) => dyePage(house.book, id, typed),
    });
  });
  const changes = { 'put-aways': putDyeAway, 'take-backs': takeDyeBack };
  for (const [name, change] of Object.entries(changes)) {
    app.post(`/dye-bench/dyes/:id/${name}`, (request, reply) =>
      handlePost(house, request, reply, {
        schema: NOTHING_TYPED,
        write: (tx) => change(tx, idIn(request.params)),
        redraw: () => dyesPage(house.book),
      }),
    );
  }
}

function vesselRoutes(app: FastifyInstance, house: House): void {
  const redraw = (typed: Typed) => vesselsPage(house.book, typed);
  app.get('/dye-bench/vessels', (request, reply) => sendPage(house, request, reply, vesselsPage(house.book)));
  app.post('/dye-bench/vessels', (request, reply) =>
    handlePost(house, request, reply, { schema: VESSEL, write: addVessel, redraw }),
  );
  app.post('/dye-bench/balance', (request, reply) =>
    handlePost(house, request, reply, { schema: BALANCE, write: setBalance, redraw }),
  );
  app.get('/dye-bench/vessels/:id', (request, reply) =>
    sendPage(house, request, reply, vesselPage(house.book, idIn(request.params))),
  );
  app.post('/dye-bench/vessels/:id', (request, reply) => {
    const id = idIn(request.params);
    return handlePost(house, request, reply, {
      schema: VESSEL,
      write: (tx, form) => changeVessel(tx, id, form),
      redraw: (typed) => vesselPage(house.book, id, typed),
    });
  });
  const changes = { 'put-aways': putVesselAway, 'take-backs': takeVesselBack };
  for (const [name, change] of Object.entries(changes)) {
    app.post(`/dye-bench/vessels/:id/${name}`, (request, reply) =>
      handlePost(house, request, reply, {
        schema: NOTHING_TYPED,
        write: (tx) => change(tx, idIn(request.params)),
        redraw: () => vesselsPage(house.book),
      }),
    );
  }
}
