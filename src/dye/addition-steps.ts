/** The steps that an addition puts into the order of work: let down, add, heat again, hold again. */

import { COMMON_PRACTICE } from '../quantity/provenance.ts';
import { COLD_C, type WorkStep } from './work-step.ts';

/** An addition to bring a shade up, as it is weighed for one bath. `key` names it in the log. */
export interface BathAddition {
  readonly key: string;
  readonly number: number;
  readonly dyes: readonly { readonly name: string; readonly massMg: number }[];
}

/** How far a bath is let down before an addition, and how long it is held after it (common practice). */
const LET_DOWN_C = 15;
const ADDITION_MINUTES = 10;
const HOLD_AGAIN_MINUTES = 30;
/** Below this a bath is not let down: dye goes in evenly as it is. */
const LET_DOWN_FROM_C = 60;

/**
 * The same steps with those of an addition: let down, add, heat again, hold again. They come before the first step
 * that is not done, and after the hold where that is not over.
 */
export function withAddition(
  steps: readonly WorkStep[],
  doneKeys: ReadonlySet<string>,
  addition: BathAddition,
): readonly WorkStep[] {
  const open = steps.findIndex(({ key }) => !doneKeys.has(key));
  const lastHold = steps.findLastIndex(({ kind }) => kind === 'hold');
  const place = Math.max(open < 0 ? steps.length : open, lastHold + 1);
  const hot = steps[lastHold]?.toC ?? COLD_C;
  const fromC = steps[place - 1]?.toC ?? hot;
  return [...steps.slice(0, place), ...additionSteps(addition, fromC, hot), ...steps.slice(place)];
}

function additionSteps({ key, number, dyes }: BathAddition, fromC: number, hotC: number): WorkStep[] {
  const lowC = hotC >= LET_DOWN_FROM_C ? Math.min(fromC, hotC - LET_DOWN_C) : fromC;
  const step = (
    part: string,
    made: Omit<WorkStep, 'key' | 'adds' | 'doses' | 'extra' | 'mark'>,
  ): WorkStep => ({
    adds: [],
    doses: [],
    extra: [],
    mark: COMMON_PRACTICE,
    key: `${key}-${part}`,
    ...made,
  });
  const minutesTo = (degrees: number) => Math.ceil(degrees);
  return [
    ...(lowC < fromC
      ? [
          step('cool', {
            kind: 'cool',
            title: `Cool back to ${lowC} °C`,
            says: 'Cool a little, so that the addition goes on evenly.',
            minutes: minutesTo(fromC - lowC),
            fromC,
            toC: lowC,
          }),
        ]
      : []),
    {
      ...step('add', {
        kind: 'add',
        title: `Addition ${number}`,
        says: 'Lift the cloth, add the dye, prepared as before, in parts, stir, and lower the cloth again.',
        minutes: ADDITION_MINUTES,
        fromC: lowC,
        toC: lowC,
      }),
      extra: dyes,
    },
    ...(hotC > lowC
      ? [
          step('heat', {
            kind: 'heat',
            title: `Heat to ${hotC} °C again`,
            says: `Heat to ${hotC} °C at 1 °C a minute.`,
            minutes: minutesTo(hotC - lowC),
            fromC: lowC,
            toC: hotC,
          }),
        ]
      : []),
    step('hold', {
      kind: 'hold',
      title: `Hold ${hotC} °C again`,
      says: `Hold ${HOLD_AGAIN_MINUTES} minutes, then compare with the swatch.`,
      minutes: HOLD_AGAIN_MINUTES,
      fromC: hotC,
      toC: hotC,
    }),
  ];
}
