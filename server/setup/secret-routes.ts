import type { FastifyInstance } from 'fastify';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { readWorkroom } from '../kit/workroom.ts';
import { judgePassphrase } from '../let-in/passphrase.ts';
import {
  drawPin,
  forgetFailures,
  keepSecret,
  readSecrets,
  someKeeperHasPassphrase,
} from '../let-in/secrets.ts';
import { signOutEverywhere } from '../let-in/sign-ins.ts';
import { conflict, type Problem } from '../refusal.ts';
import { admissionOf } from '../web/admission.ts';
import { answering } from '../web/answering.ts';
import { enter, takeSecret } from '../web/entering.ts';
import type { House } from '../web/house.ts';
import { wantsJson } from '../web/page.ts';
import { peoplePage, readPerson } from './people.ts';
import { passphrasePage, pinPage, readKeeper } from './secrets.ts';

/** What people sign in with. A secret goes into no request that the book keeps: its hash is written down beside them. */
export function secretRoutes(app: FastifyInstance, house: House): void {
  const { book, door } = house;
  const keeping = answering(app, house);
  const atMachine = answering(app, house, { GET: 'machine', POST: 'machine' });

  keeping.takeForm('/setup/people/:id/pins', async ({ id, show }) => {
    const { name } = readPerson(book, id);
    const pin = drawPin();
    await keepSecret(book, door.hasher, { personId: id, kind: 'pin', secret: pin });
    return show({ ...pinPage(name, pin), saves: false });
  });
  keeping.takeForm('/setup/people/:id/unlockings', ({ id, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => ({ location: '/setup/people', said: `${readPerson(tx, id).name} can sign in again.` }),
      redraw: () => peoplePage(book),
      after: async () => {
        forgetFailures(book, id, 'pin');
        forgetFailures(book, id, 'passphrase');
      },
    }),
  );

  atMachine.answer('/setup/people/:id/passphrase', async ({ id, asker, show }) =>
    show(await passphrasePage(book, id, asker.personId)),
  );
  atMachine.takeForm('/setup/people/:id/passphrase', async ({ id, asker, request, reply, show }) => {
    const passphrase = takeSecret(request, 'passphrase');
    const repeated = takeSecret(request, 'again');
    const own = takeSecret(request, 'own');
    const person = readKeeper(book, id);
    const refuse = async (problem: Problem, status = 422) =>
      show({ ...(await passphrasePage(book, id, asker.personId)), problems: [problem] }, status);
    const has = readSecrets(book).some((one) => one.kind === 'passphrase' && one.personId === asker.personId);
    if (!has && someKeeperHasPassphrase(book) && id !== asker.personId)
      throw conflict('Whoever has a passphrase gives it here first: choose a keeper who has one at the top.');
    if (has) {
      const wrong = await enter(house, request, reply, {
        personId: asker.personId,
        kind: 'passphrase',
        secret: own,
      });
      if (wrong) return refuse({ field: 'own', message: wrong.said }, wrong.status);
    }
    const why = await judgePassphrase(passphrase, [person.name, readWorkroom(book).name]);
    if (why !== '') return refuse({ field: 'passphrase', message: why });
    if (passphrase !== repeated)
      return refuse({ field: 'again', message: 'The same again: enter exactly what you typed above.' });
    await keepSecret(book, door.hasher, { personId: id, kind: 'passphrase', secret: passphrase });
    // Whoever is signed in by the former one is out everywhere else.
    const here = admissionOf(door, request).signIn?.tokenHash ?? null;
    book.writeAside((run) => signOutEverywhere(book, run, id, here));
    if (wantsJson(request)) return reply.send({ location: '/setup/network' });
    return reply.redirect(door.served ? '/setup/people' : '/setup/network', 303);
  });
}
