import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { plannerOf } from '../../cut-plans/desk.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf } from '../../kit/words.ts';
import { unknown } from '../../refusal.ts';
import { readShopStepTicks } from '../../setup/rates/store.ts';
import { type Asked, answering } from '../../web/answering.ts';
import { type House, shapeShell } from '../../web/house.ts';
import { isPartial, sendHtml, sendPage, wantsJson } from '../../web/page.ts';
import type { PageFrame } from '../../web/page-frame.ts';
import { renderLayout } from '../../web/views.ts';
import { QuickDesk, QuickDrawer, type QuickQuestion } from './desk.ts';
import { QUICK_FRAME, quickPlanPage } from './page.ts';
import type { QuickDrawn } from './process.ts';

const PATH = '/cutting-table/quick';
/** A small plan is there at once; of a longer one a page or a script is told where it will be. */
const WAIT_MS = { page: 2000, script: 3000, again: 1000 } as const;
const RETRY_SECONDS = 2;

/** What a page shows, and a script is told, while a quick plan is worked out. */
export interface QuickWorkingData {
  readonly location: string;
  readonly said: string;
  /** what of the page the answer takes the place of: the result where its form stays on the page, else all of it */
  readonly into: 'quick-answer' | 'quick-plan';
  readonly stop: { readonly action: string; readonly requestKey: string };
}

/** The quick plan: typed pieces and strips, nothing of the book. It writes nothing, so that its form has no request key. */
export function quickRoutes(app: FastifyInstance, house: House): void {
  const drawer = new QuickDrawer();
  app.addHook('onClose', () => drawer.close());
  const desk = new QuickDesk(plannerOf(house), drawer);
  const { showPage, takeForm } = answering(app, house);
  showPage(PATH, ({ asker }) => quickPlanPage({}, asker.units, null));
  takeForm(PATH, (asked) => askForPlan(house, asked, desk));
  app.get<{ Params: { id: string } }>(`${PATH}/:id`, async (request, reply) => {
    const question = findQuestion(desk, request.params.id);
    await endOrLate(question, WAIT_MS.again);
    return sendQuestion(house, request, reply, question);
  });
  takeForm(`${PATH}/:id/stopped`, async ({ params, request, reply }) => {
    const question = findQuestion(desk, params.id);
    const said = question.drawn ? 'The planner was done already.' : 'The planner stopped.';
    question.stop.abort();
    await endOrLate(question, WAIT_MS.page);
    const location = pathOf(question);
    return wantsJson(request) ? reply.send({ location, said }) : reply.redirect(location, 303);
  });
}

async function askForPlan(house: House, { asker, request, reply }: Asked, desk: QuickDesk) {
  const { units } = asker;
  const sent = { raw: request.body, units, shell: shapeShell(house, request, QUICK_FRAME) };
  const { asked, drawn } = await desk.drawer.carryOut({ ...sent, kind: 'read' });
  if (drawn) return sendDrawn(house, request, reply, drawn);
  if (!asked) throw new Error('what was sent is read or refused');
  const question = desk.ask(sent, asked, readShopStepTicks(house.book, units.system));
  const stopWhereGone = () => {
    if (!reply.raw.writableEnded) question.stop.abort();
  };
  // Nobody knows yet where the plan will be, so whoever goes away now gives it up.
  reply.raw.once('close', stopWhereGone);
  await endOrLate(question, wantsJson(request) ? WAIT_MS.script : WAIT_MS.page);
  reply.raw.off('close', stopWhereGone);
  const isPlanned = question.drawn?.status === 200 || (!question.drawn && !question.failure);
  if (!wantsJson(request) && isPlanned) return reply.redirect(pathOf(question), 303);
  return sendQuestion(house, request, reply, question);
}

function findQuestion(desk: QuickDesk, id: string): QuickQuestion {
  const question = desk.find(id);
  if (!question) throw unknown('such quick plan, or not any more: the latest are kept until Clothroom stops');
  return question;
}

async function endOrLate(question: QuickQuestion, mostMs: number): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, mostMs);
  });
  await Promise.race([question.ended, late]);
  clearTimeout(timer);
}

function sendQuestion(house: House, request: FastifyRequest, reply: FastifyReply, question: QuickQuestion) {
  if (question.failure) throw question.failure;
  const location = pathOf(question);
  if (isBesideForm(request)) reply.header('hx-replace-url', location);
  if (question.drawn) return sendDrawn(house, request, reply, question.drawn);
  const data: QuickWorkingData = {
    location,
    said: sayWorking(question),
    into: isBesideForm(request) ? 'quick-answer' : 'quick-plan',
    stop: { action: `${location}/stopped`, requestKey: mintKey() },
  };
  if (wantsJson(request)) reply.header('location', location).header('retry-after', RETRY_SECONDS);
  const page = { ...QUICK_FRAME, view: 'cutting-table/quick/working', data };
  return sendPage(house, request, reply, page, wantsJson(request) ? 202 : 200);
}

/** Whether a script asks for the result alone, beside the form that stays. */
function isBesideForm(request: FastifyRequest): boolean {
  return String(request.headers['hx-target'] ?? '').includes('quick-answer');
}

function sayWorking({ seconds }: QuickQuestion): string {
  const allowed = seconds === null ? '' : `, for up to ${countOf(seconds, 'second', 'seconds')}`;
  return `The planner is working${allowed}. You can leave this page: the plan will be here.`;
}

/** Sends what the process drew, as `sendPage` sends a page that is drawn here. */
function sendDrawn(house: House, request: FastifyRequest, reply: FastifyReply, drawn: QuickDrawn) {
  const { html, json, problems, status } = drawn;
  reply.code(status);
  if (wantsJson(request)) {
    const error = JSON.stringify({ message: problems[0]?.message ?? '', problems });
    const text = problems.length === 0 ? json : `{"error":${error},"page":${json}}`;
    return reply.type('application/json; charset=utf-8').send(text);
  }
  // The errors stand above the part that a waiting page replaces; a result beside its form tells them itself.
  if (problems.length > 0 && isPartial(request) && !isBesideForm(request))
    reply.header('hx-retarget', 'body');
  const frame: PageFrame = { ...QUICK_FRAME, problems };
  const page = renderLayout(html, shapeShell(house, request, frame));
  return sendHtml(house, request, reply, page);
}

function pathOf({ id }: QuickQuestion): string {
  return `${PATH}/${id}`;
}
