import { finish, plan, start } from './bench.ts';
import { capelet, describe, finishSewing, sash, skirt } from './garments.ts';
import type { Hand } from './hand.ts';
import { draft, receive, send } from './orders.ts';
import { keepParts, TIDE_SKIRT_PARTS } from './parts.ts';
import { bathOf, swatch, tellTogether, verdict } from './pot.ts';
import { countAgain, cut, pieceOf, sendBack, writeOffPart } from './table.ts';

/** A day's clock for somebody who works on for a while: minute 4 of 10 o'clock is 10:04. */
const from = (hand: Hand, days: number, hour: number) => (minute: number) =>
  hand.before(days, `${hour}:${String(minute).padStart(2, '0')}`);

/** The first garment, finished long since. */
export function makeSash(hand: Hand): void {
  const code = describe(hand, from(hand, 39, 10), 'Oda', sash(hand));
  const piece = pieceOf(hand, 'Cotton organdie 137', 'Rope');
  cut(hand, hand.before(38, '11:20'), { who: 'Fenn', tier: 'Sash frill', piece, strips: 2 });
  finishSewing(hand, hand.before(37, '16:45'), 'Fenn', code);
}

/** Two garments are described, cloth is dyed for them and more is bought. */
export function dyeAndOrder(hand: Hand): void {
  orderKelp(hand);
  dyeRope(hand);
  const code = describe(hand, from(hand, 33, 10), 'Oda', skirt(hand));
  keepParts(hand, (minute) => from(hand, 33, 10)(40 + minute), 'Oda', code, TIDE_SKIRT_PARTS);
  describe(hand, from(hand, 32, 14), 'Tamsin', capelet(hand));
  dyeDeepTide(hand);
  receiveKelp(hand);
  lookOverShelf(hand);
  orderGold(hand);
}

function orderKelp(hand: Hand): void {
  const code = draft(hand, hand.before(36, '09:40'), {
    who: 'Oda',
    supplier: 'Copperlane Sheers',
    expected: hand.day(-28),
    note: 'One lot each, please.',
    lines: [
      ['Nylon organza 150', 'Kelp', '15', '6.80'],
      ['Polyester tulle 137', 'Lantern gold', '12', '2.10'],
    ],
  });
  send(hand, hand.before(36, '09:55'), 'Oda', code);
}

function dyeRope(hand: Hand): void {
  const natural = pieceOf(hand, 'Cotton lawn 150', 'Natural', '5512');
  const code = plan(hand, hand.before(35, '15:30'), {
    who: 'Tamsin',
    recipe: 'Rope on cotton',
    vessel: 'Large steel pot',
    lengths: { [natural]: '5.2' },
    due: hand.day(-33),
    note: 'For the collar frill, and some to spare.',
  });
  start(hand, hand.before(34, '09:30'), 'Tamsin', code);
  finish(hand, hand.before(34, '15:10'), { who: 'Tamsin', code, measured: ['4.98'], place: 'Rack B' });
}

function dyeDeepTide(hand: Hand): void {
  const [remnant, bolt] = [
    pieceOf(hand, 'Nylon organza 150', 'Undyed white', ''),
    pieceOf(hand, 'Nylon organza 150', 'Undyed white', 'N-2207'),
  ];
  const code = plan(hand, hand.before(31, '11:10'), {
    who: 'Tamsin',
    recipe: 'Deep tide on nylon',
    vessel: 'Enamel pot',
    lengths: { [remnant]: '1.85', [bolt]: '2' },
    due: hand.day(-29),
  });
  start(hand, hand.before(30, '10:00'), 'Tamsin', code);
  const before = { who: 'Tamsin', code, side: 'before' as const };
  swatch(hand, hand.before(30, '10:02'), { ...before, lab: '94 0.2 2', note: 'Snip 1 of the dye book.' });
  tellTogether(
    bathOf(hand, {
      who: 'Tamsin',
      code,
      bath: 1,
      at: (minute) => hand.before(30, `${10 + Math.floor((minute + 5) / 60)}:${(minute + 5) % 60}`),
      longer: { hold: 13 },
      weighed: { 'Kelp green A (invented)': '0.57' },
      lots: { 'Harbour blue A (invented)': '24-118', 'Kelp green A (invented)': '24-090' },
      readings: [
        [51, 'temperature', '50'],
        [62, 'pH', '5.5'],
        [82, 'temperature', '63'],
        [97, 'temperature', '76'],
        [110, 'temperature', '94'],
        [120, 'temperature', '97'],
        [150, 'temperature', '98'],
        [170, 'pH', '5'],
      ],
    }),
  );
  // They come back in the order of the pieces on the shelf: the remnant was there first.
  finish(hand, hand.before(30, '16:20'), { who: 'Fenn', code, measured: ['1.81', '1.95'], place: 'Rack A' });
  const after = { who: 'Tamsin', code, side: 'after' as const };
  swatch(hand, hand.before(30, '16:40'), { ...after, lab: '34.4 -12.9 -21.3', note: 'Snip 2, dried flat.' });
  verdict(
    hand,
    hand.before(30, '16:45'),
    'Tamsin',
    code,
    'A hair greener than the swatch; right by lantern light.',
  );
}

function receiveKelp(hand: Hand): void {
  receive(hand, hand.before(29, '10:30'), 'Fenn', 'P1', [
    [0, '7.62', 'N-2240', 'Rack A'],
    [0, '7.4', 'N-2240', 'Rack A'],
    [1, '12.1', 'T-44', 'Rack A'],
  ]);
}

/** Somebody counts, finds a stain and sends a flawed length back. */
function lookOverShelf(hand: Hand): void {
  countAgain(hand, hand.before(28, '14:05'), {
    who: 'Jory',
    cloth: 'Nylon net 140',
    shade: 'Mussel black',
    lot: 'MN-6',
    length: '14 3/4',
    why: 'Measured on the table, flat.',
  });
  writeOffPart(hand, hand.before(26, '11:50'), {
    who: 'Fenn',
    cloth: 'Viscose chiffon 140',
    shade: 'Buoy red',
    length: '1.55',
    why: 'water stain from the skylight',
  });
  sendBack(hand, hand.before(25, '09:15'), {
    who: 'Oda',
    cloth: 'Polyester tulle 137',
    shade: 'Undyed white',
    length: '3',
    why: 'Torn along one selvedge; taken back by the supplier.',
  });
}

function orderGold(hand: Hand): void {
  const code = draft(hand, hand.before(24, '10:10'), {
    who: 'Oda',
    supplier: 'Copperlane Sheers',
    expected: hand.day(-4),
    note: 'The red is wanted first.',
    lines: [
      ['Polyester organza 150', 'Lantern gold', '10', '4.60'],
      ['Viscose chiffon 140', 'Buoy red', '5', '7.90'],
      ['Polyester tulle 137', 'Foam', '20', '1.90'],
    ],
  });
  send(hand, hand.before(24, '10:25'), 'Oda', code);
}
