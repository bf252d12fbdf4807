import { isIPv4 } from 'node:net';
import { z } from 'zod';
import type { Reader } from '../../database/book.ts';
import { optionalText, tickField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { ADDRESS_FIELDS, isOwnMachine, readAddress } from '../../labels/address-form.ts';
import { drawCode } from '../../labels/code-picture.ts';
import { readOldLabels } from '../../labels/overview.ts';
import { readSecrets } from '../../let-in/secrets.ts';
import type { Page } from '../../web/page-frame.ts';
import { localName } from '../certificate/store.ts';
import type { OwnAddress } from '../interfaces.ts';
import type { NetworkListener } from '../listener.ts';
import { readNetwork } from '../settings.ts';

const SWITCH_FIELDS = {
  address: ADDRESS_FIELDS.address,
  wifi_name: optionalText({
    max: 60,
    label: 'Name of the workroom’s Wi-Fi',
    hint: 'For the poster. Its password is kept nowhere.',
  }),
  own_certificate: tickField({
    label: 'Use the program’s own certificate (https)',
    hint: 'Keepers need it on tablets and phones. Setting it up takes some minutes a device.',
  }),
};

/** The passphrase is taken out before the form is read. */
export const SWITCH_ON = z.strictObject(SWITCH_FIELDS);

/** Whether the workroom's network is served, where, and the way to switch it. */
export function networkPage(
  reader: Reader,
  listener: NetworkListener,
  asked: { readonly personId: number; readonly port: number; readonly notice: string },
  typed: Typed = {},
) {
  const settings = readNetwork(reader);
  const { isOn, addresses, origin, failure } = listener.state;
  const own = listener.own();
  const written = readAddress(reader)?.address ?? '';
  const usual = own[0] ? `http://${own[0].address}:${asked.port}` : '';
  const secrets = readSecrets(reader);
  const people = new Map(
    reader.all(reader.db.selectFrom('person').select(['id', 'name'])).map(({ id, name }) => [id, name]),
  );
  const data = {
    requestKey: mintKey(),
    isOn,
    origin,
    addresses: [...addresses],
    failure,
    notice: asked.notice,
    /** what this computer could be reached at, whether it is or not */
    own: own.map(({ address }) => address),
    /** the computer's own name on networks that announce it */
    localName: localName(),
    hasPassphrase: secrets.some(({ personId, kind }) => kind === 'passphrase' && personId === asked.personId),
    passphraseHref: `/setup/people/${asked.personId}/passphrase`,
    ownCertificate: settings.ownCertificate,
    fields: drawFields(SWITCH_FIELDS, {
      address: isUsable(written, own) ? written : usual,
      wifi_name: settings.wifiName,
      own_certificate: settings.ownCertificate ? 'yes' : '',
      ...typed,
    }),
    /** wrong tries in a row, by whom they were made */
    failures: secrets
      .filter(({ failures }) => failures > 0)
      .map(({ personId, kind, failures, failingSince, failedOn }) => ({
        who: people.get(personId) ?? '',
        kind: kind === 'pin' ? 'PIN' : 'passphrase',
        failures,
        since: failingSince === null ? '' : showMoment(failingSince),
        device: failedOn ?? '',
      })),
    oldLabels: readOldLabels(reader),
  };
  return { view: 'network/network', data, title: 'Network', room: 'setup' } satisfies Page;
}

/** Whether an address can lead here: a number that went to another machine cannot, of a name nobody knows. */
function isUsable(written: string, own: readonly OwnAddress[]): boolean {
  if (written === '' || isOwnMachine(written)) return false;
  const { hostname } = new URL(written);
  return !isIPv4(hostname) || own.length === 0 || own.some(({ address }) => address === hostname);
}

/** What hangs on the wall: the address in letters and as a code, the Wi-Fi, and what to do when it does not open. */
export function posterPage(reader: Reader, origin: string, workroom: string) {
  const { wifiName, ownCertificate } = readNetwork(reader);
  const data = { origin, picture: drawCode(origin.toUpperCase()), wifiName, ownCertificate, workroom };
  return { view: 'network/poster', data, title: 'Clothroom on your phone', room: 'setup' } satisfies Page;
}
