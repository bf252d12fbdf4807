import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { hashOfJob } from '../../cut-plans/answers.ts';
import { deskOf } from '../../cut-plans/desk.ts';
import { readGarment } from '../../garments/garment/records.ts';
import { address } from '../../kit/address.ts';
import { choiceField, NOTHING_TYPED, textField } from '../../kit/fields.ts';
import { planPath } from '../../kit/paths.ts';
import type { Typed } from '../../kit/typed.ts';
import { conflict, unknown } from '../../refusal.ts';
import { type Asked, answering } from '../../web/answering.ts';
import { withoutKey } from '../../web/body.ts';
import type { Asker, House } from '../../web/house.ts';
import { wantsJson } from '../../web/page.ts';
import { readForm } from '../../web/post.ts';
import { holdAllForm, holdAllPlans } from './hold-all.ts';
import { giveUpPlan, holdPlan, needAnchor, planToHoldForm } from './holding.ts';
import { type PlanNeed, readPlanNeeds } from './need.ts';
import { cutPlanPage } from './page.ts';
import { planRecountForm, recountUnderPlan } from './recount.ts';

/** The plans of a garment: shown, held one by one or all at once, given up, or counted shorter. */
export function planRoutes(app: FastifyInstance, house: House): void {
  const { showPage, takeForm } = answering(app, house);
  const path = '/cutting-table/:code/plan';
  const pageOf = (code: string, asker: Asker, today: string, asked: unknown, refusedCount?: Typed) =>
    cutPlanPage(house.book, deskOf(house), code, asked, { ...asker, today }, refusedCount);

  showPage(path, ({ params, asker, today, query }) => pageOf(params.code, asker, today, query));
  takeForm(path, ({ params: { code }, asker, today, save }) =>
    save({
      schema: planToHoldForm(),
      write: (tx, form) => holdPlan(tx, code, form, asker),
      redraw: (typed) => pageOf(code, asker, today, typed),
    }),
  );
  takeForm(`${path}/all`, ({ params: { code }, asker, today, save }) =>
    save({
      schema: holdAllForm(),
      write: (tx, form) => holdAllPlans(tx, code, form, asker),
      redraw: (typed) => pageOf(code, asker, today, typed),
    }),
  );
  takeForm(`${path}/:id/given-up`, ({ params: { code }, id, asker, today, query, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => giveUpPlan(tx, code, knownPlan(id)),
      redraw: () => pageOf(code, asker, today, query),
    }),
  );
  takeForm(`${path}/:id/recounts`, ({ params: { code }, id, asker, today, query, save }) =>
    save({
      schema: planRecountForm(asker.units),
      write: (tx, form) => recountUnderPlan(tx, code, knownPlan(id), form, asker),
      redraw: (typed) => pageOf(code, asker, today, query, typed),
    }),
  );

  // What is asked of the planner writes nothing in the book, so that these forms have no request key.
  takeForm(`${path}/harder`, (asked) => {
    const form = readForm(HARDER_FORM, withoutKey(asked.body));
    const need = findNeed(house, asked.params.code, form.job);
    deskOf(house).askPlan(need.job, Number(form.seconds));
    return goTo(asked, asked.params.code, need, `The planner tries harder, for ${form.seconds} seconds.`);
  });
  takeForm(`${path}/stopped`, (asked) => {
    const form = readForm(JOB_FORM, withoutKey(asked.body));
    const need = findNeed(house, asked.params.code, form.job);
    const was = deskOf(house).giveUp(form.job);
    return goTo(
      asked,
      asked.params.code,
      need,
      was ? 'The planner stopped.' : 'The planner was done already.',
    );
  });
}

function knownPlan(id: number): number {
  if (id === 0) throw unknown('such plan');
  return id;
}

const JOB_FORM = z.strictObject({ job: textField({ max: 64, label: 'The plan' }) });
const HARDER_FORM = JOB_FORM.extend({ seconds: choiceField(['10', '30', '120'], 'how long') });

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

function goTo({ request, reply }: Asked, code: string, need: PlanNeed, said: string) {
  const asked = { again: need.held ? 'yes' : '', flaws: need.job.flaws === 'skip' ? 'skip' : '' };
  const location = `${address(planPath(code), asked)}#${needAnchor(need.share.need)}`;
  if (wantsJson(request)) return reply.send({ location, said });
  return reply.redirect(location, 303);
}
