import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readReservations, reservationFields } from './reservation.ts';
import { answerFields, readSamples, sampleFields } from './sample.ts';

/** So many that ended are told, those that ran out last. */
const MOST_ENDED = 10;

/** What was typed into a form of the page that was refused. */
export interface RefusedAsking {
  readonly reservation?: Typed;
  readonly step?: { readonly id: number; readonly typed: Typed };
  readonly sample?: Typed;
  readonly answer?: { readonly id: number; readonly typed: Typed };
}

/** What suppliers keep for the workroom, and the samples that were asked of them. */
export function askedPage(reader: Reader, asker: Asker, today: string, refused: RefusedAsking = {}) {
  const reservations = readReservations(reader, asker, today);
  const data = {
    requestKey: mintKey(),
    kept: reservations
      .filter(({ ended }) => ended === '')
      .map((one) => ({
        ...one,
        untilOn: refused.step?.id === one.id ? (refused.step.typed.until_on ?? '') : one.untilOn,
        isRefused: refused.step?.id === one.id,
      })),
    ended: reservations.filter(({ ended }) => ended !== '').slice(-MOST_ENDED),
    samples: readSamples(reader).map(({ asTyped, ...sample }) => {
      const isRefused = refused.answer?.id === sample.id;
      return {
        ...sample,
        isRefused,
        fields: drawFields(answerFields(reader), { ...asTyped, ...(isRefused ? refused.answer?.typed : {}) }),
      };
    }),
    fields: {
      reservation: drawFields(reservationFields(reader, asker), refused.reservation ?? {}),
      sample: drawFields(sampleFields(reader), refused.sample ?? {}),
    },
    open: refused.reservation ? 'reservation' : refused.sample ? 'sample' : '',
  };
  return {
    view: 'orders/asked/asked',
    data,
    title: 'Reservations and samples',
    room: 'orders',
  } satisfies Page;
}
