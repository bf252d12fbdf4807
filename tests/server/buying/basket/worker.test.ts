import { afterAll, describe, expect, it } from 'vitest';
import { BasketWorker } from '../../../../server/buying/basket/worker.ts';
import type { BasketJob } from '../../../../src/buying/basket/job.ts';
import { solvedBasket } from '../../../../src/buying/basket/plan.ts';
import { TICKS_PER } from '../../../../src/quantity/length.ts';
import { PLAIN_SUPPLIER } from '../../../src/basket/plain-supplier.ts';

const worker = new BasketWorker();
afterAll(() => worker.close());

const job: BasketJob = {
  needs: [{ lengthTicks: 38 * TICKS_PER.m }],
  suppliers: [PLAIN_SUPPLIER],
  offers: [
    {
      need: 0,
      supplier: 0,
      bolts: [{ lengthTicks: 50 * TICKS_PER.m, priceMinor: 18_000 }],
      byLength: {
        stepTicks: TICKS_PER.m / 10,
        leastTicks: 0,
        prices: [{ fromTicks: 0, price: { minor: 500, perTicks: TICKS_PER.m } }],
      },
    },
  ],
  currency: 'EUR',
};

describe('the process of the basket', () => {
  it('solves in a process of its own, one basket after the other', async () => {
    const plans = await Promise.all([1, 2].map(() => solvedBasket(job, (program) => worker.solve(program))));
    for (const plan of plans)
      expect(plan).toMatchObject({
        proved: true,
        best: { totalMinor: 18_000 },
        second: { totalMinor: 19_000 },
      });
  });

  it('gives up what waits when it is closed, and the basket that a pencil finds stands', async () => {
    const waiting = solvedBasket(job, (program) => worker.solve(program));
    await worker.close();
    expect(await waiting).toMatchObject({ proved: false, best: { totalMinor: 18_000 } });
  });
});
