import { AUXILIARIES, type AuxiliaryKind, auxiliaryForm } from '../../src/dye/auxiliaries.ts';
import { capital } from '../../src/dye/fibre.ts';
import { type Reading, refused } from '../../src/quantity/reading.ts';
import type { Choice } from './choices.ts';

/** Each auxiliary in each form it is sold in, as "kind/form": the label says which form is in the shop. */
export const WHAT_CHOICES: readonly Choice[] = AUXILIARIES.flatMap(({ kind, name, forms }) =>
  // One whose group nobody has said can be read in old recipes, and chosen no more.
  forms
    .filter(({ groups }) => groups !== null)
    .map((form) => ({
      value: `${kind}/${form.code}`,
      label: capital(forms.length === 1 ? name : form.name),
    })),
);

/** An auxiliary in one of its forms. */
export interface ChosenAuxiliary {
  readonly kind: AuxiliaryKind;
  readonly form: string;
}

/** Reads "kind/form" as a choice of an auxiliary; refused is what is sold in no such form. */
export function readWhat(typed: string): Reading<ChosenAuxiliary> {
  const [kind = '', form = ''] = typed.split('/');
  const auxiliary = AUXILIARIES.find((each) => each.kind === kind);
  if (!auxiliary || !auxiliaryForm(auxiliary.kind, form)) {
    return refused('Choose the auxiliary, in the form that its label names.');
  }
  return { ok: true, value: { kind: auxiliary.kind, form }, echo: typed, exact: true };
}
