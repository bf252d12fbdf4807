import { z } from 'zod';
import type { Reader } from '../../database/book.ts';
import { MACHINE_ID } from '../../database/device-tables.ts';
import { optionalChosen } from '../../kit/choices.ts';
import { textField } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { drawCode } from '../../labels/code-picture.ts';
import { INVITATION_MINUTES, readDevice, readDevices } from '../../let-in/devices.ts';
import type { Page } from '../../web/page-frame.ts';

function invitationFields(reader: Reader) {
  const people = reader.all(
    reader.db.selectFrom('person').select(['id', 'name']).where('left_at', 'is', null).orderBy('name'),
  );
  return {
    device_name: textField({
      max: 60,
      label: 'Name of the device',
      hint: 'Such as “tablet of the cutting table”.',
    }),
    person_id: optionalChosen(
      people.map(({ id, name }) => ({ value: String(id), label: `${name}’s own` })),
      'whose device it is',
      {
        label: 'Whose it is',
        blank: 'shared: each person signs in with a PIN',
        hint: 'Their own device needs no PIN.',
        required: true,
      },
    ),
  };
}

export function invitationForm(reader: Reader) {
  return z.strictObject(invitationFields(reader));
}

/** The devices that were let in, and letting another in. */
export function devicesPage(reader: Reader, now: string, isOn: boolean, typed: Typed = {}) {
  const devices = readDevices(reader)
    .filter(({ id }) => id !== MACHINE_ID)
    .map((row) => ({
      name: row.name,
      whose: row.whose === null ? 'shared' : `${row.whose}’s own`,
      pairedAt: row.paired_at === null ? '' : showMoment(row.paired_at),
      seenAt: row.seen_at === null ? '' : showMoment(row.seen_at),
      action: `/setup/devices/${row.id}/send-aways`,
      requestKey: mintKey(),
      isIn: readDevice(reader, row.id, now) !== undefined,
      goneAt: row.sent_away_at === null ? '' : showMoment(row.sent_away_at),
    }));
  const data = {
    requestKey: mintKey(),
    isOn,
    fields: drawFields(invitationFields(reader), typed),
    devices: devices.filter(({ isIn }) => isIn),
    gone: devices.filter(({ isIn }) => !isIn),
  };
  return { view: 'network/devices', data, title: 'Devices', room: 'setup' } satisfies Page;
}

/** The code that lets one device in, as a picture and as letters. It is drawn once and kept in no file. */
export function invitationPage(deviceName: string, code: string, origin: string) {
  const href = `${origin}/join#${code.replaceAll('-', '')}`;
  const data = { deviceName, code, origin, href, picture: drawCode(href), minutes: INVITATION_MINUTES };
  return { view: 'network/invitation', data, title: `Let ${deviceName} in`, room: 'setup' } satisfies Page;
}
