import type { WorkStep } from '../../src/dye/work-step.ts';
import { TICKS_PER } from '../../src/quantity/length.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import { COMMON_PRACTICE } from '../../src/quantity/provenance.ts';
import { drawLay } from '../cutting-table/lay/picture.ts';
import type { Reader } from '../database/book.ts';
import { drawRamp } from '../dye-bench/card/ramp-chart.ts';
import { garmentPage } from '../garment-book/garment-page.ts';
import type { Chip } from '../kit/chip.ts';
import { sayTapeStep, shapeTape } from '../kit/tape.ts';
import { drawCode } from '../labels/code-picture.ts';
import { drawLotChart } from '../shelf/together/chart.ts';
import { PROGRESS_KEY, shapeProgress } from '../today/progress.ts';

const { m, cm } = TICKS_PER;
const GOLD = '#ecb243';

/** A picture of every kind, of lengths and colours that show each of its parts. */
export function samplerPictures(reader: Reader, units: Units, today: string) {
  return {
    chips: [
      { colour: GOLD, name: 'Lantern gold', lot: 'L3', href: '/shelf' },
      { colour: null, name: 'Not dyed yet', lot: 'D4' },
      { colour: '#14325f', name: 'Harbour ink', large: true },
    ] satisfies Chip[],
    tape: shapeTape({
      name: 'B17',
      onHandTicks: 12 * m,
      heldTicks: 3 * m,
      neededTicks: 2 * m,
      usedTicks: 4 * m,
      flawsAtTicks: [5 * m],
      maxTicks: 16 * m,
      units,
    }),
    free: shapeTape({ name: 'B18', onHandTicks: 9 * m, heldTicks: 0, maxTicks: 16 * m, units }),
    tapeStep: sayTapeStep(16 * m, units),
    progress: shapeProgress({ wanted: 40, cut: 12, held: 8, short: 10, coming: 4 }),
    progressKey: [...PROGRESS_KEY, { fill: 'dotted', text: 'coming' }] as const,
    lay: drawLay(
      {
        widthTicks: 147 * cm,
        heightTicks: 90 * cm,
        leadTicks: 12 * cm,
        flaws: [{ fromTicks: -8 * cm, toTicks: -2 * cm, leftTicks: 20 * cm, rightTicks: 40 * cm }],
        runs: [
          { ...RUN, leftTicks: 0, label: '1', colour: GOLD },
          { ...RUN, leftTicks: 80 * cm, columns: 1, strips: 1, label: '2', colour: '#14325f' },
        ],
        keepsRest: ({ leftTicks }) => leftTicks >= 120 * cm,
      },
      units,
    ),
    lots: drawLotChart([
      { letter: 'A', lab: { l: 76, a: 12, b: 62 } },
      { letter: 'B', lab: { l: 74.5, a: 13, b: 63 } },
    ]),
    ramp: drawRamp(STEPS, null, 'Bath 1'),
    code: drawCode('HTTP://LOCALHOST/P/B17'),
    garment: shapeGarment(reader, units, today),
  };
}

const RUN = { acrossTicks: 40 * cm, alongTicks: 90 * cm, columns: 2, stack: 1, strips: 2 };

const STEP = { says: '', adds: [], doses: [], extra: [], mark: COMMON_PRACTICE } as const;
const STEPS: readonly WorkStep[] = [
  {
    ...STEP,
    key: 'set',
    kind: 'set',
    title: 'Set the bath',
    minutes: 10,
    fromC: 40,
    toC: 40,
    adds: [{ name: 'dye', part: 1, of: 1 }],
  },
  { ...STEP, key: 'heat', kind: 'heat', title: 'Heat', minutes: 45, fromC: 40, toC: 85 },
  { ...STEP, key: 'hold', kind: 'hold', title: 'Hold', minutes: 30, fromC: 85, toC: 85 },
  { ...STEP, key: 'cool', kind: 'cool', title: 'Cool', minutes: 25, fromC: 85, toC: 60 },
];

/** The first garment of three tiers or more, as its page draws it; null where there is none. */
function shapeGarment(reader: Reader, units: Units, today: string) {
  const { db } = reader;
  const first = reader.first(
    db
      .selectFrom('garment')
      .innerJoin('tier', 'tier.garment_id', 'garment.id')
      .select('garment.code')
      .groupBy('garment.id')
      .having(({ fn }) => fn.count('tier.id'), '>=', 3)
      .orderBy('garment.id'),
  );
  if (!first) return null;
  const { drawings, shades, tiers } = garmentPage(
    reader,
    first.code,
    { units, seesPrices: true },
    today,
  ).data;
  const [drawing] = drawings;
  const worked = tiers.find((tier) => tier.worked)?.worked;
  return drawing && worked ? { drawing, shades, chart: worked.chart } : null;
}
