import type { FastifyInstance, RouteOptions } from 'fastify';

/**
 * Who a route answers. `open`: anybody who reaches the server. `paired`: a device that was let in, though nobody was
 * chosen on it. `hand`: a person; over plain http nobody is more. `keeper`: a keeper, at the machine or over TLS.
 * `machine`: a keeper at the machine itself. Each takes in all that come after it.
 */
export const RULES = ['open', 'paired', 'hand', 'keeper', 'machine'] as const;
export type Rule = (typeof RULES)[number];

/** The rule of a room's pages, and of its forms. */
export interface RoomRules {
  readonly GET: Rule;
  readonly POST: Rule;
}

declare module 'fastify' {
  interface FastifyContextConfig {
    rule?: Rule;
  }
}

/** What adds the routes of a room: each that says nothing of its own is given the rule of the room. */
export function ruledRooms(
  app: FastifyInstance,
): (rules: RoomRules, routes: (room: FastifyInstance) => void) => void {
  let ofRoom: RoomRules | null = null;
  app.addHook('onRoute', (route) => {
    if (ofRoom) route.config = { rule: route.method === 'GET' ? ofRoom.GET : ofRoom.POST, ...route.config };
  });
  return (rules, routes) => {
    ofRoom = rules;
    routes(app);
    ofRoom = null;
  };
}

interface Known {
  readonly parts: readonly string[];
  readonly rule: () => Rule | undefined;
}

/** Finds the rule of an address among the routes of the app, as its router does: what is written out goes before a name. */
export class RuleBook {
  readonly #routes = new Map<string, Known[]>();

  add(method: string, url: string, rule: () => Rule | undefined): void {
    const parts = url.split('/');
    const key = `${method} ${parts.length}`;
    this.#routes.set(key, [...(this.#routes.get(key) ?? []), { parts, rule }]);
  }

  find(method: string, path: string): Rule | null {
    const asked = path.split('/');
    let left = this.#routes.get(`${method} ${asked.length}`) ?? [];
    for (const [at, part] of asked.entries()) {
      const exact = left.filter(({ parts }) => parts[at] === part);
      left = exact.length > 0 ? exact : left.filter(({ parts }) => parts[at]?.startsWith(':'));
    }
    return left[0]?.rule() ?? null;
  }
}

/**
 * Lets the server not start where a route has no rule, and gives what finds the rule of an address. To be called before any route is added: a room's own hook comes
 * after this one, so that the rule is looked at once all is ready.
 */
export function demandRules(app: FastifyInstance): RuleBook {
  const routes: RouteOptions[] = [];
  const book = new RuleBook();
  app.addHook('onRoute', (route) => {
    routes.push(route);
    for (const method of [route.method].flat()) book.add(method, route.url, () => route.config?.rule);
  });
  app.addHook('onReady', async () => {
    const bare = routes.filter(({ config }) => !RULES.some((known) => known === config?.rule));
    if (bare.length > 0)
      throw new Error(
        `no rule says who may ask ${bare.map(({ method, url }) => `${method} ${url}`).join(', ')}`,
      );
  });
  return book;
}
