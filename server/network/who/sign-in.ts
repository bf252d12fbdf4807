import type { FastifyReply, FastifyRequest } from 'fastify';
import { signIn } from '../../let-in/sign-ins.ts';
import { admissionOf, giveToken } from '../../web/admission.ts';
import type { House } from '../../web/house.ts';

interface Chosen {
  readonly personId: number | null;
  readonly isKeeper: boolean;
}

/** Puts a person on the device that asks, or nobody, under a new token. */
export function putOn(house: House, request: FastifyRequest, reply: FastifyReply, chosen: Chosen): void {
  const { device, signIn: before } = admissionOf(house.door, request);
  if (!device) throw new Error('a stranger signs in nowhere');
  const { book } = house;
  const token = book.writeAside((run) =>
    signIn(book.db, run, book.now(), before?.tokenHash ?? null, { deviceId: device.id, ...chosen }),
  );
  giveToken(house.door, request, reply, token);
}
