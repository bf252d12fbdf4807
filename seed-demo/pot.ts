import { PH, STEP_DONE, TEMPERATURE } from '../server/dye-bench/pot/log-forms.ts';
import { finishStep, logReading, readAtThePot } from '../server/dye-bench/pot/log-verbs.ts';
import { judgeShade, keepSwatch, RESULT, SWATCH } from '../server/dye-bench/record/forms.ts';
import type { Hand } from './hand.ts';

/** How one bath went: each step takes its minutes but those that took longer. */
export interface BathStory {
  readonly who: string;
  readonly code: string;
  readonly bath: number;
  /** the instant so many minutes after the bath began */
  readonly at: (minute: number) => string;
  /** minutes that a step took beyond the plan, by its kind */
  readonly longer?: Readonly<Record<string, number>>;
  /** the bath is left where it is after so many minutes */
  readonly until?: number;
  /** amounts that were weighed otherwise, and lots, by name */
  readonly weighed?: Readonly<Record<string, string>>;
  readonly lots?: Readonly<Record<string, string>>;
  /** what was read, by the minute since the bath began */
  readonly readings?: readonly (readonly [minute: number, kind: 'temperature' | 'pH', value: string])[];
}

/** Something that happens at an instant. */
export interface Happening {
  readonly at: string;
  readonly happens: () => void;
}

/** Several stories that run beside each other, told in the order of the clock. */
export function tellTogether(...stories: readonly Iterable<Happening>[]): void {
  const running = stories.map((story) => story[Symbol.iterator]());
  const next = running.map((story) => story.next());
  for (;;) {
    const open = next.flatMap((each, place) => (each.done ? [] : [{ place, ...each.value }]));
    const first = open.reduce<(typeof open)[number] | undefined>(
      (soonest, each) => (soonest && soonest.at <= each.at ? soonest : each),
      undefined,
    );
    if (!first) return;
    first.happens();
    next[first.place] = running[first.place]?.next() ?? { done: true, value: undefined };
  }
}

/** How a bath is worked through by the forms of the bench, as far as the story goes. */
export function* bathOf(hand: Hand, story: BathStory): Generator<Happening> {
  const { at, until = Number.POSITIVE_INFINITY, longer = {} } = story;
  const readings = [...(story.readings ?? [])];
  function* readUpTo(most: number): Generator<Happening> {
    while (readings[0] && readings[0][0] <= most) {
      const [minute, kind, value] = readings.shift() ?? [0, 'pH', ''];
      const when = at(minute);
      yield { at: when, happens: () => tell(hand, when, story, kind, value) };
    }
  }
  const done = (minute: number, key: string): Happening => ({
    at: at(minute),
    happens: () => finish(hand, at(minute), story, key),
  });
  yield done(0, 'begin');
  let minute = 0;
  for (let step = stepNow(hand, story); step; step = stepNow(hand, story)) {
    minute += step.minutes + (longer[step.kind] ?? 0);
    if (minute > until) break;
    yield* readUpTo(minute);
    yield done(minute, step.key);
  }
  yield* readUpTo(until);
}

function stepNow(hand: Hand, { code, bath }: BathStory) {
  const state = readAtThePot(hand.book, code).baths.find(({ number }) => number === bath);
  return state?.clock.now?.step ?? null;
}

function finish(hand: Hand, when: string, story: BathStory, step: string): void {
  const { code, bath, weighed = {}, lots = {} } = story;
  const now = step === 'begin' ? null : stepNow(hand, story);
  const things = (now?.adds ?? [])
    .filter(({ name }) => name in weighed || name in lots)
    .map(({ name }) => ({ name, amount: weighed[name] ?? '', lot: lots[name] ?? '' }));
  hand.fillsIn(
    when,
    story.who,
    { bath: String(bath), step, water: '', things },
    {
      schema: () => STEP_DONE,
      write: (tx, form) => finishStep(tx, code, form),
    },
  );
}

function tell(hand: Hand, when: string, story: BathStory, kind: 'temperature' | 'pH', value: string): void {
  const { who, code } = story;
  const bath = String(story.bath);
  if (kind === 'pH') {
    hand.fillsIn(
      when,
      who,
      { bath, ph: value },
      {
        schema: () => PH,
        write: (tx, form) => logReading(tx, code, { bath: form.bath.value, kind, value: form.ph }),
      },
    );
    return;
  }
  hand.fillsIn(
    when,
    who,
    { bath, temperature: value },
    {
      schema: () => TEMPERATURE,
      write: (tx, form) => logReading(tx, code, { bath: form.bath.value, kind, value: form.temperature }),
    },
  );
}

/** A swatch as somebody measured it, "33.9 -11.8 -21.5", or a note alone. */
export function swatch(
  hand: Hand,
  when: string,
  kept: { who: string; code: string; side: 'before' | 'after'; lab: string; note: string },
): void {
  const [l = '', a = '', b = ''] = kept.lab.split(' ');
  const asked = { side: kept.side, l, a, b, viewing: 'D65/2', how: 'instrument', swatch_note: kept.note };
  hand.fillsIn(when, kept.who, asked, {
    schema: () => SWATCH,
    write: (tx, form) => keepSwatch(tx, kept.code, form),
  });
}

export function verdict(hand: Hand, when: string, who: string, code: string, note: string): void {
  hand.fillsIn(
    when,
    who,
    { result: 'accepted', result_note: note },
    {
      schema: () => RESULT,
      write: (tx, form) => judgeShade(tx, code, form),
    },
  );
}
