import type { FastifyInstance } from 'fastify';
import { MACHINE_ID } from '../../database/device-tables.ts';
import { NOTHING_TYPED } from '../../kit/fields.ts';
import { invite, readDevices, sendAway } from '../../let-in/devices.ts';
import { conflict, orProblems } from '../../refusal.ts';
import { answering } from '../../web/answering.ts';
import { withoutKey } from '../../web/body.ts';
import type { House } from '../../web/house.ts';
import { readForm } from '../../web/post.ts';
import type { NetworkListener } from '../listener.ts';
import { devicesPage, invitationForm, invitationPage } from './page.ts';

/** Devices are let in, listed and sent away by keepers. */
export function deviceRoutes(app: FastifyInstance, house: House, listener: NetworkListener): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  const page = (typed = {}) => devicesPage(book, book.now(), listener.isOn, typed);
  showPage('/setup/devices', () => page());

  // The code is in no answer that the book keeps: it is shown once, and only its hash is written down.
  takeForm('/setup/devices/invitations', ({ asker, typed, body, show }) => {
    const { origin } = listener.state;
    if (origin === '')
      throw conflict('Switch the network on first.', { text: 'The network', href: '/setup/network' });
    const { value: form, problems } = orProblems(() => readForm(invitationForm(book), withoutKey(body)));
    if (!form) return show({ ...page(typed), problems });
    const invited = { deviceName: form.device_name, personId: form.person_id };
    const code = book.writeAside((run) =>
      invite({ db: book.db, run, at: book.now() }, invited, asker.personId),
    );
    return show({ ...invitationPage(form.device_name, code, origin), saves: false });
  });

  takeForm('/setup/devices/:id/send-aways', ({ id, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => ({ location: '/setup/devices', said: `${sendAway(tx, id)} was sent away.` }),
      redraw: () => page(),
    }),
  );
  takeForm('/setup/devices/send-aways', ({ save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => {
        for (const { id, sent_away_at: goneAt } of readDevices(tx))
          if (id !== MACHINE_ID && goneAt === null) sendAway(tx, id);
        return { location: '/setup/devices', said: 'All devices were sent away.' };
      },
      redraw: () => page(),
    }),
  );
}
