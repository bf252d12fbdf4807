import { z } from 'zod';
import { OBSERVERS } from '../../../src/colour/colour-reading.ts';
import { readOwf } from '../../../src/dye/bench-figures.ts';
import { readMass } from '../../../src/quantity/mass.ts';
import type { Reader } from '../../database/book.ts';
import { clothChoices, optionalChoice, optionalChosen } from '../../kit/choices.ts';
import { optionalReading, readingField } from '../../kit/fields.ts';
import type { Typed } from '../../kit/typed.ts';
import { dyedShadeChoices } from '../recipe/form.ts';
import { recipeChoices } from '../swatch/form.ts';
import { bathValue } from './known.ts';
import { OVERDYEING, type Scope } from './scope.ts';

export const OBSERVER_CHOICES = OBSERVERS.toReversed().map((value) => ({ value, label: `D65, ${value}°` }));

/** On what a shade is predicted: the cloth, and once it is known its grounds and classes of dye. */
export function scopeFields(reader: Reader, scope: Scope | null) {
  return {
    cloth_id: optionalChosen(clothChoices(reader), 'a cloth', {
      label: 'Cloth',
      blank: 'Choose a cloth',
      filter: true,
    }),
    ground_id: optionalChoice(
      [...(scope?.grounds ?? []), { value: OVERDYEING, label: 'Another colour (dyeing over)' }],
      'what it is dyed on',
      { label: 'Dyed on', blank: 'The usual ground' },
    ),
    bath: optionalChoice(scope?.baths ?? [], 'a class of dye', {
      label: 'Class of dye',
      blank: 'The best known',
    }),
    observer: optionalChoice(OBSERVER_CHOICES, 'an observer', {
      label: 'Light and observer',
      blank: 'As most swatches were read',
    }),
  };
}

export function firstRecipeForm(reader: Reader, scope: Scope | null) {
  return z.object({
    shade_id: optionalChosen(dyedShadeChoices(reader), 'a shade', {
      label: 'Shade wanted',
      blank: 'Choose a shade',
      filter: true,
    }),
    ...scopeFields(reader, scope),
    mass: readingField((typed) => readMass(typed, 'g'), { label: 'Cloth to dye', unit: 'g', filter: true }),
  });
}

/** What stands in the fields of a scope: what was asked for, else what is meant by leaving it open. */
export function shownScope(typed: Typed, scope: Scope | null): Typed {
  const ground = !typed.ground_id && scope?.ground ? { ground_id: String(scope.ground.id) } : {};
  const bath = !typed.bath && scope?.bath ? { bath: bathValue(scope.bath) } : {};
  return { mass: '100', ...typed, cloth_id: scope ? String(scope.cloth.id) : '', ...ground, ...bath };
}

/** A recipe at a depth on a cloth. */
export function expectedForm(reader: Reader, scope: Scope | null) {
  return z.object({
    recipe_id: optionalChosen(recipeChoices(reader), 'a recipe', {
      label: 'Recipe',
      blank: 'Choose a recipe',
      filter: true,
    }),
    depth: optionalReading(readOwf, {
      label: 'Depth, all dyes together',
      unit: '%',
      hint: 'Blank: as in the recipe.',
      filter: true,
    }),
    ...scopeFields(reader, scope),
  });
}
