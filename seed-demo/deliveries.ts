import { deliveryForm, receiveDelivery } from '../server/shelf/receive/form.ts';
import type { Hand } from './hand.ts';

type Row = [cloth: string, shade: string, lot: string, length: string, price: string, more?: Measured];
interface Measured {
  readonly width?: string;
  readonly place?: string;
}

/** What lay on the shelf when the book was opened, and the first deliveries. */
export function receiveStock(hand: Hand): void {
  receiveDelivered(hand, hand.before(45, '14:30'), 'Fenn', LYING_THERE);
  receiveDelivered(hand, hand.before(43, '10:15'), 'Oda', FROM_COPPERLANE);
  receiveDelivered(hand, hand.before(42, '15:40'), 'Fenn', FROM_DRIFTLINE);
  receiveDelivered(hand, hand.before(41, '11:05'), 'Jory', FROM_MARRAM);
}

export interface Delivery {
  readonly supplier: string;
  readonly note: string;
  readonly kind: 'bolt' | 'remnant';
  readonly place: string;
  readonly rows: readonly Row[];
}

export function receiveDelivered(hand: Hand, when: string, who: string, delivery: Delivery): void {
  const { supplier, note, kind, place, rows } = delivery;
  const asked = {
    supplier_id: supplier === '' ? '' : hand.id('supplier', supplier),
    note,
    pieces: rows.map(([cloth, shade, lot, length, price, more = {}]) => ({
      kind,
      cloth_id: hand.id('cloth', cloth),
      shade_id: hand.id('shade', shade),
      mill_lot: lot,
      length,
      usable_width: more.width ?? '',
      price,
      place_id: hand.id('place', more.place ?? place),
    })),
  };
  hand.fillsIn(when, who, asked, {
    schema: (asker) => deliveryForm(hand.book, asker),
    write: receiveDelivery,
  });
}

const LYING_THERE: Delivery = {
  supplier: '',
  note: 'What lay in the chest when the book was opened; the mills’ lots are not known.',
  kind: 'remnant',
  place: 'Remnant chest',
  rows: [
    ['Nylon organza 150', 'Undyed white', '-', '1.85', ''],
    ['Nylon organza 150', 'Kelp', '-', '0.55', ''],
    ['Polyester organza 150', 'Lantern gold', '-', '0.72', ''],
    ['Polyester organza 150', 'Lantern gold', '-', '68 cm', ''],
    ['Polyester tulle 137', 'Foam', '-', '1.2', ''],
    ['Cotton lawn 150', 'Natural', '-', '2.40', ''],
    ['Viscose chiffon 140', 'Coral', '-', '0.9', '', { width: '62' }],
    ['Cotton organdie 137', 'Undyed white', '-', '1.1', '', { width: '68' }],
    ['Nylon net 140', 'Mussel black', '-', '1.6', ''],
  ],
};

const FROM_COPPERLANE: Delivery = {
  supplier: 'Copperlane Sheers',
  note: 'Invented delivery note 3301.',
  kind: 'bolt',
  place: 'Rack A',
  rows: [
    ['Nylon organza 150', 'Undyed white', 'N-2207', '18.40', '108.56', { place: 'Dye store' }],
    ['Nylon organza 150', 'Undyed white', 'N-2207', '12', '70.80', { place: 'Dye store' }],
    ['Nylon organza 150', 'Harbour ink', 'N-2164', '1.9', '12.92'],
    ['Nylon organza 150', 'Harbour ink', 'N-2231', '6.05', '41.14'],
    ['Nylon organza 150', 'Foam', 'N-2190', '9', '61.20'],
    ['Polyester organza 150', 'Undyed white', 'P-118', '15.2', '63.84', { place: 'Dye store' }],
    ['Polyester organza 150', 'Lantern gold', 'P-097', '4.5', '20.70'],
    ['Polyester tulle 137', 'Foam', 'T-41', '40 yd', '69.50'],
    ['Polyester tulle 137', 'Undyed white', 'T-38', '22', '39.60', { place: 'Dye store' }],
  ],
};

const FROM_DRIFTLINE: Delivery = {
  supplier: 'Driftline Mill',
  note: 'Invented delivery note 77.',
  kind: 'bolt',
  place: 'Rack B',
  rows: [
    ['Cotton lawn 150', 'Natural', '5512', '20', '116.00', { place: 'Dye store' }],
    ['Cotton lawn 150', 'Natural', '5512', '14.5', '84.10', { place: 'Dye store' }],
    ['Viscose chiffon 140', 'Undyed white', '903', '10.8', '81.00', { place: 'Dye store' }],
    ['Viscose chiffon 140', 'Coral', '871', '6.3', '49.77'],
    ['Viscose chiffon 140', 'Buoy red', '888', '2.1', '16.59'],
    ['Cotton organdie 137', 'Undyed white', '340', '5', '47.50', { width: '133' }],
    ['Cotton organdie 137', 'Rope', '341', '3.2', '31.04'],
  ],
};

/** Jory measures in yards. */
const FROM_MARRAM: Delivery = {
  supplier: 'Marram Net and Lawn',
  note: 'Fetched from the quay.',
  kind: 'bolt',
  place: 'Rack B',
  rows: [
    ['Nylon net 140', 'Mussel black', 'MN-6', '15 1/4', '36.26'],
    ['Nylon net 140', 'Fog grey', 'MN-9', '9 yd 30 in', '23.38'],
    ['Nylon net 140', 'Undyed white', 'MN-2', '22', '52.30', { place: 'Dye store' }],
    ['Cotton lawn 150', 'Buoy red', '208', '5 1/2', '31.70'],
    ['Voile, polyester and cotton', 'Rope', 'V-61', '8 3/4', '29.20', { width: '43 1/2' }],
  ],
};
