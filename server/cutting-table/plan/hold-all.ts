import { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { choiceField, textField } from '../../kit/fields.ts';
import { planPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { countOf } from '../../kit/words.ts';
import { conflict } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import { holdPlan } from './holding.ts';
import type { PlanView } from './proposals.ts';

/** Offered where every plan is found and there are several; null elsewhere. */
export function shapeHoldAll(
  code: string,
  needs: readonly { readonly plans: readonly Pick<PlanView, 'hold'>[] }[],
  isAwaited: boolean,
) {
  const forms = needs.flatMap(({ plans }) => plans[0]?.hold ?? []);
  const [first] = forms;
  if (isAwaited || !first || forms.length < 2) return null;
  const jobs = forms.map(({ fields }) => `${fields.cloth_id}-${fields.shade_id}-${fields.job}`).join(' ');
  const { again, flaws } = first.fields;
  const action = `${planPath(code)}/all`;
  return { action, requestKey: mintKey(), plans: forms.length, fields: { jobs, again, flaws } };
}

export function holdAllForm() {
  return z.strictObject({
    jobs: textField({ max: 20_000, label: 'The plans' }),
    again: choiceField(['yes', 'no'], 'whether it is planned again'),
    flaws: choiceField(['straddle', 'skip'], 'whether lays straddle flaws'),
  });
}

/** Holds them all or none: where one has changed, nothing is held and that one is named. */
export function holdAllPlans(
  tx: Tx,
  code: string,
  { jobs, again, flaws }: z.output<ReturnType<typeof holdAllForm>>,
  asker: Asker,
): Answer {
  const asked = jobs.split(' ').map((one) => /^([0-9]{1,15})-([0-9]{1,15})-([0-9a-f]{64})$/.exec(one));
  for (const one of asked) {
    if (!one) throw conflict('The plans changed since this page was opened.');
    const [, cloth, shade, job] = one;
    const form = { cloth_id: Number(cloth), shade_id: Number(shade), job: job ?? '', again, flaws };
    holdPlan(tx, code, { ...form, wish: 'least length' }, asker);
  }
  return { location: planPath(code), said: `${countOf(asked.length, 'plan', 'plans')} held for ${code}.` };
}
