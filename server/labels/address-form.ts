import { z } from 'zod';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { field } from '../kit/fields.ts';
import { asked } from '../kit/form-drawing.ts';

/** The address that stands in the codes of labels, or nothing where none was written down yet. */
export function readAddress(reader: Reader) {
  return reader.first(
    reader.db.selectFrom('label_address').select(['id', 'address']).orderBy('id', 'desc').limit(1),
  );
}

const address = field((typed, refuse) => {
  const given = typed.trim().replace(/\/+$/, '');
  const found = /^(https?):\/\/([a-z0-9][a-z0-9.-]*)(:\d{1,5})?$/i.exec(given);
  if (!found) {
    return refuse(
      'Write it as http://, the name or number of the machine, and the port: http://192.168.1.20:8040.',
    );
  }
  const [, scheme = '', host = '', port = ''] = found;
  if (given.length > 60)
    return refuse('That is too long for a code that a phone reads: 60 characters at most.');
  if (Number(port.slice(1)) > 65_535) return refuse('A port is at most 65535.');
  return `${scheme.toLowerCase()}://${host.toLowerCase()}${port}`;
});

export const ADDRESS_FIELDS = {
  address: asked(address, {
    label: 'Address of this workroom',
    hint: 'What a phone opens to reach Clothroom.',
    maxlength: 120,
  }),
};

export const ADDRESS_FORM = z.strictObject(ADDRESS_FIELDS);

/** Writes a new address down; labels that were printed at the old one are listed from then on. */
export function changeAddress(tx: Tx, form: z.output<typeof ADDRESS_FORM>): Answer {
  const before = readAddress(tx);
  if (before?.address === form.address) {
    return { location: '/setup/labels', said: `Labels say ${form.address} already.` };
  }
  tx.run(
    tx.db.insertInto('label_address').values({ address: form.address, at: tx.at, person_id: tx.personId }),
  );
  return { location: '/setup/labels', said: `Labels that are printed from now on lead to ${form.address}.` };
}

/** True for an address that only the machine itself can reach. */
export function isOwnMachine(address: string): boolean {
  return /^https?:\/\/(localhost|127\.[0-9.]+)(:\d+)?$/.test(address);
}
