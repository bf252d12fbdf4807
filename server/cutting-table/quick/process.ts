import type { Units } from '../../../src/quantity/length-show.ts';
import type { Typed } from '../../kit/typed.ts';
import { answerQuestions } from '../../process.ts';
import { type Problem, Refusal } from '../../refusal.ts';
import { readBody, withoutKey } from '../../web/body.ts';
import type { Shell } from '../../web/shell-data.ts';
import { render } from '../../web/views.ts';
import type { QuickAnswer } from './answer.ts';
import { type QuickAsked, readQuick } from './form.ts';
import { quickPlanPage } from './page.ts';
import { quickResult } from './result.ts';

/** A quick plan as it was sent, for whom, and what stands around its page. */
export interface QuickSent {
  readonly raw: unknown;
  readonly units: Units;
  readonly shell: Shell;
}

/** What is asked of the process: to read what was sent, or to draw it with what came of it. */
export type QuickTask = QuickSent &
  (
    | { readonly kind: 'read' }
    | { readonly kind: 'answer'; readonly asked: QuickAsked; readonly answer: QuickAnswer }
    | { readonly kind: 'refuse'; readonly problems: readonly Problem[]; readonly status: number }
  );

/** The page of a quick plan as HTML without the layout, and its data as JSON. */
export interface QuickDrawn {
  readonly html: string;
  readonly json: string;
  readonly problems: readonly Problem[];
  readonly status: number;
}

export interface QuickDone {
  /** what was read and is to be planned; null where there is a page at once */
  readonly asked: QuickAsked | null;
  readonly drawn: QuickDrawn | null;
}

/** What was sent is no form at all, in a sentence. */
export interface QuickMalformed {
  readonly malformed: string;
}

// The largest plan takes some hundred milliseconds to read and to draw, for which no other page may wait.
answerQuestions((task: QuickTask): QuickDone | QuickMalformed => {
  try {
    return carryOut(task);
  } catch (error) {
    if (error instanceof Refusal && error.kind === 'malformed') return { malformed: error.message };
    throw error;
  }
});

function carryOut(task: QuickTask): QuickDone {
  const { body, typed } = readBody(task.raw);
  if (task.kind === 'answer') {
    const result = quickResult(task.asked, task.answer, task.units);
    return { asked: null, drawn: draw(task, typed, result, [], 200) };
  }
  if (task.kind === 'refuse')
    return { asked: null, drawn: draw(task, typed, null, task.problems, task.status) };
  if (typed.act?.startsWith('more-')) return { asked: null, drawn: draw(task, typed, null, [], 200) };
  try {
    return { asked: readQuick(withoutKey(body), task.units), drawn: null };
  } catch (error) {
    if (!(error instanceof Refusal) || error.kind !== 'invalid') throw error;
    return { asked: null, drawn: draw(task, typed, null, error.problems, error.status) };
  }
}

function draw(
  { units, shell }: QuickSent,
  typed: Typed,
  result: ReturnType<typeof quickResult> | null,
  problems: readonly Problem[],
  status: number,
): QuickDrawn {
  const { view, data } = quickPlanPage(typed, units, result, problems);
  const html = render(view, { ...data, shell: { ...shell, problems } });
  return { html, json: JSON.stringify(data), problems, status };
}
