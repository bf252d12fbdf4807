import type { FastifyInstance } from 'fastify';
import { useInvitation } from '../../let-in/devices.ts';
import { signIn } from '../../let-in/sign-ins.ts';
import { conflict, Refusal } from '../../refusal.ts';
import { admissionOf, giveToken } from '../../web/admission.ts';
import { answering } from '../../web/answering.ts';
import { takeSecret, waitAtDoor } from '../../web/entering.ts';
import type { House } from '../../web/house.ts';
import { wantsJson } from '../../web/page.ts';
import type { Page } from '../../web/page-frame.ts';

export function joinPage(isOn: boolean) {
  return { view: 'network/join', data: { isOn }, title: 'Let this device in', room: null } satisfies Page;
}

/** A device is let in by the code on a keeper's screen: it stands behind the # of the address, which no log holds. */
export function joinRoutes(app: FastifyInstance, house: House): void {
  const { book, door } = house;
  const { showPage, takeForm } = answering(app, house, { GET: 'open', POST: 'open' });
  showPage('/join', () => joinPage(door.served !== null));
  takeForm('/join', ({ request, reply, show }) => {
    const code = takeSecret(request, 'code');
    if (!door.served) throw conflict('The network is off: no device is let in.');
    const refuse = (message: string, status: number) =>
      show({ ...joinPage(true), problems: [{ field: 'code', message }], saves: false }, status);
    const late = waitAtDoor(house, request, reply);
    if (late) return refuse(late.said, late.status);
    const before = admissionOf(door, request).signIn;
    try {
      const now = book.now();
      const { token, personId } = book.writeAside((run) => {
        const device = useInvitation(book, run, code, now);
        const given = { deviceId: device.id, personId: device.personId, isKeeper: false };
        const minted = signIn(book.db, run, now, before?.tokenHash ?? null, given);
        return { token: minted, personId: device.personId };
      });
      giveToken(door, request, reply, token);
      const location = personId === null ? '/who' : '/';
      return wantsJson(request) ? reply.send({ location }) : reply.redirect(location, 303);
    } catch (error) {
      if (!(error instanceof Refusal) || error.kind !== 'conflict') throw error;
      return refuse(error.message, error.status);
    }
  });
}
