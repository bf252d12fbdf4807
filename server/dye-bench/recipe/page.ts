import { bathFor } from '../../../src/dye/bath.ts';
import { showOwf } from '../../../src/dye/bench-figures.ts';
import { cautionsFor } from '../../../src/dye/cautions.ts';
import { DYE_CLASS_NAMES } from '../../../src/dye/dye-class.ts';
import { wantedPh } from '../../../src/dye/expected-ph.ts';
import { fibreOf, sayFibreNames } from '../../../src/dye/fibre.ts';
import { liesInBath } from '../../../src/dye/label-class.ts';
import { labelDifferences, lackingDoses } from '../../../src/dye/maker-label.ts';
import { depthOwfMilli, isAfterBath } from '../../../src/dye/recipe.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { clothPath, expectedShadePath, shadePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { listed } from '../../kit/words.ts';
import { readWater } from '../../setup/water/store.ts';
import type { Page } from '../../web/page-frame.ts';
import { showAmount } from '../card/amounts-show.ts';
import { showBathPh } from '../card/ph-show.ts';
import { showUl } from '../card/volumes.ts';
import { sayDye } from '../dyes/store.ts';
import { type LabelInForce, sayWhoseLabel } from '../label/store.ts';
import { withHeads } from '../pot/step.ts';
import { BY_LABEL, byLabelVersionPath, isByLabel } from './by-label.ts';
import { recipeChanges } from './changes.ts';
import { checkInWater } from './check.ts';
import { readCopied } from './copy-store.ts';
import { recipeFigures, sayForm, sayMeasured } from './figures.ts';
import { sayAmount } from './offer.ts';
import { OWN, readRecipe, readRecipeVersions, recipePath, type StoredRecipe, sayMark } from './store.ts';

/** One kilogram, for amounts that are easily checked and scaled. */
const KILOGRAM_MG = 1_000_000;

export function recipePage(reader: Reader, id: number) {
  const stored = readRecipe(reader, id);
  const { recipe, fibre } = stored;
  const bathed = bathFor(KILOGRAM_MG, recipe);
  const newest = stored.followedById === null ? null : recipePath(stored.followedById);
  const data = {
    id: stored.id,
    name: stored.name,
    version: stored.version,
    chip: shadeChip(stored.shade, { href: shadePath(stored.shade.id), large: true }),
    fibre: fibreOf(fibre).name,
    dyeClass: DYE_CLASS_NAMES[recipe.dyeClass],
    method: recipe.method,
    /** thread, trim and lining; '' where there are none */
    also: sayFibreNames(recipe.also ?? []),
    cautions: withHeads(cautionsFor(recipe)),
    warnings: [
      ...checkInWater(reader, recipe, [{ fibre, shareBp: 10_000 }]).warnings,
      ...labelDifferences(recipe),
    ],
    /** what goes in, as the recipe says it and for one kilogram of cloth */
    lines: linesOf(stored),
    depth: showOwf(depthOwfMilli(recipe)),
    bathPerKilogram: bathed.ok ? showUl(bathed.bath.volumeUl) : '',
    figures: recipeFigures(recipe),
    /** of its bath when all is in; null where it overfills itself */
    ph:
      bathed.ok && liesInBath(recipe.dyeClass)
        ? showBathPh({
            bath: bathed.bath,
            wants: wantedPh(recipe, [{ fibre, shareBp: 10_000 }]),
            temperatureC: recipe.temperatureC,
            water: readWater(reader),
            marks: recipe.marks,
          })
        : null,
    shrinkage: showPercent(stored.shrinkageBp),
    /** whose label it is worked by; null where it is worked by none */
    label: stored.labelled ? shownLabel(stored.labelled) : null,
    labelHref: `${recipePath(stored.id)}/label`,
    lacking: lackingOf(stored),
    note: stored.note,
    versions: readRecipeVersions(reader, stored.name).map((each) => ({
      version: each.version,
      href: recipePath(each.id),
      current: each.id === stored.id,
    })),
    /** null where a newer version follows */
    newVersion:
      newest !== null
        ? null
        : isByLabel(stored)
          ? byLabelVersionPath(stored.id)
          : `${recipePath(stored.id)}/versions/new`,
    newest,
    copy: isByLabel(stored) ? address(BY_LABEL, { from: stored.id }) : `${recipePath(stored.id)}/copy`,
    made: madeFrom(reader, stored),
    swatch: address('/dye-bench/swatches/new', { recipe: stored.id }),
    expected: isByLabel(stored) ? null : expectedShadePath(stored.id),
    planBatch: `/dye-bench/batches/new?recipe_id=${stored.id}`,
  };
  const title = `${stored.name}, version ${stored.version}`;
  return { view: 'dye-bench/recipe/recipe', data, title, room: 'dye-bench' } satisfies Page;
}

/** The recipe that this one was made from, as its next version or a copy, and what changed; null for one made anew. */
function madeFrom(reader: Reader, stored: StoredRecipe) {
  const copied = readCopied(reader, stored.id);
  const fromId = stored.followsId ?? copied?.ofId;
  if (fromId === undefined) return null;
  const from = readRecipe(reader, fromId);
  const name = `${from.name}, version ${from.version}`;
  const cloth = copied?.cloth ?? null;
  return {
    how: copied ? `Copied from ${name}` : `Follows version ${from.version}`,
    href: recipePath(from.id),
    /** the cloth that it was copied for; null where none was named */
    cloth: cloth ? { name: cloth.name, href: clothPath(cloth.id) } : null,
    changes: recipeChanges(from, stored),
  };
}

/** What the label doses and the newest version lacks, to be added in one step; null where there is nothing. */
function lackingOf(stored: StoredRecipe) {
  const { labelled, recipe, followedById } = stored;
  if (!labelled || followedById !== null || isByLabel(stored)) return null;
  const lacking = lackingDoses(recipe, labelled.label);
  if (lacking.length === 0) return null;
  const doses = lacking.map(
    (dose) => `${sayMeasured(dose.kind, dose.form, sayAmount(dose))} of ${dose.name}`,
  );
  return { doses: listed(doses), action: `${recipePath(stored.id)}/label-doses`, requestKey: mintKey() };
}

function shownLabel(labelled: LabelInForce) {
  const { label, others } = labelled;
  return {
    says: `Worked by ${sayWhoseLabel(labelled)}`,
    source: label.source,
    others: others.length === 0 ? '' : `The label of ${others.join(' and ')} says something else.`,
  };
}

function linesOf(stored: StoredRecipe) {
  const { recipe, auxiliaryMarks } = stored;
  const bathed = bathFor(KILOGRAM_MG, recipe);
  const amounts = bathed.ok ? bathed.bath.lines : [];
  const perKilogram = (place: number) => {
    const line = amounts[place];
    if (!line) return '';
    const mass = showAmount(line);
    return line.volumeUl === undefined ? mass : `${mass} (${showUl(line.volumeUl)})`;
  };
  const dyes = recipe.dyes.map(({ name, owfMilli }, place) => ({
    name,
    part: 'dye' as const,
    isAfter: false,
    asked: showOwf(owfMilli),
    perKilogram: perKilogram(place),
    source: sayDye(stored.dyesOnList[place]) || sayMark(OWN),
  }));
  const auxiliaries = recipe.auxiliaries.map((auxiliary, place) => ({
    name: sayForm(auxiliary),
    part: 'auxiliary' as const,
    /** whether it goes into a bath after the dye bath */
    isAfter: isAfterBath(auxiliary, recipe),
    asked: sayMeasured(auxiliary.kind, auxiliary.form, sayAmount(auxiliary)),
    perKilogram: perKilogram(recipe.dyes.length + place),
    source: sayMark(auxiliaryMarks[place] ?? OWN),
  }));
  return [...dyes, ...auxiliaries];
}
