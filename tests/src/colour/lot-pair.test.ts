import { describe, expect, it } from 'vitest';
import type { ColourReading } from '../../../src/colour/colour-reading.ts';
import { coloursOfLot, lotRead, shadingOfLot } from '../../../src/colour/lot-colour.ts';
import {
  judgeLots as judgeRead,
  type LotJudgement,
  USUAL_BANDS,
  verdictOf,
} from '../../../src/colour/lot-pair.ts';

const reading = (l: number, changes: Partial<ColourReading> = {}): ColourReading => ({
  lab: { l, a: 0, b: 0 },
  illuminant: 'D65',
  observer: '10',
  how: 'instrument',
  uncertaintyCenti: 50,
  state: 'dry',
  layers: null,
  backing: null,
  place: null,
  ...changes,
});
const judgeLots = (
  one: readonly ColourReading[],
  other: readonly ColourReading[],
  judgements: readonly LotJudgement[],
  bands = USUAL_BANDS,
) => judgeRead(lotRead(one), lotRead(other), judgements, bands);
const photo = (deltaE: number, uncertainty = 1): LotJudgement => ({
  how: 'photo',
  deltaE,
  uncertainty,
  difference: null,
});
const eye = (verdict: 'may meet' | 'look' | 'apart'): LotJudgement => ({ how: 'eye', verdict });

describe('the bands', () => {
  it('are our rule at the sureness of a pair in one photo', () => {
    const said = (deltaE: number, uncertainty = 1) => verdictOf({ deltaE, uncertainty }, USUAL_BANDS);
    expect([0, 0.6, 0.61, 1.5, 1.51, 9].map((deltaE) => said(deltaE))).toEqual([
      'may meet',
      'may meet',
      'look',
      'look',
      'apart',
      'apart',
    ]);
    // Surer than a photo makes them no narrower.
    expect([0.6, 0.61, 1.51].map((deltaE) => said(deltaE, 0.1))).toEqual(['may meet', 'look', 'apart']);
  });

  it('are widened by what is less sure, on both sides', () => {
    const said = (deltaE: number, uncertainty: number) => verdictOf({ deltaE, uncertainty }, USUAL_BANDS);
    expect([0.1, 0.11, 2, 2.01].map((deltaE) => said(deltaE, 1.5))).toEqual([
      'may meet',
      'look',
      'look',
      'apart',
    ]);
    // Two photos with a card, ±4 each: never close enough, and apart only where they are far.
    expect([0, 6, 6.2].map((deltaE) => said(deltaE, Math.hypot(4, 4)))).toEqual(['look', 'look', 'apart']);
  });
});

describe('two lots', () => {
  it('are judged by nothing where neither was read or seen', () => {
    expect(judgeLots([], [], [], USUAL_BANDS)).toEqual({
      verdict: 'unknown',
      by: 'nothing',
      measured: null,
      notCompared: 'none',
    });
    expect(judgeLots([reading(50)], [], [], USUAL_BANDS)).toMatchObject({
      verdict: 'unknown',
      notCompared: 'one',
    });
  });

  it('are compared by readings in the same light', () => {
    const answer = judgeLots([reading(50)], [reading(50.5)], [], USUAL_BANDS);
    expect(answer).toMatchObject({ verdict: 'may meet', by: 'readings', notCompared: null });
    expect(answer.measured?.uncertainty).toBeCloseTo(Math.hypot(0.5, 0.5), 6);
    expect(answer.measured?.difference).toEqual({ l: -0.5, a: 0, b: 0 });
  });

  it.each([
    ['observer', { observer: '2' }, 'light'],
    ['illuminant', { illuminant: 'A' }, 'light'],
    ['layers', { layers: 4 }, 'layers'],
    ['backing', { backing: 'black' }, 'layers'],
    ['state', { state: 'wet' }, 'wet'],
  ] as const)('are never compared where the %s differs', (_, changes, why) => {
    expect(judgeLots([reading(50)], [reading(50, changes)], [], USUAL_BANDS)).toMatchObject({
      verdict: 'unknown',
      measured: null,
      notCompared: why,
    });
  });

  it('are compared by the surest readings that are alike', () => {
    const [one, other] = [
      [reading(50), reading(52, { observer: '2', how: 'photo card', uncertaintyCenti: 400 })],
      [reading(51, { observer: '2' }), reading(50.2)],
    ];
    expect(judgeLots(one, other, [], USUAL_BANDS)).toMatchObject({ verdict: 'may meet', by: 'readings' });
  });

  it('are judged by an eye before any figure, and by the last eye', () => {
    const far = [reading(50), reading(60)].map((each) => [each]) as [ColourReading[], ColourReading[]];
    const answer = judgeLots(...far, [eye('apart'), eye('may meet'), photo(5)], USUAL_BANDS);
    expect(answer).toMatchObject({ verdict: 'may meet', by: 'eye' });
    // What was measured is told beside it.
    expect(answer.measured).toMatchObject({ by: 'readings' });
    expect(judgeLots([], [], [eye('look')], USUAL_BANDS)).toMatchObject({
      verdict: 'look',
      by: 'eye',
      notCompared: 'none',
    });
  });

  it('are judged by the surest measure: a pair in one photo before readings that are no surer', () => {
    const pair = [[reading(50)], [reading(50.2)]] as const;
    expect(judgeLots(...pair, [photo(2.5, 0.5)], USUAL_BANDS)).toMatchObject({
      verdict: 'apart',
      by: 'photo',
    });
    expect(judgeLots(...pair, [photo(2.5, 1)], USUAL_BANDS)).toMatchObject({
      verdict: 'may meet',
      by: 'readings',
    });
    // Of two photos alike the later.
    expect(judgeLots([], [], [photo(0.2), photo(3)], USUAL_BANDS)).toMatchObject({
      verdict: 'apart',
      by: 'photo',
    });
  });
});

describe('the colour of a lot', () => {
  it('is the last reading of a place, and the mean of places with how far they spread', () => {
    const [colour] = coloursOfLot([
      reading(90, { place: 'begin' }),
      reading(50, { place: 'begin' }),
      reading(51, { place: 'end' }),
    ]);
    expect(colour).toMatchObject({ lab: { l: 50.5, a: 0, b: 0 }, places: 2 });
    expect(colour?.spread).toBeGreaterThan(0.4);
    expect(colour?.uncertainty).toBeCloseTo(Math.hypot(0.5, colour?.spread ?? 0), 9);
  });

  it('is by the surest way of reading', () => {
    const [colour] = coloursOfLot([reading(50), reading(60, { how: 'eye', uncertaintyCenti: 800 })]);
    expect(colour).toMatchObject({ lab: { l: 50 }, how: 'instrument' });
  });

  it('tells ending and side-to-side shading, and none that the readings leave open', () => {
    const ends = [reading(50, { place: 'begin' }), reading(52, { place: 'end' })];
    expect(shadingOfLot(ends)).toMatchObject([{ kind: 'ending', from: { l: 50 }, to: { l: 52 } }]);
    const sides = [
      reading(50, { place: 'left' }),
      reading(48, { place: 'right' }),
      reading(49, { place: 'middle' }),
    ];
    expect(shadingOfLot(sides)).toMatchObject([{ kind: 'side to side', from: { l: 50 }, to: { l: 48 } }]);
    expect(shadingOfLot([reading(50, { place: 'begin' }), reading(50.4, { place: 'end' })])).toEqual([]);
    const bySight = ends.map((each) => ({ ...each, how: 'photo card' as const, uncertaintyCenti: 800 }));
    expect(shadingOfLot(bySight)).toEqual([]);
    // Read by different ways the difference is not the cloth's.
    expect(shadingOfLot([ends[0] as ColourReading, { ...(ends[1] as ColourReading), how: 'list' }])).toEqual(
      [],
    );
  });
});
