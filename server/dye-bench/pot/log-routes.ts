import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { handlePost } from '../../web/post.ts';
import { PH, STEP_DONE, TAKE_BACK, TEMPERATURE } from './log-forms.ts';
import { finishStep, logReading, takeBack } from './log-verbs.ts';
import { batchBenchPage } from './page.ts';

interface OneBatch {
  Params: { code: string };
}

/** What is told at the pot; refused, the bench is drawn again with what was typed. */
export function logRoutes(app: FastifyInstance, house: House): void {
  const told = <T>(name: string, schema: z.ZodType<T>, write: (tx: Tx, code: string, form: T) => Answer) => {
    app.post<OneBatch>(`/dye-bench/batches/:code/logs/${name}`, (request, reply) => {
      const { code } = request.params;
      return handlePost(house, request as FastifyRequest, reply as FastifyReply, {
        schema,
        write: (tx, form) => write(tx, code, form),
        redraw: (typed) => batchBenchPage(house.book, code, whoAsks(house, request), house.book.now(), typed),
      });
    });
  };
  told('steps', STEP_DONE, finishStep);
  told('temperatures', TEMPERATURE, (tx, code, { bath, temperature }) =>
    logReading(tx, code, { bath: bath.value, kind: 'temperature', value: temperature }),
  );
  told('phs', PH, (tx, code, { bath, ph }) =>
    logReading(tx, code, { bath: bath.value, kind: 'pH', value: ph }),
  );
  told('take-backs', TAKE_BACK, (tx, code, { bath, id }) => takeBack(tx, code, { bath: bath.value, id }));
}
