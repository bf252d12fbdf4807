import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { idIn } from '../kit/address.ts';
import type { Typed } from '../kit/typed.ts';
import { dayOf } from '../kit/when.ts';
import type { Problem } from '../refusal.ts';
import { type Body, readBody, withoutKey } from './body.ts';
import { type Asker, type House, whoAsks } from './house.ts';
import { goToKeyedAddress } from './keyed-address.ts';
import { isScripted, sendPage } from './page.ts';
import type { Page } from './page-frame.ts';
import { handlePost, type PostedForm } from './post.ts';
import type { RoomRules } from './rules.ts';

/** The names that stand in a path: those of `/orders/:code/lines/:line` are `code` and `line`. */
type ParamsOf<Path extends string> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? { readonly [N in Name]: string } & ParamsOf<`/${Rest}`>
  : Path extends `${string}:${infer Name}`
    ? { readonly [N in Name]: string }
    : unknown;

/** What a room is asked: by whom, on which day, with what in the address and in the form, and how to answer. */
export interface Asked<Path extends string = string> {
  readonly asker: Asker;
  /** the workroom's day */
  readonly today: string;
  readonly params: ParamsOf<Path>;
  /** the number in a path with `:id`; 0, which nothing has, for anything else */
  readonly id: number;
  readonly query: unknown;
  /** what was typed, by field; nothing where no form was sent */
  readonly typed: Typed;
  /** what the address asks for, by the fields of the form that it fills in */
  readonly typedInAddress: Typed;
  /** what was typed as rows and fields, the way a schema reads it */
  readonly body: Body;
  readonly request: FastifyRequest;
  readonly reply: FastifyReply;
  /** Sends a page as it is. */
  show(page: Page, status?: number): unknown;
  /** Reads the form, writes it and goes on to where it is seen; refused, draws it again with what was typed. */
  save<T>(form: PostedForm<T>): unknown;
  /** Draws the form again with what it comes to, or with why that cannot be worked out yet. Nothing is written. */
  workedOut(page: Page, problems: readonly Problem[]): unknown;
}

/**
 * The kinds of address that a room has: most show a page or take a form, some lead on or say what was not found.
 * @param rules who may ask for them, where that differs from the rest of the room
 */
export function answering(app: FastifyInstance, house: House, rules: Partial<RoomRules> = {}) {
  const shown = { config: rules.GET ? { rule: rules.GET } : {} };
  const taken = { config: rules.POST ? { rule: rules.POST } : {} };
  return {
    answer<Path extends string>(path: Path, answer: (asked: Asked<Path>) => unknown): void {
      app.get(path, shown, (request, reply) => answer(askedBy<Path>(house, request, reply)));
    },
    showPage<Path extends string>(path: Path, page: (asked: Asked<Path>) => Page | Promise<Page>): void {
      app.get(path, shown, async (request, reply) => {
        const asked = askedBy<Path>(house, request, reply);
        return asked.show(await page(asked));
      });
    },
    /** A page whose form is saved under the key in its address, so that Back finds it again. */
    showKeyedPage<Path extends string>(path: Path, page: (asked: Asked<Path>) => Page | Promise<Page>): void {
      app.get(path, shown, async (request, reply) => {
        if (goToKeyedAddress(request, reply)) return reply;
        const asked = askedBy<Path>(house, request, reply);
        return asked.show(await page(asked));
      });
    },
    takeForm<Path extends string>(path: Path, take: (asked: Asked<Path>) => unknown): void {
      app.post(path, taken, (request, reply) => take(askedBy<Path>(house, request, reply)));
    },
  };
}

/** Each thing is looked up where it is asked for: few answers need them all. */
function askedBy<Path extends string>(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
): Asked<Path> {
  const show = (page: Page, status?: number) => sendPage(house, request, reply, page, status);
  return {
    request,
    reply,
    query: request.query,
    params: request.params as ParamsOf<Path>,
    get id() {
      return idIn(request.params);
    },
    get asker() {
      return whoAsks(house, request);
    },
    get today() {
      return dayOf(house.book.now());
    },
    get typed() {
      return readBody(request.body).typed;
    },
    get typedInAddress() {
      const { done: _, ...typed } = withoutKey(readBody(request.query).typed);
      return typed;
    },
    get body() {
      return readBody(request.body).body;
    },
    show,
    save: (form) => handlePost(house, request, reply, form),
    workedOut(page, problems) {
      reply.header('hx-push-url', 'false');
      // A script that follows what is typed expects unfinished forms: they are no failure to it.
      const unfinished = problems.length > 0 && !isScripted(request);
      return show({ ...page, problems, saves: false }, unfinished ? 422 : 200);
    },
  };
}
