import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { NOTHING_TYPED } from '../../kit/fields.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { changeAddress } from '../../labels/address-form.ts';
import { conflict, invalid } from '../../refusal.ts';
import { readPerson } from '../../setup/people.ts';
import { type Asked, answering } from '../../web/answering.ts';
import { enter, type NotEntered, takeSecret } from '../../web/entering.ts';
import type { House } from '../../web/house.ts';
import { isNameable } from '../certificate/make.ts';
import type { NetworkListener } from '../listener.ts';
import { readNetwork, writeNetwork } from '../settings.ts';
import { putOn } from '../who/sign-in.ts';
import { networkPage, posterPage, SWITCH_ON } from './page.ts';

/** The network is switched on and off at the machine, by a keeper who gives the passphrase for it. */
export function switchRoutes(app: FastifyInstance, house: House, listener: NetworkListener): void {
  const { book, door } = house;
  const { showPage } = answering(app, house);
  const { takeForm } = answering(app, house, { POST: 'machine' });
  const page = (personId: number, typed = {}) =>
    networkPage(book, listener, { personId, port: door.port(), notice: door.served?.notice ?? '' }, typed);
  showPage('/setup/network', ({ asker }) => page(asker.personId));

  takeForm('/setup/network/on', async (asked) => {
    const { asker, request, reply, save, typed } = asked;
    const wrong = await givesPassphrase(asked);
    if (wrong) return refuse(asked, wrong, typed);
    if (listener.own().length === 0)
      throw conflict('This computer is on no private network: join the workroom’s Wi-Fi or cable first.');
    return save({
      schema: SWITCH_ON,
      write: (tx, form) => {
        if (form.own_certificate && !isNameable(new URL(form.address).hostname))
          throw invalid(
            'address',
            'With the own certificate: a number of a private network, or a name that ends in .local.',
          );
        const { said } = changeAddress(tx, { address: form.address });
        writeNetwork(tx, {
          isOn: true,
          subnets: [...new Set(listener.own().map(({ subnet }) => subnet))],
          wifiName: form.wifi_name,
          ownCertificate: form.own_certificate,
        });
        return { location: '/setup/network', said: `The network is on. ${said}` };
      },
      redraw: (again) => page(asker.personId, again),
      after: async () => {
        await listener.look();
        // The keeper gave the passphrase a moment ago, and need not give it again.
        if (listener.isOn) stayKeeper(request, reply, asker.personId);
      },
    });
  });

  takeForm('/setup/network/off', async (asked) => {
    const { asker, save } = asked;
    const wrong = await givesPassphrase(asked);
    if (wrong) return refuse(asked, wrong);
    return save({
      schema: NOTHING_TYPED,
      write: (tx) => {
        writeNetwork(tx, { ...readNetwork(tx), isOn: false });
        return {
          location: '/setup/network',
          said: 'The network is off. Clothroom answers at this computer only.',
        };
      },
      redraw: () => page(asker.personId),
      after: () => listener.look(),
    });
  });

  showPage('/setup/network/poster', () => {
    const { origin } = listener.state;
    if (origin === '')
      throw conflict('Switch the network on first.', { text: 'The network', href: '/setup/network' });
    return posterPage(book, origin, readWorkroom(book).name);
  });

  /** Why the passphrase that was sent is not that of whoever asks; null where it is. */
  async function givesPassphrase({ asker, request, reply }: Asked): Promise<NotEntered | null> {
    const secret = takeSecret(request, 'passphrase');
    const { role, name } = readPerson(book, asker.personId);
    if (role !== 'keeper') return { said: `${name} is no keeper. Choose one at the top.`, status: 422 };
    return enter(house, request, reply, { personId: asker.personId, kind: 'passphrase', secret });
  }

  function refuse({ asker, show }: Asked, { said, status }: NotEntered, typed = {}) {
    const problems = [{ field: 'passphrase', message: said }];
    return show({ ...page(asker.personId, typed), problems }, status);
  }

  function stayKeeper(request: FastifyRequest, reply: FastifyReply, personId: number): void {
    putOn(house, request, reply, { personId, isKeeper: true });
  }
}
