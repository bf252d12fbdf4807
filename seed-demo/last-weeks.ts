import { keepBetterRecipe, plan, start } from './bench.ts';
import { cutSlackWater, dyeSlackWater } from './great-skirt-weeks.ts';
import type { Hand } from './hand.ts';
import { draft, receive, send } from './orders.ts';
import { measureTier } from './parts.ts';
import { bathOf, type Happening, tellTogether } from './pot.ts';
import { cut, hold, pieceOf, release, sendStrips, splitOff } from './table.ts';

/** The capelet, wanted first: all cut but one strip of red. */
export function cutCapelet(hand: Hand): void {
  const rope = pieceOf(hand, 'Cotton lawn 150', 'Rope');
  const coral = pieceOf(hand, 'Viscose chiffon 140', 'Coral', '871');
  const red = pieceOf(hand, 'Viscose chiffon 140', 'Buoy red', '888');
  hold(hand, hand.before(20, '14:40'), { who: 'Fenn', tier: 'Upper fall', piece: coral, length: '70 cm' });
  hold(hand, hand.before(20, '14:45'), { who: 'Fenn', tier: 'Lower fall', piece: coral, length: '86 cm' });
  cut(hand, hand.before(18, '10:20'), { who: 'Jory', tier: 'Collar frill', piece: rope, strips: 2 });
  cut(hand, hand.before(17, '11:00'), {
    who: 'Fenn',
    tier: 'Upper fall',
    piece: coral,
    strips: 2,
    length: '70 cm',
  });
  cut(hand, hand.before(14, '10:35'), {
    who: 'Jory',
    tier: 'Lower fall',
    piece: coral,
    strips: 2,
    length: '34 in',
    why: 'Cut a little long: the end was torn square.',
  });
  cut(hand, hand.before(14, '11:10'), { who: 'Jory', tier: 'Lower fall', piece: red, strips: 1 });
  receive(hand, hand.before(12, '15:20'), 'Fenn', 'P2', [
    [0, '10.2', 'P-131', 'Rack A'],
    [2, '9.85', 'T-47', 'Rack A'],
  ]);
}

/** The skirt: the sky is cut, the deep is under way, the hem waits for its violet. */
export function cutSkirt(hand: Hand): void {
  const tide = pieceOf(hand, 'Nylon organza 150', 'Deep tide');
  const foam = pieceOf(hand, 'Nylon organza 150', 'Foam', 'N-2190');
  hold(hand, hand.before(11, '16:00'), { who: 'Fenn', tier: 'Sky tier', piece: foam, length: '60 cm' });
  cut(hand, hand.before(10, '10:15'), { who: 'Fenn', tier: 'Sky tier', piece: tide, strips: 2 });
  cut(hand, hand.before(10, '10:40'), {
    who: 'Fenn',
    tier: 'Sky tier',
    piece: foam,
    strips: 1,
    keepRest: true,
  });
  release(hand, hand.before(10, '10:45'), { who: 'Fenn', tier: 'Sky tier', piece: foam });
  orderGround(hand);
  const ink = pieceOf(hand, 'Nylon organza 150', 'Harbour ink', 'N-2164');
  hold(hand, hand.before(7, '09:30'), { who: 'Oda', tier: 'Deep tier', piece: ink, length: '81 cm' });
  hold(hand, hand.before(7, '09:35'), { who: 'Oda', tier: 'Deep tier', piece: tide, length: '81 cm' });
  cut(hand, hand.before(6, '14:10'), {
    who: 'Fenn',
    tier: 'Deep tier',
    piece: tide,
    strips: 3,
    keepRest: true,
  });
  cut(hand, hand.before(6, '14:30'), { who: 'Fenn', tier: 'Deep tier', piece: ink, strips: 3 });
  measureTier(hand, hand.before(6, '15:20'), {
    who: 'Fenn',
    tier: 'Sky tier',
    lower: '43',
    note: 'Over the cage. The floor is 4 cm nearer at the back.',
  });
  sendStrips(hand, hand.before(5, '15:30'), {
    who: 'Fenn',
    tier: 'Collar frill',
    fields: {
      strips: '2',
      length: '2.8 m',
      width: '12 cm',
      pleater: 'Foldwell Pleating (invented)',
      asked: 'Knife pleats of 1 cm, folds meeting. The hem is done. An invented job.',
      sent_on: hand.day(-5),
      expected_on: hand.day(2),
    },
  });
  keepBetterRecipe(
    hand,
    hand.before(5, '15:45'),
    { 'Heather violet M (invented)': '1.4', 'Harbour blue M (invented)': '0.3' },
    'The dyes of this recipe are invented; no such dye is sold. Redder than version 1, after the swatch.',
  );
  cutRuffles(hand);
}

function orderGround(hand: Hand): void {
  const code = draft(hand, hand.before(9, '11:15'), {
    who: 'Oda',
    supplier: 'Driftline Mill',
    expected: hand.day(6),
    note: 'Undyed, scoured.',
    lines: [
      ['Cotton lawn 150', 'Natural', '25', '5.70'],
      ['Viscose chiffon 140', 'Undyed white', '12', '7.40'],
    ],
  });
  send(hand, hand.before(9, '11:30'), 'Oda', code);
}

function cutRuffles(hand: Hand): void {
  const tulle = pieceOf(hand, 'Polyester tulle 137', 'Foam', 'T-41');
  const gold = pieceOf(hand, 'Polyester organza 150', 'Lantern gold', 'P-131');
  const white = pieceOf(hand, 'Polyester organza 150', 'Undyed white', 'P-118');
  hold(hand, hand.before(4, '13:30'), { who: 'Jory', tier: 'Foam ruffle', piece: tulle, length: '1 5/8 yd' });
  cut(hand, hand.before(3, '10:05'), { who: 'Jory', tier: 'Foam ruffle', piece: tulle, strips: 5 });
  hold(hand, hand.before(2, '11:25'), { who: 'Oda', tier: 'Lantern ruffle', piece: gold, length: '30 cm' });
  cut(hand, hand.before(2, '15:00'), { who: 'Fenn', tier: 'Lantern ruffle', piece: gold, strips: 2 });
  plan(hand, hand.before(2, '16:10'), {
    who: 'Tamsin',
    recipe: 'Ember on polyester',
    vessel: 'Small steel pot',
    lengths: { [white]: '90 cm' },
    due: hand.day(2),
    note: 'Swatch first: this polyester has not been dyed here before.',
  });
}

/** Yesterday afternoon and today. */
export function workToday(hand: Hand): void {
  const white = pieceOf(hand, 'Nylon organza 150', 'Undyed white', 'N-2207');
  const code = plan(hand, hand.before(1, '10:30'), {
    who: 'Tamsin',
    recipe: 'Dusk violet on nylon',
    vessel: 'Small steel pot',
    lengths: { [white]: '3.8' },
    due: hand.day(0),
    note: 'For the hem tier, and a banner.',
  });
  const remnant = pieceOf(hand, 'Polyester tulle 137', 'Foam', '');
  let mistaken = '';
  const at = (time: string, happens: () => void): Happening => ({ at: hand.before(1, time), happens });
  dyeSlackWater(hand, [
    at('16:10', () => {
      mistaken = cut(hand, hand.before(1, '16:10'), {
        who: 'Jory',
        tier: 'Foam ruffle',
        piece: remnant,
        strips: 2,
      });
    }),
    at('16:25', () => hand.undoes(hand.before(1, '16:25'), 'Oda', mistaken)),
  ]);
  draft(hand, hand.minutesAgo(290), {
    who: 'Oda',
    supplier: 'Marram Net and Lawn',
    expected: '',
    note: '',
    lines: [
      ['Nylon net 140', 'Fog grey', '6', '2.60'],
      ['Nylon organza 150', 'Harbour ink', '4', ''],
    ],
  });
  cutSlackWater(hand);
  splitOff(hand, hand.minutesAgo(205), {
    who: 'Fenn',
    cloth: 'Nylon organza 150',
    shade: 'Kelp',
    lot: 'N-2240',
    length: '2.5',
    why: 'To drape on the stand.',
    place: 'Table shelf',
  });
  hold(hand, hand.minutesAgo(200), {
    who: 'Oda',
    tier: 'Hem tier',
    piece: pieceOf(hand, 'Nylon organza 150', 'Harbour ink', 'N-2164'),
    length: '94 cm',
  });
  start(hand, hand.minutesAgo(190), 'Tamsin', code);
  watchPots(hand, code, {
    at: hand.minutesAgo(25),
    happens: () =>
      cut(hand, hand.minutesAgo(25), {
        who: 'Jory',
        tier: 'Foam ruffle',
        piece: pieceOf(hand, 'Polyester tulle 137', 'Foam', 'T-41'),
        strips: 3,
      }),
  });
}

/** Two pots of violet, the second begun when the first one's scour was done, while somebody cuts. */
function watchPots(hand: Hand, code: string, beside: Happening): void {
  const pot = { who: 'Tamsin', code, lots: { 'Heather violet M (invented)': '25-007' } };
  const first = bathOf(hand, {
    ...pot,
    bath: 1,
    at: (minute) => hand.minutesAgo(186 - minute),
    until: 159,
    readings: [
      [71, 'pH', '6.5'],
      [100, 'temperature', '60'],
      [126, 'temperature', '73'],
      [148, 'temperature', '88'],
      [159, 'temperature', '98'],
    ],
  });
  const second = bathOf(hand, {
    ...pot,
    bath: 2,
    at: (minute) => hand.minutesAgo(154 - minute),
    until: 126,
    readings: [
      [98, 'temperature', '59'],
      [124, 'temperature', '72'],
    ],
  });
  tellTogether(first, second, [beside]);
}
