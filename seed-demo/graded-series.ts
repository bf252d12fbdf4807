import { readAtThePot } from '../server/dye-bench/pot/log-verbs.ts';
import { seriesForm } from '../server/dye-bench/series/form.ts';
import { leastOf } from '../server/dye-bench/series/new-page.ts';
import { readSeries, type StoredSeries } from '../server/dye-bench/series/store.ts';
import type { MissingLength } from '../server/dye-bench/series/told.ts';
import { makeSeries } from '../server/dye-bench/series/verbs.ts';
import { swatchResultForm } from '../server/dye-bench/swatch/form.ts';
import { judgeSwatch } from '../server/dye-bench/swatch/verbs.ts';
import { readMissing } from '../server/short/missing.ts';
import type { TimedStep } from '../src/dye/bath-clock.ts';
import type { WorkKind } from '../src/dye/work-step.ts';
import { finish, start } from './bench.ts';
import { describeCloth } from './cloths.ts';
import { type Delivery, receiveDelivered } from './deliveries.ts';
import { describe, type Garment } from './garments.ts';
import type { Hand } from './hand.ts';
import { bathOf, type Happening, tellTogether, verdict } from './pot.ts';
import { nameShade } from './shades.ts';
import { recordSwatches } from './swatches.ts';
import { cut, pieceOf } from './table.ts';

const CLOTH = 'Nylon chiffon 140';

/** The shades of the smoke, the palest first: as their swatches were measured, and as they were wanted. */
const SMOKE = [
  ['Smoke 1', '82.4 -6.1 -7.9', '83 -6 -7'],
  ['Smoke 2', '74.6 -8.3 -12.2', '74 -8 -12'],
  ['Smoke 3', '65.1 -10.4 -16.5', '65 -10 -16'],
  ['Smoke 4', '55.2 -11.9 -19.8', '55 -12 -20'],
  ['Smoke 5', '45.3 -12.6 -21.7', '45 -12 -22'],
] as const;

/** Five depths of one blue over three undyed lots, for the five tiers of an overskirt: swatched, dyed, judged and cut. */
export function dyeSmoke(hand: Hand): void {
  describeCloth(hand, hand.before(24, '10:40'), NYLON_CHIFFON);
  receiveDelivered(hand, hand.before(24, '10:50'), 'Fenn', THREE_LOTS);
  for (const [at, [name, , wanted]] of SMOKE.entries()) {
    nameShade(hand, hand.before(24, `11:0${at}`), [name, wanted, 'photo', 'A step of the smoke.']);
  }
  const garment = describe(hand, (minute) => hand.before(24, `11:${10 + minute}`), 'Oda', overskirt(hand));
  const wanted = readMissing(hand.book, garment);
  const series = planSeries(hand, hand.before(24, '11:50'), { garment, wanted });
  judgeSwatches(hand, series);
  const baths = ['24 13:10', '23 07:30', '23 11:30', '22 07:30', '22 11:35'];
  tellTogether(
    ...series.steps.map((step, at) => {
      const [days = '', from = ''] = (baths[at] ?? '').split(' ');
      const begun = hand.before(Number(days), from);
      return dyeStep(hand, step, { begun, measured: `${lengthAsked(wanted[at])} m` });
    }),
  );
  for (const [at, [name]] of SMOKE.entries()) {
    const tier = `${name} tier`;
    cut(hand, hand.before(21, `08:${10 + at * 8}`), {
      who: 'Jory',
      tier,
      piece: pieceOf(hand, CLOTH, name),
      strips: wanted[at]?.strips ?? 0,
      keepRest: false,
    });
  }
  recordSwatches(hand);
}

/** A hand more than the strips take, in metres: a metre is 160 000 ticks. */
function lengthAsked(wanted: MissingLength | undefined): number {
  return Math.ceil(((wanted?.lengthTicks ?? 0) + 8000) / 16_000) / 10;
}

function planSeries(
  hand: Hand,
  when: string,
  { garment, wanted }: { readonly garment: string; readonly wanted: readonly MissingLength[] },
): StoredSeries {
  const garmentId = hand.book.first(
    hand.book.db.selectFrom('garment').select('id').where('code', '=', garment),
  )?.id;
  const asked = {
    name: 'Smoke',
    from_recipe_id: hand.id('recipe', 'Deep tide on nylon'),
    cloth_id: hand.id('cloth', CLOTH),
    depths: '0.1/0.2/0.4/0.8/1.6',
    vessel_id: hand.id('vessel', 'Large steel pot'),
    garment_id: String(garmentId ?? ''),
    swatch: '5',
    due_on: hand.day(-21),
    note: 'Invented. Pale at the waist, deep at the hem.',
  };
  const rows = wanted.map((each) => ({
    shade_id: String(each.shadeId),
    shade_name: '',
    length: `${lengthAsked(each)} m`,
  }));
  const key = hand.fillsIn(
    when,
    'Tamsin',
    { ...asked, rows },
    {
      schema: (asker) => seriesForm(hand.book, asker),
      write: (tx, form, { units }) => makeSeries(tx, form, { units, leastTicks: leastOf(wanted) }),
    },
  );
  return readSeries(hand.book, hand.book.answerOf(key)?.location.split('/').at(-1) ?? '');
}

/** Every swatch is measured dry; all are as they were wanted. */
function judgeSwatches(hand: Hand, { steps }: StoredSeries): void {
  for (const [at, { swatch }] of steps.entries()) {
    if (!swatch) continue;
    const [l = '', a = '', b = ''] = (SMOKE[at]?.[1] ?? '').split(' ');
    const asked = {
      swatch_id: String(swatch.id),
      verdict: 'approved',
      seen_by: 'instrument',
      light: 'daylight lamp, D65',
      viewing: 'D65/2',
      state: 'dry',
      l,
      a,
      b,
      photo: '',
      note: at === 0 ? 'Held against the lining too.' : '',
    };
    hand.fillsIn(hand.before(24, `12:5${at}`), 'Tamsin', asked, {
      schema: () => swatchResultForm([{ value: asked.swatch_id, label: swatch.name }]),
      write: (tx, form) => judgeSwatch(tx, swatch.jobCode, form),
    });
  }
}

/** One bath from the scour until its cloth is dry, read and logged at the pot; only the fourth is held longer than planned. */
function* dyeStep(
  hand: Hand,
  { batchCode: code, position }: StoredSeries['steps'][number],
  { begun, measured }: { readonly begun: string; readonly measured: string },
): Generator<Happening> {
  if (code === null) throw new Error(`step ${position} of the smoke has no batch`);
  const at = (minute: number) => new Date(Date.parse(begun) + (minute + 3) * 60_000).toISOString();
  yield { at: begun, happens: () => start(hand, begun, 'Tamsin', code) };
  const steps = readAtThePot(hand.book, code).baths.flatMap(({ clock }) => clock.steps);
  const longer = position === 4 ? 8 : 0;
  const [heat, hold] = [minutesTo(steps, 'heat'), minutesTo(steps, 'hold')];
  yield* bathOf(hand, {
    who: 'Tamsin',
    code,
    bath: 1,
    at,
    longer: { hold: longer },
    lots: { 'Harbour blue A (invented)': 'H-204', 'Kelp green A (invented)': 'K-031' },
    readings: [
      [heat - 2, 'pH', '5.4'],
      [heat + 24, 'temperature', '75'],
      [hold + 5, 'temperature', '97'],
      [hold + 30, 'temperature', '98'],
      [hold + 40, 'pH', '4.9'],
    ],
  });
  const dry = minutesTo(steps) + longer;
  const back = { who: 'Tamsin', code, measured: [measured], place: 'Rack B' };
  yield { at: at(dry + 5), happens: () => finish(hand, at(dry + 5), back) };
  const said = 'As the swatch, dry, by the window.';
  yield { at: at(dry + 9), happens: () => verdict(hand, at(dry + 9), 'Tamsin', code, said) };
}

/** The minutes of all steps before the first of a kind, or of all of them. */
function minutesTo(steps: readonly TimedStep[], kind?: WorkKind): number {
  const place = steps.findIndex(({ step }) => step.kind === kind);
  const before = place === -1 ? steps : steps.slice(0, place);
  return before.reduce((sum, { step }) => sum + step.minutes, 0);
}

const NYLON_CHIFFON = {
  name: CLOTH,
  construction: 'chiffon',
  fibres: { nylon: '100' },
  width: '140',
  usable_width: '137',
  mass_per_area: '26',
  supplier: 'Copperlane Sheers',
  article: 'invented 4210',
  note: 'Mass from a weighed metre.',
};

const THREE_LOTS: Delivery = {
  supplier: 'Copperlane Sheers',
  note: 'Invented delivery note 3388: three lots, as no one lot had enough.',
  kind: 'bolt',
  place: 'Dye store',
  rows: [
    [CLOTH, 'Undyed white', 'C-31', '18', '75.60'],
    [CLOTH, 'Undyed white', 'C-32', '17', '71.40'],
    [CLOTH, 'Undyed white', 'C-33', '9.5', '39.90'],
  ],
};

const overskirt = (hand: Hand): Garment => ({
  name: 'Smoke-rising overskirt',
  due: hand.day(31),
  note: 'Invented. Smoke off the harbour, thickening toward the hem.',
  girths: { 0: '74', 16: '220', 60: '370', 100: '470' },
  tiers: SMOKE.map(([shade], at) => ({
    name: `${shade} tier`,
    cloth: CLOTH,
    hangs: { drop: String(14 + at * 16) },
    depth: ['54', '50', '46', '44', '42'][at] ?? '',
    fullness: ['9', '7.5', '6.5', '6', '5.8'][at] ?? '',
    closing: 'ring' as const,
    blocks: [[shade, '1']] as const,
  })),
});
