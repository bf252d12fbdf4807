import { type Card, contentToDye } from '../../../src/dye/card.ts';
import { type Caution, cautionsFor } from '../../../src/dye/cautions.ts';
import { stateTogether } from '../../../src/dye/cloth-finish.ts';
import type { Content } from '../../../src/dye/fibre.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import { auxiliaryFrom } from '../../../src/dye/recipe.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';
import type { Reader } from '../../database/book.ts';
import type { StoredRecipe } from '../recipe/store.ts';
import { readPiecesToDye } from './dyeable.ts';
import type { KeptCard } from './kept-card.ts';

/** The order of work of a batch, and all that there is to beware of in any of its steps. */
export interface Work {
  readonly steps: readonly WorkStep[];
  readonly cautions: readonly Caution[];
  /** the fibres of all the cloth together */
  readonly content: Content;
}

export function workOf(reader: Reader, stored: StoredRecipe, card: KeptCard): Work {
  const pieces = readPiecesToDye(
    reader,
    card.pieces.map(({ code }) => code),
  );
  const cloths = card.pieces.map(({ code, massMg }) => ({
    cloth: pieces.find((piece) => piece.code === code)?.cloth,
    massMg,
  }));
  const content = contentToDye(
    cloths.map(({ cloth, massMg }) => ({ content: cloth?.content ?? [], massMg })),
    stored,
  );
  const state = stateTogether(cloths.flatMap(({ cloth }) => cloth?.state ?? []));
  const steps = card.work ?? orderOfWork(stored.recipe, content, state);
  return { steps, cautions: cautionsOf(stored, card, steps), content };
}

/** What the scour and the clear take is to beware of as much as what the recipe takes. */
function cautionsOf({ recipe }: StoredRecipe, card: Card, steps: readonly WorkStep[]): readonly Caution[] {
  const beside = steps.flatMap(({ doses }) =>
    doses.map(({ kind, name, form = 'as-sold', mgPerLitre }) =>
      auxiliaryFrom({ kind, name, form, per: 'litre', amount: mgPerLitre }),
    ),
  );
  const now = cautionsFor({
    dyeClass: recipe.dyeClass,
    temperatureC: Math.max(recipe.temperatureC, ...steps.map(({ toC }) => toC)),
    auxiliaries: [...recipe.auxiliaries, ...beside],
  });
  const told = card.cautions.filter(({ id }) => !now.some((caution) => caution.id === id));
  return [...told, ...now];
}
