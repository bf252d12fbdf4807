import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import type { Device } from '../../let-in/devices.ts';
import type { Admission } from '../../web/admission.ts';
import type { Page } from '../../web/page-frame.ts';

/** Where whoever asks is sent afterwards, and whom they chose. */
export interface AskedWho {
  readonly back: string;
  readonly personId: number;
}

/** The people of the workroom on a device that was let in: tap your name, then your PIN where the device is shared. */
export function whoPage(
  reader: Reader,
  admission: Admission,
  { back, personId }: AskedWho,
  canBeKeeper: boolean,
) {
  const people = readPeopleByName(reader);
  const chosen = people.find(({ id }) => id === personId);
  const data = {
    back,
    device: admission.device?.name ?? '',
    working: admission.person?.name ?? '',
    chosen: chosen && { id: chosen.id, name: chosen.name, needsPin: needsPin(admission.device, chosen.id) },
    people: people.map(({ id, name }) => ({
      id,
      name,
      href: address('/who', { person: id, back: back === '/' ? '' : back }),
      isOwn: id === admission.device?.personId,
    })),
    keeperHref: canBeKeeper ? address('/who/keeper', { back: back === '/' ? '' : back }) : '',
  };
  const title = chosen ? chosen.name : 'Who works here?';
  return { view: 'network/who', data, title, room: null } satisfies Page;
}

/** The passphrase of a keeper, at the machine or over the own certificate. */
export function keeperPage(reader: Reader, { back, personId }: AskedWho) {
  const keepers = readPeopleByName(reader).filter(({ role }) => role === 'keeper');
  const data = {
    back,
    people: keepers.map(({ id, name }) => ({ id, name, isChosen: id === personId })),
  };
  return { view: 'network/keeper', data, title: 'Sign in as keeper', room: null } satisfies Page;
}

/** On a device of one's own its person needs no PIN. */
export function needsPin(device: Device | null, personId: number): boolean {
  return device === null || device.personId !== personId;
}

function readPeopleByName(reader: Reader) {
  return reader.all(
    reader.db
      .selectFrom('person')
      .select(['id', 'name', 'role'])
      .where('left_at', 'is', null)
      .orderBy('name'),
  );
}
