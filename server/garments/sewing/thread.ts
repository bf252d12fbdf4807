import { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { optionalChosen, shadeChoices } from '../../kit/choices.ts';
import { garmentPath } from '../../kit/paths.ts';
import { readGarment, tierOf } from '../garment/records.ts';
import { refuseFinished } from '../garment/refusals.ts';

/** The shade of a tier's thread; blank takes that of the shade with most strips. */
export function threadForm(reader: Reader) {
  const shade = optionalChosen(shadeChoices(reader), 'a shade', {
    label: 'Thread',
    blank: 'as the shade with most strips',
    required: true,
  });
  return z.strictObject({ shade_id: shade });
}

export function chooseThread(
  tx: Tx,
  code: string,
  tierId: number,
  form: { readonly shade_id: number | null },
): Answer {
  const garment = readGarment(tx, code);
  const tier = tierOf(garment, tierId);
  refuseFinished(garment);
  tx.run(tx.db.deleteFrom('tier_thread').where('tier_id', '=', tierId));
  const { shade_id: shadeId } = form;
  if (shadeId !== null)
    tx.run(tx.db.insertInto('tier_thread').values({ tier_id: tierId, shade_id: shadeId }));
  const which = shadeId === null ? 'as the shade with most strips' : 'chosen';
  return { location: `${garmentPath(code)}/sewing`, said: `The thread of ${tier.name} is ${which}.` };
}
