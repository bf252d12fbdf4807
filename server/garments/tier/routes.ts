import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { readBody, withoutKey } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { type Garment, readGarment, type TierRecord } from '../garment/records.ts';
import { sayTierInUse } from '../versions/differences.ts';
import { sendWorkedOut } from '../work-out.ts';
import { readTierChoices } from './choices.ts';
import { tierSchema } from './fields.ts';
import { findTier } from './find.ts';
import { tierFormPage } from './form.ts';
import { NEW_TIER } from './planned.ts';
import { NO_PREVIEW, previewTier, previewTyped } from './preview.ts';
import { takenOver } from './taken-over.ts';
import { tierTexts } from './texts.ts';
import { addTier, changeTier } from './verbs.ts';

type OfGarment = { Params: { code: string } };
type OfTier = { Params: { code: string; id: string } };

/** A tier's form: worked out as often as wanted, then saved. */
export function tierRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get<OfGarment>('/garments/:code/tiers/new', (request, reply) => {
    const garment = readGarment(book, request.params.code);
    const { units } = whoAsks(house, request);
    const state = { garment, tier: null, typed: null, preview: NO_PREVIEW, inUse: '' };
    return sendPage(house, request, reply, tierFormPage(book, units, state));
  });
  app.post<OfGarment>('/garments/:code/tiers/new', (request, reply) =>
    answerForm(house, request, reply, readGarment(book, request.params.code), null),
  );

  app.get<OfTier>('/garments/:code/tiers/:id', (request, reply) => {
    const { garment, tier } = findTier(book, request.params);
    const { units } = whoAsks(house, request);
    const taken = takenOver(request.query);
    const typed = taken && { ...tierTexts(tier, units), ...taken };
    const preview = typed
      ? previewTyped(book, garment, tier, readBody(typed).body, units)
      : previewTier(book, garment, tier, units);
    const state = { garment, tier, typed, preview, inUse: sayTierInUse(book, tier.id) };
    return sendPage(house, request, reply, tierFormPage(book, units, state));
  });
  app.post<OfTier>('/garments/:code/tiers/:id', (request, reply) => {
    const { garment, tier } = findTier(book, request.params);
    return answerForm(house, request, reply, garment, tier);
  });
}

/** Draws the form again for "Work it out" and for more rows; saves it otherwise. */
function answerForm(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  garment: Garment,
  tier: TierRecord | null,
) {
  const { book } = house;
  const { units } = whoAsks(house, request);
  const { body, typed } = readBody(request.body);
  const inUse = tier ? sayTierInUse(book, tier.id) : '';
  const asked = { garment, tier, typed, inUse };
  if (typed.act === 'more-blocks') {
    return sendPage(house, request, reply, tierFormPage(book, units, { ...asked, preview: NO_PREVIEW }));
  }
  if (typed.act === 'work-out') {
    const preview = previewTyped(book, garment, tier, withoutKey(body), units);
    const page = tierFormPage(book, units, { ...asked, preview });
    return sendWorkedOut(house, request, reply, page, preview.problems);
  }
  return handlePost(house, request, reply, {
    schema: tierSchema(units, readTierChoices(book, garment, tier?.id ?? NEW_TIER)),
    write: (tx, form) =>
      tier ? changeTier(tx, garment.code, tier.id, form) : addTier(tx, garment.code, form),
    redraw: (again) => tierFormPage(book, units, { ...asked, typed: again, preview: NO_PREVIEW }),
  });
}
