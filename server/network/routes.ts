import type { FastifyInstance } from 'fastify';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { certificateRoutes } from './certificate/routes.ts';
import { deviceRoutes } from './devices/routes.ts';
import { joinRoutes } from './join/routes.ts';
import type { NetworkListener } from './listener.ts';
import { switchRoutes } from './switch/routes.ts';
import { whoRoutes } from './who/routes.ts';

/** The workroom's network: switched, devices let in, people signed in. */
export function networkRoutes(app: FastifyInstance, house: House, listener: NetworkListener): void {
  switchRoutes(app, house, listener);
  deviceRoutes(app, house, listener);
  certificateRoutes(app, house, listener);
  joinRoutes(app, house);
  whoRoutes(app, house);
  // Pages ask it whether the workroom's computer can be reached before they send what was typed.
  answering(app, house, { GET: 'open' }).answer('/ping', ({ reply }) => reply.code(204).send());
}
