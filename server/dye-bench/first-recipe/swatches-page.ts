import { sayViewing } from '../../../src/colour/colour-reading.ts';
import { labToScreen, sayLabTenths } from '../../../src/colour/lab.ts';
import { LEAST_DEPTHS } from '../../../src/colour/prediction/known-swatches.ts';
import { ENOUGH_MIXTURES } from '../../../src/colour/prediction/predictor.ts';
import type { Reader } from '../../database/book.ts';
import { clothChoices } from '../../kit/choices.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { FIRST_RECIPE, firstRecipePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { viewingValue } from '../../shelf/colour/fields.ts';
import { readUsualViewing } from '../../shelf/colour/readings.ts';
import type { Page } from '../../web/page-frame.ts';
import { groundingOf } from './basis.ts';
import type { ReadSwatch } from './known.ts';
import { doubtsAbout, sayLearned, sayNotYet, sayPercent, saySwatchesLeftOut } from './said.ts';
import { readScope } from './scope.ts';
import { dyedSwatchForm, takeOutForm } from './swatch-form.ts';

/** The swatches of a cloth that shades are predicted from, what is lacking, and one more to be recorded. */
export function knownSwatchesPage(reader: Reader, typed: Typed) {
  const scope = readScope(reader, typed);
  const grounded = scope ? groundingOf(reader, scope) : null;
  const used = new Set(grounded?.ok ? grounded.grounding.own.names : []);
  const offered = {
    level: 'level',
    how: 'instrument',
    viewing: viewingValue(readUsualViewing(reader)),
    cloth_id: scope ? String(scope.cloth.id) : '',
    ground_id: scope?.ground ? String(scope.ground.id) : '',
  };
  const { dyes, note, l, a, b, ...fields } = drawFields(dyedSwatchForm(reader).in.shape, {
    ...offered,
    ...typed,
  });
  const data = {
    requestKey: mintKey(),
    action: `${FIRST_RECIPE}/swatches`,
    cloths: clothChoices(reader),
    clothId: scope ? String(scope.cloth.id) : '',
    cloth: scope?.cloth.name ?? '',
    first: firstRecipePath(null, scope?.cloth.id ?? null),
    count: scope?.known.length ?? 0,
    groups: scope ? groupsOf(scope.known.map((swatch) => showKnown(swatch, used))) : [],
    learned: scope && grounded?.ok ? sayLearned(grounded.grounding, scope) : '',
    notYet: scope && grounded && !grounded.ok ? { ...sayNotYet(grounded.notYet, scope), link: null } : null,
    doubts:
      scope && grounded?.ok
        ? doubtsAbout(grounded.grounding, scope).map((doubt) => ({ ...doubt, link: null }))
        : [],
    leftOut: grounded ? saySwatchesLeftOut(grounded.ok ? grounded.grounding.leftOut : grounded.leftOut) : [],
    takeOut: {
      action: `${FIRST_RECIPE}/take-outs`,
      key: mintKey(),
      field: drawFields(takeOutForm(reader, scope?.cloth.id ?? null).shape, typed).swatch_id,
    },
    needs: { depths: LEAST_DEPTHS, mixtures: ENOUGH_MIXTURES },
    fields: {
      before: [fields.cloth_id, fields.ground_id],
      dyes,
      after: [fields.level, fields.how, fields.viewing, l, a, b, note],
    },
  };
  return {
    view: 'dye-bench/first-recipe/swatches',
    data,
    title: scope ? `Swatches of ${scope.cloth.name}` : 'Swatches to predict from',
    room: 'dye-bench',
  } satisfies Page;
}

/** Undyed, of one dye, and mixtures: each can be folded. */
function groupsOf(swatches: readonly ReturnType<typeof showKnown>[]) {
  const of = (name: string, has: (dyes: number) => boolean) => ({
    name,
    swatches: swatches.filter(({ used }) => has(used)),
  });
  return [
    of('undyed', (dyes) => dyes === 0),
    of('of one dye', (dyes) => dyes === 1),
    of('of two dyes and more', (dyes) => dyes > 1),
  ].filter(({ swatches: some }) => some.length > 0);
}

function showKnown(swatch: ReadSwatch, used: ReadonlySet<string>) {
  const { name, dyes, lab, viewing, uncertainty, href } = swatch;
  return {
    name,
    href,
    used: dyes.length,
    chip: { colour: labToScreen(lab), name },
    dyes:
      dyes.length === 0 ? 'undyed' : dyes.map((dye) => `${sayPercent(dye.percent)} ${dye.name}`).join(', '),
    lab: `${sayLabTenths(lab)} (${sayViewing(viewing)}), likely within ${uncertainty.toFixed(1)}`,
    isUsed: used.has(name),
  };
}
