import { z } from 'zod';
import { AUXILIARY_KINDS, auxiliaryForm, hazardsOf, nameOfForm } from '../../../src/dye/auxiliaries.ts';
import { type ByHand, verdictByHand } from '../../../src/dye/by-hand.ts';
import { cautionsFor } from '../../../src/dye/cautions.ts';
import { groupToldBy } from '../../../src/dye/chemical-group.ts';
import { capital } from '../../../src/dye/fibre.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { queryNumber } from '../../kit/address.ts';
import { readWhat, WHAT_CHOICES } from '../../kit/auxiliary-choices.ts';
import { withBlank } from '../../kit/choices.ts';
import { optionalText, readingField, textField } from '../../kit/fields.ts';
import { asked, drawFields } from '../../kit/form-drawing.ts';
import { batchPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { conflict, orProblems, refuseAny } from '../../refusal.ts';
import { takeWeighed } from '../../supplies/weighed.ts';
import { readBody } from '../../web/body.ts';
import type { Page } from '../../web/page-frame.ts';
import { readForm } from '../../web/post.ts';
import { showGrams } from '../card/amounts-show.ts';

import { type BathState, hasBegun } from './bath-state.ts';
import { bathField, readWeighed } from './log-forms.ts';
import { type AtThePot, bathOf, insertLog, potPath, readAtThePot } from './log-verbs.ts';
import { withHeads } from './step.ts';

/** Something that goes into one bath and is not in its plan. */
export const BY_HAND = z.strictObject({
  bath: bathField(),
  what: asked(readingField(readWhat), {
    label: 'What, in which form',
    kind: 'select',
    options: withBlank(WHAT_CHOICES, 'Choose'),
    hint: 'For something else, take its group from its safety data sheet.',
  }),
  name: optionalText({ max: 120, label: 'Its name on the label' }),
  amount: textField({ max: 64, label: 'Amount', what: 'The amount', size: 'short' }),
  lot: optionalText({ max: 120, label: 'Its lot', size: 'short' }),
});
type ByHandForm = z.output<typeof BY_HAND>;

export type ByHandPageData = ReturnType<typeof byHandPage>['data'];

/** What goes in beside the plan. Asked with what it is in the address, it is looked up first. */
export function byHandPage(
  reader: Reader,
  code: string,
  typed: Typed,
  opened: 'asked' | 'refused' = 'asked',
) {
  const pot = readAtThePot(reader, code);
  const state = bathOf(pot, queryNumber(typed, 'bath') ?? 1);
  const step = state.clock.now?.step;
  const lookUp = opened === 'asked' && typed.what !== undefined;
  const { value: looked, problems } = orProblems(() => (lookUp ? lookUpTyped(pot, state, typed) : null));
  const back = potPath(code, state.number);
  const data = {
    requestKey: mintKey(),
    code,
    href: back,
    action: `${batchPath(code)}/by-hand`,
    bath: state.number,
    title: pot.baths.length === 1 ? code : `bath ${state.number} of ${code}`,
    /** the step that it would go in at; '' where nothing can go in */
    step: hasBegun(state) && step ? step.title : '',
    fields: drawFields(BY_HAND.shape, typed),
    cautions: { due: [], all: withHeads(looked ? looked.cautions : pot.cautions) },
    /** what was found, once it was looked up */
    looked: looked ? { name: capital(looked.added.name), warned: looked.warned } : null,
  };
  return {
    view: 'dye-bench/pot/by-hand',
    data,
    title: `Added by hand: ${data.title}`,
    room: 'dye-bench',
    problems,
  } satisfies Page;
}

function lookUpTyped(pot: AtThePot, state: BathState, typed: Typed) {
  const form = readForm(BY_HAND, readBody(typed).body);
  const added = addedBy(form);
  const { warned } = judge(pot, state, added);
  const { kind, form: sold, name } = added;
  // The cautions of this chemical come first, then those of the bath.
  const own = cautionsFor({
    dyeClass: pot.recipe.dyeClass,
    temperatureC: pot.recipe.temperatureC,
    auxiliaries: [{ kind, form: sold, name, per: 'litre', mgPerLitre: 1 }],
  });
  const others = pot.cautions.filter(({ id }) => !own.some((caution) => caution.id === id));
  const cautions = hazardsOf(kind, sold).length > 0 ? [...own, ...others] : pot.cautions;
  return { added, warned, cautions };
}

/** What was typed, as a mass of something whose group is known. @throws {Refusal} invalid */
function addedBy({ what, name, amount }: ByHandForm): ByHand {
  const { kind, form } = what;
  const density = auxiliaryForm(kind, form)?.densityMgPerMl;
  const perMl = density === undefined ? null : { massUg: Math.round(density * 1000), volumeUl: 1000 };
  const read = readWeighed(amount, perMl ?? { massUg: 0, volumeUl: null });
  const told = kind === 'other' && form === 'none' ? groupToldBy(name) : undefined;
  refuseAny([
    ...(read.ok ? [] : [{ field: 'amount', message: read.reason }]),
    ...(read.ok && read.value <= 0 ? [{ field: 'amount', message: 'Enter more than 0.' }] : []),
    ...(kind === 'other' && name === '' ? [{ field: 'name', message: 'Say what it is.' }] : []),
    ...(told
      ? [
          {
            field: 'what',
            message: `${name} sounds like ${told.name}: choose it from the list, or its group.`,
          },
        ]
      : []),
  ]);
  return { kind, form, name: name === '' ? nameOfForm(kind, form) : name, massMg: read.ok ? read.value : 0 };
}

/** @throws {Refusal} conflict where the bath is not under way, invalid where it must not go in */
function judge(pot: AtThePot, state: BathState, added: ByHand) {
  const step = state.clock.now?.step;
  if (!hasBegun(state) || !step) {
    throw conflict('This bath is not under way: nothing goes in.', {
      text: 'The bath as it is now',
      href: potPath(pot.batch.code, state.number),
    });
  }
  const { recipe, content, batch, water } = pot;
  const { bath } = state;
  const before = byHandIn(state);
  const material = batch.card?.vessel.material ?? '';
  const verdict = verdictByHand({ recipe, content, bath, step, before, material, water }, added);
  refuseAny(verdict.refused.map((says) => ({ field: 'what', message: `${says} Do not put it in.` })));
  return verdict;
}

function byHandIn({ rows }: BathState): ByHand[] {
  return rows.flatMap(({ auxiliary, what, figure }) => {
    const kind = AUXILIARY_KINDS.find((each) => each === auxiliary?.kind);
    return auxiliary && kind ? [{ kind, form: auxiliary.form, name: what, massMg: figure }] : [];
  });
}

/** Logs what goes in by hand, once nothing speaks against it. */
export function logByHand(tx: Tx, code: string, form: ByHandForm): Answer {
  const pot = readAtThePot(tx, code);
  const state = bathOf(pot, form.bath.value);
  const added = addedBy(form);
  judge(pot, state, added);
  const { kind, form: sold, name, massMg } = added;
  const log_id = insertLog(tx, pot.batch.id, {
    bath: state.number,
    kind: 'weighed',
    what: name,
    figure: massMg,
    dyeLot: form.lot,
  });
  tx.run(tx.db.insertInto('batch_log_auxiliary').values({ log_id, kind, form: sold }));
  const after = takeWeighed(tx, [
    { name, dyeId: null, chemical: { kind, form: sold }, massMg, logId: log_id, lot: form.lot },
  ]);
  return {
    location: potPath(code, state.number),
    said: `${showGrams(massMg)} of ${name} is logged, beside the plan.`,
    ...(after === '' ? {} : { after }),
  };
}
