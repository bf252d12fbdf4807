import { cutAtBench, layBenchForm } from '../server/cutting-table/lay/bench.ts';
import { finish, keepRecipe, plan, start } from './bench.ts';
import { describeCloth } from './cloths.ts';
import { sayHours, tapWork } from './days.ts';
import { type Delivery, receiveDelivered } from './deliveries.ts';
import { describe } from './garments.ts';
import { GREAT_SKIRT_PARTS, greatSkirt, NYLON_VOILE, TIDES, VOILE } from './great-skirt.ts';
import type { Hand } from './hand.ts';
import { holdLays } from './lays.ts';
import { draft, send } from './orders.ts';
import { keepParts, measureTier } from './parts.ts';
import { bathOf, type Happening, swatch, tellTogether, verdict } from './pot.ts';
import { nameShade } from './shades.ts';
import { cut, pieceOf } from './table.ts';

const [SPUME, SLACK, LOW] = TIDES;
const NAME = 'Storm-tide great skirt';

/** The great skirt is described, its parts are kept and its first cloth comes. */
export function describeGreatSkirt(hand: Hand): void {
  const at = (minute: number) => hand.before(21, `12:${minute}`);
  describeCloth(hand, at(0), NYLON_VOILE);
  nameShade(hand, at(4), [SPUME, '88.4 -4.2 -1.8', 'instrument', '']);
  nameShade(hand, at(5), [SLACK, '61.5 -14.1 -13.6', 'photo', 'The middle of the three tides.']);
  nameShade(hand, at(6), [LOW, '30.2 -11.7 -19.4', 'photo', 'The deepest of the three tides.']);
  receiveDelivered(hand, at(10), 'Fenn', VOILE_CAME);
  for (const [at, recipe] of RECIPES.entries())
    keepRecipe(hand, hand.before(21, `12:${20 + 6 * at}`), recipe);
  const code = describe(hand, (minute) => at(40 + minute), 'Oda', greatSkirt(hand));
  keepParts(hand, (minute) => at(140 + minute), 'Oda', code, GREAT_SKIRT_PARTS);
}

/** What was bought ready: of the pale shade two lots, a length cut off narrow, and undyed cloth for the pots. */
const VOILE_CAME: Delivery = {
  supplier: 'Copperlane Sheers',
  note: 'Invented delivery note 3402: the pale shade from two lots, as no one lot had enough.',
  kind: 'bolt',
  place: 'Rack B',
  rows: [
    [VOILE, SPUME, 'V-702', '22', '107.80'],
    [VOILE, SPUME, 'V-715', '12', '58.80'],
    [VOILE, SPUME, 'V-702', '6.5', '22.10', { width: '118' }],
    [VOILE, 'Undyed white', 'V-688', '40', '168.00', { place: 'Dye store' }],
    [VOILE, 'Undyed white', 'V-688', '25', '105.00', { place: 'Dye store' }],
  ],
};

const RECIPES = [
  {
    shade: SLACK,
    fibre: 'nylon',
    dyeClass: 'acid-levelling',
    depth: 'pale',
    dyes: { 'Harbour blue A (invented)': '0.35', 'Kelp green A (invented)': '0.12' },
    shrinkage: '2',
    note: 'The dyes of this recipe are invented; no such dye is sold.',
  },
  {
    shade: LOW,
    fibre: 'nylon',
    dyeClass: 'acid-levelling',
    depth: 'dark',
    dyes: { 'Harbour blue A (invented)': '1.7', 'Kelp green A (invented)': '0.5' },
    shrinkage: '2.5',
    note: 'The dyes of this recipe are invented; no such dye is sold. Untried: swatch first.',
  },
] as const;

/** The pale strips of the upper tiers come off the bought bolt. */
export function cutFirstTiers(hand: Hand): void {
  const piece = pieceOf(hand, VOILE, SPUME, 'V-702');
  for (const [at, [tier, strips]] of FIRST.entries())
    cut(hand, hand.before(20, `10:${20 + at * 12}`), { who: at % 2 ? 'Jory' : 'Fenn', tier, piece, strips });
  const net = pieceOf(hand, 'Nylon net 140', 'Undyed white');
  cut(hand, hand.before(20, '11:30'), { who: 'Jory', tier: 'Net over the cage', piece: net, strips: 2 });
}

const FIRST = [
  ['Tier 1', 2],
  ['Tier 2', 2],
  ['Tier 3', 2],
  ['Tier 4', 2],
] as const;

/** An evening at the machine on the first tier, as it was pinned. */
export function sewGreatSkirt(hand: Hand): void {
  const code = codeOf(hand);
  measureTier(hand, hand.before(2, '19:00'), {
    who: 'Fenn',
    tier: 'Tier 1',
    lower: '51',
    note: 'Pinned over the cage and the net.',
  });
  tapWork(hand, hand.before(2, '19:05'), code, ['sew', 'begun']);
  tapWork(hand, hand.before(2, '20:20'), code, ['sew', 'left']);
  sayHours(hand, hand.before(2, '20:25'), code, { sewing: '58', fitting: hand.day(104) });
}

/** Two pots of the middle shade, each a lot of its own, from one undyed bolt; `beside` happens while they dye and dry. */
export function dyeSlackWater(hand: Hand, beside: readonly Happening[]): void {
  const white = pieceOf(hand, VOILE, 'Undyed white', 'V-688');
  const pots = [
    { vessel: 'Large steel pot', length: '7.5', minute: 40, measured: '7.36' },
    { vessel: 'Enamel pot', length: '3', minute: 42, measured: '2.94' },
  ];
  const codes = pots.map(({ vessel, length, minute }) =>
    plan(hand, hand.before(1, `10:${minute}`), {
      who: 'Tamsin',
      recipe: `${SLACK} on nylon`,
      vessel,
      lengths: { [white]: length },
      due: hand.day(-1),
      note: 'For the great skirt.',
    }),
  );
  const [large = '', enamel = ''] = codes;
  start(hand, hand.before(1, '10:45'), 'Tamsin', large);
  swatch(hand, hand.before(1, '10:46'), {
    who: 'Tamsin',
    code: large,
    side: 'before',
    lab: '94.1 0.1 1.9',
    note: 'Snip of the undyed bolt.',
  });
  start(hand, hand.before(1, '10:48'), 'Tamsin', enamel);
  const at = (minute: number) => hand.before(1, `10:${50 + minute}`);
  tellTogether(
    bathOf(hand, {
      who: 'Tamsin',
      code: large,
      bath: 1,
      at,
      lots: { 'Harbour blue A (invented)': 'H-204', 'Kelp green A (invented)': 'K-031' },
      readings: [
        [40, 'pH', '6.4'],
        [90, 'temperature', '72'],
        [120, 'temperature', '96'],
      ],
    }),
    beside,
  );
  pots.forEach(({ measured }, pot) => {
    finish(hand, hand.before(1, `16:${35 + pot}`), {
      who: 'Tamsin',
      code: codes[pot] ?? '',
      measured: [measured],
      place: 'Rack B',
    });
  });
  swatch(hand, hand.before(1, '16:40'), {
    who: 'Tamsin',
    code: large,
    side: 'after',
    lab: '61.2 -14.4 -13.1',
    note: 'Dried flat.',
  });
  verdict(hand, hand.before(1, '16:42'), 'Tamsin', large, 'As the swatch, dry, by the window.');
}

/** The middle strips of the upper tiers, and a third pot planned for the deep shade. */
export function cutSlackWater(hand: Hand): void {
  const piece = pieceOf(hand, VOILE, SLACK);
  cut(hand, hand.minutesAgo(280), { who: 'Jory', tier: 'Tier 1', piece, strips: 2 });
  cut(hand, hand.minutesAgo(265), { who: 'Jory', tier: 'Tier 2', piece, strips: 2 });
  plan(hand, hand.minutesAgo(240), {
    who: 'Tamsin',
    recipe: `${LOW} on nylon`,
    vessel: 'Large steel pot',
    lengths: { [pieceOf(hand, VOILE, 'Undyed white', 'V-688')]: '16' },
    due: hand.day(3),
    note: 'For the great skirt: the first of the deep lots.',
  });
}

/** What is left of the pale shade is planned, held and begun at the table; more of it is asked for. */
export function holdSpume(hand: Hand): void {
  const code = codeOf(hand);
  holdLays(hand, hand.minutesAgo(22), code, { cloth: VOILE, shade: SPUME });
  const lays = hand.book.all(
    hand.book.db
      .selectFrom('cut_lay')
      .innerJoin('cut_plan', 'cut_plan.id', 'cut_lay.plan_id')
      .innerJoin('garment', 'garment.id', 'cut_plan.garment_id')
      .select('cut_lay.id')
      .where('garment.code', '=', code)
      .orderBy('cut_lay.id')
      .limit(1),
  );
  hand.fillsIn(
    hand.minutesAgo(18),
    'Fenn',
    { lays: lays.map(({ id }) => id).join(' '), keep_rest: 'yes', waste_end: '' },
    {
      schema: layBenchForm,
      write: (tx, form, asker) => cutAtBench(tx, code, form, asker),
    },
  );
  const order = draft(hand, hand.minutesAgo(15), {
    who: 'Oda',
    supplier: 'Copperlane Sheers',
    expected: hand.day(9),
    note: 'Lot V-702 again, if there is any.',
    lines: [[VOILE, SPUME, '10', '4.90']],
  });
  send(hand, hand.minutesAgo(14), 'Oda', order);
}

function codeOf(hand: Hand): string {
  const id = Number(hand.id('garment', NAME));
  const garment = hand.book.first(hand.book.db.selectFrom('garment').select('code').where('id', '=', id));
  return garment?.code ?? '';
}
