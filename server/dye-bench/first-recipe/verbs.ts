import { USUAL_UNCERTAINTY_CENTI } from '../../../src/colour/colour-reading.ts';
import { showOwf } from '../../../src/dye/bench-figures.ts';
import { RECIPE_LIMITS } from '../../../src/dye/recipe.ts';
import type { Answer, Tx } from '../../database/book.ts';
import { knownSwatchesPath } from '../../kit/paths.ts';
import { invalid, refuseAny, unknown } from '../../refusal.ts';
import { readDye } from '../dyes/store.ts';
import { bathKind, bathValue } from './known.ts';
import type { DyedSwatchForm } from './swatch-form.ts';

/**
 * Records a swatch to learn from.
 * @throws {Refusal} invalid, where its dyes do not go into one bath or are more than dyes the cloth
 */
export function recordSwatch(tx: Tx, form: DyedSwatchForm): Answer {
  refuseDyes(tx, form);
  const { lab, viewing, how, note } = form;
  const { lastId } = tx.run(
    tx.db.insertInto('dyed_swatch').values({
      cloth_id: form.cloth_id,
      ground_id: form.ground_id,
      lab_l: lab.l,
      lab_a: lab.a,
      lab_b: lab.b,
      ...viewing,
      how,
      uncertainty_centi: USUAL_UNCERTAINTY_CENTI[how],
      note,
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
    }),
  );
  for (const { dye_id, owf } of form.dyes)
    tx.run(tx.db.insertInto('dyed_swatch_dye').values({ swatch_id: lastId, dye_id, owf_milli: owf }));
  return { location: knownSwatchesPath(form.cloth_id), said: `Swatch ${lastId} is recorded.` };
}

function refuseDyes(tx: Tx, { dyes }: DyedSwatchForm): void {
  const most = RECIPE_LIMITS.dyeOwfMilli;
  refuseAny(
    dyes.flatMap(({ owf, place }) =>
      owf > 0 && owf <= most
        ? []
        : [{ field: `dyes.${place}.owf`, message: `On fabric: enter more than 0, up to ${showOwf(most)}.` }],
    ),
  );
  const baths = dyes.map(({ dye_id }) => {
    const { dyeClass, method } = readDye(tx, dye_id);
    return bathValue(bathKind(dyeClass, method));
  });
  const other = baths.findIndex((bath) => bath !== baths[0]);
  if (other > 0) {
    const place = dyes[other]?.place ?? other;
    throw invalid(`dyes.${place}.dye_id`, 'Dye: choose dyes of one class. Others do not go into one bath.');
  }
}

/** Takes a recorded swatch out: nothing is learned from it any more. @throws {Refusal} unknown */
export function takeSwatchOut(tx: Tx, id: number): Answer {
  const row = tx.first(
    tx.db.selectFrom('dyed_swatch').select('cloth_id').where('id', '=', id).where('undone_key', 'is', null),
  );
  if (!row) throw unknown('such swatch');
  tx.run(tx.db.updateTable('dyed_swatch').set({ undone_key: tx.requestKey }).where('id', '=', id));
  return { location: knownSwatchesPath(row.cloth_id), said: `Swatch ${id} is taken out.` };
}
