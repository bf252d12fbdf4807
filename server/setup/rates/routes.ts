import type { FastifyInstance } from 'fastify';
import { SEWING_JOBS, type SewingJob } from '../../../src/garment/sewing.ts';
import { unknown } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { changeJob, changeSewing, jobForm, sewingForm } from './form.ts';
import { jobRatesPage, ratesPage } from './page.ts';

type OfJob = { Params: { job: string } };

export function rateRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get('/setup/rates', (request, reply) =>
    sendPage(house, request, reply, ratesPage(book, whoAsks(house, request).units)),
  );
  app.post('/setup/rates', (request, reply) => {
    const asker = whoAsks(house, request);
    const { typed } = readBody(request.body);
    return handlePost(house, request, reply, {
      schema: sewingForm(asker),
      write: (tx, form) => changeSewing(tx, form, asker.units, typed),
      redraw: (again) => ratesPage(book, asker.units, again),
    });
  });

  app.get<OfJob>('/setup/rates/:job', (request, reply) => {
    const { units } = whoAsks(house, request);
    return sendPage(house, request, reply, jobRatesPage(book, units, jobOf(request.params.job)));
  });
  app.post<OfJob>('/setup/rates/:job', (request, reply) => {
    const asker = whoAsks(house, request);
    const job = jobOf(request.params.job);
    const { typed } = readBody(request.body);
    return handlePost(house, request, reply, {
      schema: jobForm(asker),
      write: (tx, form) => changeJob(tx, job, form, asker.units, typed),
      redraw: (again) => jobRatesPage(book, asker.units, job, again),
    });
  });
}

function jobOf(name: string): SewingJob {
  const job = SEWING_JOBS.find((one) => one === name);
  if (!job) throw unknown('such work of sewing');
  return job;
}
