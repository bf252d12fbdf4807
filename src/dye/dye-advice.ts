/**
 * Which dyes a cloth can be given, by its fibre content: what works, what does not and why, what a mixture of
 * fibres does to the shade, and in how many baths.
 */

import { BROADBENT } from '../quantity/provenance.ts';
import { blendRulesFor, blendStages } from './blend-order.ts';
import {
  affinity,
  classesFor,
  DYE_CLASS_NAMES,
  DYE_CLASSES,
  type DyeClass,
  type RecipeClass,
} from './dye-class.ts';
import { type Content, capital, type FibreCode, fibreOf } from './fibre.ts';

export interface ClassVerdict<C extends RecipeClass = DyeClass> {
  readonly dyeClass: C;
  /** `partly`: it dyes some fibres of the cloth and leaves others pale, stained or white. */
  readonly verdict: 'dyes' | 'partly' | 'stains' | 'no';
  /** The share of the cloth that it dyes, in hundredths of a percent. */
  readonly dyedBp: number;
  /** One sentence a fibre: for `no` and `stains` the reason and what would work instead. */
  readonly reasons: readonly string[];
}

export interface Warning {
  readonly id: string;
  readonly text: string;
  readonly source: string;
}

export interface DyeAdvice {
  /** Classes that dye at least one fibre of the cloth, best first. */
  readonly works: readonly ClassVerdict[];
  readonly refused: readonly ClassVerdict[];
  /** What to know of this mixture of fibres; empty for a cloth of one plain fibre. */
  readonly warnings: readonly Warning[];
  /** The baths a solid shade needs, in order; empty when no dye takes. */
  readonly stages: readonly DyeClass[];
}

/** Which dyes a cloth of this content can be given, which not and why, and what to look out for. */
export function dyeFor(content: Content): DyeAdvice {
  const verdicts = DYE_CLASSES.map((dyeClass) => verdictOn(content, dyeClass));
  const works = verdicts.filter(({ verdict }) => verdict === 'dyes' || verdict === 'partly');
  const stages = blendStages(content);
  const main = [...content].sort((a, b) => b.shareBp - a.shareBp)[0];
  const order = main ? classesFor(main.fibre) : [];
  const rank = ({ dyeClass, verdict }: ClassVerdict): number =>
    (verdict === 'dyes' ? 0 : 100) + (order.includes(dyeClass) ? order.indexOf(dyeClass) : 50);
  return {
    works: works.sort((a, b) => rank(a) - rank(b)),
    refused: verdicts.filter(({ verdict }) => verdict === 'stains' || verdict === 'no'),
    warnings: warningsFor(content, stages),
    stages,
  };
}

/** What one class of dye does on a cloth of this content, with a sentence for each fibre that needs one. */
export function verdictOn<C extends RecipeClass>(content: Content, dyeClass: C): ClassVerdict<C> {
  const takes = content.map(({ fibre }) => affinity(fibre, dyeClass).take);
  const verdict = takes.every((take) => take === 'dyes')
    ? 'dyes'
    : takes.includes('dyes')
      ? 'partly'
      : takes.includes('stains')
        ? 'stains'
        : 'no';
  const reasons = content.flatMap(({ fibre }) => reasonFor(fibre, dyeClass) ?? []);
  const dyedBp = content.reduce((sum, { shareBp }, at) => sum + (takes[at] === 'dyes' ? shareBp : 0), 0);
  return { dyeClass, verdict, dyedBp, reasons };
}

function reasonFor(fibre: FibreCode, dyeClass: RecipeClass): string | undefined {
  const { take, note } = affinity(fibre, dyeClass);
  const name = capital(fibreOf(fibre).name);
  const dye = DYE_CLASS_NAMES[dyeClass];
  if (take === 'dyes') return note ? `${name} takes ${dye}: ${note}.` : undefined;
  const does = take === 'stains' ? `${name} is only stained by ${dye}` : `${name} does not take ${dye}`;
  return `${does}${note ? ` (${note})` : ''}; ${insteadFor(fibre)}.`;
}

/** What would dye a fibre, as the second half of a sentence. */
function insteadFor(fibre: FibreCode): string {
  const [first, ...others] = classesFor(fibre).filter(
    (each) => !affinity(fibre, each).note?.startsWith('only'),
  );
  if (!first) return 'no dye bath colours it: buy it in the shade, or let it stay as it is';
  const note = affinity(fibre, first).note;
  const names = [first, ...others.filter((each) => !(first.startsWith('acid') && each.startsWith('acid')))]
    .map((each) => (each.startsWith('acid') ? 'acid dye' : DYE_CLASS_NAMES[each]))
    .slice(0, note ? 1 : 2);
  return `${names.join(' or ')} does${note ? `; ${note}` : ''}`;
}

/** What a mixture of fibres does, one warning a trouble. */
function warningsFor(content: Content, stages: readonly DyeClass[]): readonly Warning[] {
  const has = (...codes: readonly FibreCode[]): boolean => content.some(({ fibre }) => codes.includes(fibre));
  const warnings: Warning[] = [];
  const warn = (id: string, text: string, source = 'common practice'): void => {
    warnings.push({ id, text, source });
  };
  if (content.length > 1) {
    const text =
      'Fibres of one cloth take dye unlike each other: expect a broken or uneven shade, dye a swatch first.';
    warn('uneven', text, `${BROADBENT}, p. 413`);
  }
  if (stages.length > 1) {
    const names = stages.map((each) => DYE_CLASS_NAMES[each]).join(', then ');
    warn('stages', `A solid shade needs ${stages.length} dyeings in this order: ${names}.`);
  }
  for (const { id, says, why, mark } of blendRulesFor(content)) {
    warn(id, `${says} Why: ${why}.`, mark.source);
  }
  if (has('elastane')) {
    warn(
      'elastane',
      'Elastane takes little dye and grins through when the cloth is stretched; keep to 100 °C.',
    );
  }
  if (has('metallised')) {
    warn(
      'metallised',
      'Metallised yarn stands no more than a mild bath of 60 °C, neither acid nor alkaline.',
    );
  }
  return warnings;
}
