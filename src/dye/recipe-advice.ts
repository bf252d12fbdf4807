/**
 * What to beware of with a recipe that passes no limit: its place among the dyeings of a blend, how its fibres are handled
 * wet, and what its class of dye does not go with.
 */

import { BROADBENT } from '../quantity/provenance.ts';
import { blendRulesFor, blendStages, stageIn } from './blend-order.ts';
import type { Warning } from './dye-advice.ts';
import { DYE_CLASS_NAMES, type RecipeClass } from './dye-class.ts';
import type { Content, FibreCode } from './fibre.ts';
import { contentInBath, type Recipe } from './recipe.ts';

export function recipeAdvice(recipe: Recipe, cloth: Content): readonly Warning[] {
  const content = contentInBath(cloth, recipe);
  return [
    ...stageWarnings(recipe, cloth),
    ...content.flatMap(({ fibre }) => HANDLING[fibre] ?? []),
    ...classWarnings(recipe, content),
  ];
}

const SUPPORTED: Warning = {
  id: 'weak-wet',
  text: 'Viscose and modal are weak when wet: lift the cloth supported over its width, never by an edge.',
  source: 'from memory',
};

const HANDLING: Partial<Record<FibreCode, Warning>> = {
  viscose: SUPPORTED,
  modal: SUPPORTED,
  lyocell: {
    id: 'fibrillates',
    text: 'Lyocell fibrillates and keeps rope creases where it is rubbed wet: open width, little movement, a lubricant.',
    source: 'Eibl 1996, COBISS 520304; the lubricant: common practice',
  },
};

/** Longer at the boil stretches acrylic, and levels nothing. */
const LONGEST_ACRYLIC_MINUTES = 60;

function classWarnings({ dyeClass, auxiliaries, holdMinutes }: Recipe, content: Content): readonly Warning[] {
  const warnings: Warning[] = [];
  const has = (kind: string) => auxiliaries.some((each) => each.kind === kind);
  if ((dyeClass === 'acid-metal-complex' || dyeClass === 'reactive') && has('sequestrant')) {
    const dye = dyeClass === 'reactive' ? 'copper-complex reactive dye' : 'metal-complex dye';
    const text = `A sequestrant may take the metal out of ${dye}; sources disagree: try a swatch with it.`;
    const source = 'a textile glossary, scribd 156472494; yukselbaris.blogspot.com, 2011, sees no effect';
    warnings.push({ id: 'sequestrant', text, source });
  }
  if (dyeClass === 'basic' && content.some(({ fibre }) => fibre === 'acrylic')) {
    const text =
      'Dye and retarder together must not pass what the fibre holds, as the label says, or the shade pales and goes on unevenly. Never mix basic dyes of unlike K value.';
    warnings.push({ id: 'basic-capacity', text, source: 'china-dyestuff.com, retarders; shanyu.com' });
    if (holdMinutes > LONGEST_ACRYLIC_MINUTES) {
      const long = `Longer than ${LONGEST_ACRYLIC_MINUTES} minutes at the boil stretches acrylic and evens nothing out.`;
      warnings.push({ id: 'acrylic-hold', text: long, source: `${BROADBENT}, p. 394; minutes from memory` });
    }
  }
  return warnings;
}

/** Which dyeing of a blend this is, what comes before and after it, and why. */
function stageWarnings({ dyeClass }: Recipe, cloth: Content): readonly Warning[] {
  const stages = blendStages(cloth);
  const place = stageIn(stages, dyeClass);
  if (stages.length < 2 || place < 0) return [];
  const names = (some: readonly RecipeClass[]) => some.map((each) => DYE_CLASS_NAMES[each]).join(', then ');
  const [before, after] = [stages.slice(0, place), stages.slice(place + 1)];
  const rules = blendRulesFor(cloth);
  const text = [
    `This is dyeing ${place + 1} of ${stages.length} for this blend.`,
    before.length > 0 ? `Before it: ${names(before)}; cloth that has not had that yet waits.` : '',
    after.length > 0 ? `After it: ${names(after)}.` : '',
    rules.length > 0 ? `Because ${rules.map(({ why }) => why).join('; ')}.` : '',
  ];
  const source = rules.map(({ mark }) => mark.source).join('; ') || 'common practice';
  return [{ id: 'stage', text: text.filter((each) => each !== '').join(' '), source }];
}
