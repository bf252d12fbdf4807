import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ownPath, queryNumber, queryText } from '../../kit/address.ts';
import type { Typed } from '../../kit/typed.ts';
import { conflict } from '../../refusal.ts';
import { admissionOf } from '../../web/admission.ts';
import { answering } from '../../web/answering.ts';
import { wayOf } from '../../web/door.ts';
import { enter, takeSecret } from '../../web/entering.ts';
import type { House } from '../../web/house.ts';
import { wantsJson } from '../../web/page.ts';
import { type AskedWho, keeperPage, needsPin, whoPage } from './page.ts';
import { putOn } from './sign-in.ts';

/**
 * Who works at a device: chosen by name and PIN, or as a keeper by passphrase, and handed back. Nothing of it goes into
 * the book's ledger, so that these forms have no request key.
 */
export function whoRoutes(app: FastifyInstance, house: House): void {
  const { book, door } = house;
  const { answer, takeForm } = answering(app, house, { GET: 'paired', POST: 'paired' });
  const canBeKeeper = (request: FastifyRequest) => wayOf(request).atMachine || wayOf(request).isSecure;
  const draw = (request: FastifyRequest, asked: AskedWho) =>
    whoPage(book, admissionOf(door, request), asked, canBeKeeper(request));

  answer('/who', ({ query, request, reply, show }) => {
    if (!door.served) return reply.redirect('/', 303);
    return show(draw(request, askedIn(query)));
  });
  takeForm('/who', async ({ typed, request, reply, show }) => {
    refuseWithoutNetwork(house);
    const secret = takeSecret(request, 'pin');
    const asked = typedWho(typed);
    if (needsPin(admissionOf(door, request).device, asked.personId)) {
      const wrong = await enter(house, request, reply, { personId: asked.personId, kind: 'pin', secret });
      if (wrong) {
        const problems = [{ field: 'pin', message: wrong.said }];
        return show({ ...draw(request, asked), problems, saves: false }, wrong.status);
      }
    }
    putOn(house, request, reply, { personId: asked.personId, isKeeper: false });
    return goTo(request, reply, asked.back);
  });

  answer('/who/keeper', ({ query, request, reply, show }) => {
    if (!door.served) return reply.redirect('/', 303);
    refuseOverPlainHttp(canBeKeeper(request));
    return show(keeperPage(book, askedIn(query)));
  });
  takeForm('/who/keeper', async ({ typed, request, reply, show }) => {
    refuseWithoutNetwork(house);
    const secret = takeSecret(request, 'passphrase');
    refuseOverPlainHttp(canBeKeeper(request));
    const asked = typedWho(typed);
    const wrong = await enter(house, request, reply, {
      personId: asked.personId,
      kind: 'passphrase',
      secret,
    });
    if (wrong) {
      const problems = [{ field: 'passphrase', message: wrong.said }];
      return show({ ...keeperPage(book, asked), problems, saves: false }, wrong.status);
    }
    putOn(house, request, reply, { personId: asked.personId, isKeeper: true });
    return goTo(request, reply, asked.back);
  });

  takeForm('/who/done', ({ request, reply }) => {
    refuseWithoutNetwork(house);
    putOn(house, request, reply, { personId: null, isKeeper: false });
    return goTo(request, reply, '/who');
  });
}

function askedIn(query: unknown): AskedWho {
  return { back: ownPath(queryText(query, 'back')), personId: queryNumber(query, 'person') ?? 0 };
}

function typedWho(typed: Typed): AskedWho {
  return { back: ownPath(typed.back ?? ''), personId: queryNumber(typed, 'person_id') ?? 0 };
}

function goTo(request: FastifyRequest, reply: FastifyReply, location: string) {
  if (wantsJson(request)) return reply.send({ location });
  return reply.redirect(location, 303);
}

function refuseWithoutNetwork({ door }: House): void {
  if (!door.served) throw conflict('Nobody signs in while the network is off.');
}

function refuseOverPlainHttp(canBeKeeper: boolean): void {
  if (!canBeKeeper)
    throw conflict(
      'A passphrase is never sent over plain http. Keepers work at the workroom’s computer, or with its own certificate.',
    );
}
