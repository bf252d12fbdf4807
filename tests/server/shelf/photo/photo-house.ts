import { expect } from 'vitest';
import type { Lab } from '../../../../src/colour/lab.ts';
import { makeBolt, makeLot, makeStock, newKey, openTestHouse, type TestHouse } from '../../support.ts';

export const RED: Lab = { l: 42, a: 45, b: 20 };
export const REDDER: Lab = { l: 41, a: 46.5, b: 20 };

interface Sending {
  readonly file?: Buffer | undefined;
  readonly taken?: Buffer;
  readonly key?: string;
  readonly accept?: string;
}

type Fields = Record<string, string>;

/** A house with two lots of one cloth and shade, and somebody who sends photos of them. */
export interface PhotoHouse {
  readonly house: TestHouse;
  readonly lots: { readonly one: number; readonly other: number };
  /** Sends a form with photos as a browser does. */
  send(path: string, fields: Fields, sending: Sending): ReturnType<typeof sendTo>;
  /** The fields of a set of both lots. */
  pairFields(changes?: Fields): Fields;
  /** Begins a set and gives the address of its first photo. */
  begin(file: Buffer, changes?: Fields): Promise<string>;
}

export async function openPhotoHouse(): Promise<PhotoHouse> {
  const house = await openTestHouse();
  const lots = house.write((tx) => {
    const { clothId, shadeId, lotId } = makeStock(tx);
    const other = makeLot(tx, clothId, shadeId);
    for (const lot of [lotId, other]) makeBolt(tx, lot, '10 m');
    return { one: lotId, other };
  });
  const send = (path: string, fields: Fields, sending: Sending) => sendTo(house, path, fields, sending);
  const pairFields = (changes: Fields = {}) => ({
    kind: 'pair',
    one: `lot-${lots.one}`,
    other: `lot-${lots.other}`,
    layers: '2',
    backing: 'white',
    state: 'dry',
    light: 'daylight, north window',
    card: '18',
    ...changes,
  });
  return {
    house,
    lots,
    send,
    pairFields,
    async begin(file, changes) {
      const { status, location } = await send('/shelf/photos/new', pairFields(changes), { file });
      expect(status).toBe(303);
      return location;
    },
  };
}

async function sendTo(
  { origin }: TestHouse,
  path: string,
  fields: Fields,
  { file, taken, key, accept = 'text/html' }: Sending,
) {
  const form = new FormData();
  for (const [name, value] of Object.entries({ request_key: key ?? newKey(), ...fields }))
    form.set(name, value);
  form.set('taken', new Blob(taken ? [new Uint8Array(taken)] : []), taken ? 'taken.jpg' : '');
  form.set('chosen', new Blob(file ? [new Uint8Array(file)] : []), file ? 'cloth.jpg' : '');
  const answer = await fetch(origin + path, {
    method: 'POST',
    body: form,
    redirect: 'manual',
    headers: { origin, accept },
  });
  const location = (answer.headers.get('location') ?? '').split('?')[0] ?? '';
  return { status: answer.status, location, text: await answer.text() };
}

export const setOf = (photo: string) => photo.replace(/\/photos\/\d+$/, '');
