import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { hashOfJob } from '../../cut-plans/answers.ts';
import { deskOf } from '../../cut-plans/desk.ts';
import { readGarment } from '../../garments/garment/records.ts';
import { address, queryNumber } from '../../kit/address.ts';
import { choiceField, textField } from '../../kit/fields.ts';
import { planPath } from '../../kit/paths.ts';
import { dayOf } from '../../kit/when.ts';
import { conflict, unknown } from '../../refusal.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage, wantsJson } from '../../web/page.ts';
import { handlePost, readForm } from '../../web/post.ts';
import { holdAllForm, holdAllPlans } from './hold-all.ts';
import { giveUpPlan, holdPlan, needAnchor, planToHoldForm } from './holding.ts';
import { type PlanNeed, readPlanNeeds } from './need.ts';
import { cutPlanPage } from './page.ts';
import { planRecountForm, recountUnderPlan } from './recount.ts';

interface OneGarment {
  Params: { code: string };
}

interface OnePlan {
  Params: { code: string; id: string };
}

export function planRoutes(app: FastifyInstance, house: House): void {
  const path = '/cutting-table/:code/plan';
  const page = (request: FastifyRequest<OneGarment>, asked: unknown = request.query) =>
    cutPlanPage(house.book, deskOf(house), request.params.code, asked, {
      ...whoAsks(house, request),
      today: dayOf(house.book.now()),
    });
  app.get<OneGarment>(path, (request, reply) => sendPage(house, request, reply, page(request)));
  app.post<OneGarment>(path, (request, reply) => {
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: planToHoldForm(),
      write: (tx, form, asker) => holdPlan(tx, code, form, asker),
      redraw: (typed) => page(request, typed),
    });
  });
  app.post<OneGarment>(`${path}/all`, (request, reply) => {
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: holdAllForm(),
      write: (tx, form, asker) => holdAllPlans(tx, code, form, asker),
      redraw: (typed) => page(request, typed),
    });
  });
  app.post<OnePlan>(`${path}/:id/given-up`, (request, reply) => {
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: z.strictObject({}),
      write: (tx) => giveUpPlan(tx, code, planId(request)),
      redraw: () => page(request),
    });
  });
  app.post<OnePlan>(`${path}/:id/recounts`, (request, reply) => {
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: planRecountForm(whoAsks(house, request).units),
      write: (tx, form, asker) => recountUnderPlan(tx, code, planId(request), form, asker),
      redraw: () => page(request),
    });
  });
  askingRoutes(app, house);
}

/** What is asked of the planner writes nothing in the book, so that these forms have no request key. */
function askingRoutes(app: FastifyInstance, house: House): void {
  const path = '/cutting-table/:code/plan';
  app.post<OneGarment>(`${path}/harder`, (request, reply) => {
    const form = readForm(harderForm(), withoutKey(readBody(request.body).body));
    const need = findNeed(house, request.params.code, form.job);
    deskOf(house).askPlan(need.job, Number(form.seconds));
    return goTo(request, reply, need, `The planner tries harder, for ${form.seconds} seconds.`);
  });
  app.post<OneGarment>(`${path}/stopped`, (request, reply) => {
    const form = readForm(z.strictObject({ job: jobField() }), withoutKey(readBody(request.body).body));
    const need = findNeed(house, request.params.code, form.job);
    const was = deskOf(house).giveUp(form.job);
    return goTo(request, reply, need, was ? 'The planner stopped.' : 'The planner was done already.');
  });
}

const jobField = () => textField({ max: 64, label: 'The plan' });

function harderForm() {
  return z.strictObject({ job: jobField(), seconds: choiceField(['10', '30', '120'], 'how long') });
}

/** The need that a job was made from, as it stands now. @throws {Refusal} conflict where it changed since */
function findNeed(house: House, code: string, job: string): PlanNeed {
  const garment = readGarment(house.book, code);
  for (const afresh of [false, true]) {
    for (const flaws of ['straddle', 'skip'] as const) {
      const needs = readPlanNeeds(house.book, garment, afresh, flaws);
      const found = needs.find((need) => hashOfJob(need.job) === job);
      if (found) return found;
    }
  }
  throw conflict('The shelf or the garment changed since this page was opened.', {
    text: 'The plans as they are now',
    href: planPath(code),
  });
}

function goTo(request: FastifyRequest<OneGarment>, reply: FastifyReply, need: PlanNeed, said: string) {
  const asked = { again: need.held ? 'yes' : '', flaws: need.job.flaws === 'skip' ? 'skip' : '' };
  const location = `${address(planPath(request.params.code), asked)}#${needAnchor(need.share.need)}`;
  if (wantsJson(request)) return reply.send({ location, said });
  return reply.redirect(location, 303);
}

function planId(request: FastifyRequest<OnePlan>): number {
  const id = queryNumber(request.params, 'id');
  if (id === null) throw unknown('such plan');
  return id;
}
