import type { FastifyInstance } from 'fastify';
import { type Asked, answering } from '../../web/answering.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import type { House } from '../../web/house.ts';
import { type Garment, readGarment, readTierOf, type TierRecord } from '../garment/records.ts';
import { sayTierInUse } from '../versions/differences.ts';
import { readTierChoices, tierSchema } from './fields.ts';
import { tierFormPage, typedTier } from './form.ts';
import { NEW_TIER } from './planned.ts';
import { NO_PREVIEW, previewTier, previewTyped } from './preview.ts';
import { takenOver } from './taken-over.ts';
import { addTier, changeTier } from './verbs.ts';

/** A tier's form: worked out as often as wanted, then saved. */
export function tierRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  answering(app, house, { GET: 'keeper' }).showPage('/garments/:code/tiers/new', ({ asker, params }) => {
    const garment = readGarment(book, params.code);
    const state = { garment, tier: null, typed: null, preview: NO_PREVIEW, inUse: '' };
    return tierFormPage(book, asker.units, state);
  });
  showPage('/garments/:code/tiers/:id', ({ asker: { units }, params, id, query }) => {
    const { garment, tier } = readTierOf(book, params.code, id);
    const taken = takenOver(query);
    const typed = taken && { ...typedTier(tier, units), ...taken };
    const preview = typed
      ? previewTyped(book, garment, tier, readBody(typed).body, units)
      : previewTier(book, garment, tier, units);
    return tierFormPage(book, units, { garment, tier, typed, preview, inUse: sayTierInUse(book, tier.id) });
  });

  takeForm('/garments/:code/tiers/new', (asked) =>
    answerForm(asked, readGarment(book, asked.params.code), null),
  );
  takeForm('/garments/:code/tiers/:id', (asked) => {
    const { garment, tier } = readTierOf(book, asked.params.code, asked.id);
    return answerForm(asked, garment, tier);
  });

  /** Draws the form again for "Work it out" and for more rows; saves it otherwise. */
  function answerForm(asked: Asked, garment: Garment, tier: TierRecord | null) {
    const { typed, body, show, workedOut, save } = asked;
    const { units } = asked.asker;
    const inUse = tier ? sayTierInUse(book, tier.id) : '';
    const page = (again = typed, preview = NO_PREVIEW) =>
      tierFormPage(book, units, { garment, tier, typed: again, preview, inUse });
    if (typed.act === 'more-blocks') return show(page());
    if (typed.act === 'work-out') {
      const preview = previewTyped(book, garment, tier, withoutKey(body), units);
      return workedOut(page(typed, preview), preview.problems);
    }
    return save({
      schema: tierSchema(units, readTierChoices(book, garment, tier?.id ?? NEW_TIER)),
      write: (tx, form) =>
        tier ? changeTier(tx, garment.code, tier.id, form) : addTier(tx, garment.code, form),
      redraw: (again) => page(again),
    });
  }
}
