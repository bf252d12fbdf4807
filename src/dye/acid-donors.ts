/** What makes an acid dye bath acid, how much of it each type of dye takes on nylon, and what goes wrong with it. */

import type { Provenance } from '../quantity/provenance.ts';
import { BROADBENT, published } from '../quantity/provenance.ts';
import type { AuxiliaryKind } from './auxiliaries.ts';
import { chemicalsOf } from './bath-chemicals.ts';
import type { Warning } from './dye-advice.ts';
import type { DyeClass } from './dye-class.ts';
import type { Content } from './fibre.ts';
import { bathAuxiliaries, type Recipe } from './recipe.ts';

/** How much of a donor, as the pure substance in percent on the cloth. */
interface Donor {
  readonly dyeClass: DyeClass;
  readonly kind: AuxiliaryKind;
  readonly mostPercent: number;
  readonly says: string;
  readonly mark: Provenance;
}

const NYLON_DONORS: readonly Donor[] = [
  {
    dyeClass: 'acid-levelling',
    kind: 'acetic-acid',
    mostPercent: 3,
    says: 'acetic acid 1 to 3 %',
    mark: published('tradetextile.com, archive page 38365'),
  },
  {
    dyeClass: 'acid-milling',
    kind: 'ammonium-sulphate',
    mostPercent: 4,
    says: 'ammonium sulphate 2 to 4 %',
    mark: published('organicdye.com, a dye maker’s page on wool with nylon'),
  },
  {
    dyeClass: 'acid-metal-complex',
    kind: 'ammonium-sulphate',
    mostPercent: 4,
    says: 'ammonium sulphate to 4 %',
    mark: published('fibre2fabrics.in, April 2020; its amount from memory'),
  },
];

/** What to beware of with the acid of a recipe: too much of it on nylon, salt with milling dye. */
export function donorWarnings(recipe: Recipe, content: Content): readonly Warning[] {
  const { dyeClass, auxiliaries, liquorRatioMilli } = recipe;
  const inBath = bathAuxiliaries(recipe);
  if (!dyeClass.startsWith('acid-')) return [];
  const warnings: Warning[] = [];
  const nylon = content.some(({ fibre, shareBp }) => fibre === 'nylon' && shareBp > 0);
  const chemicals = chemicalsOf(recipe);
  for (const donor of nylon ? NYLON_DONORS.filter((each) => each.dyeClass === dyeClass) : []) {
    const mg = inBath.reduce(
      (sum, each, row) => sum + (each.kind === donor.kind ? (chemicals[row]?.mgPerLitre ?? 0) : 0),
      0,
    );
    // mg in a litre × litres to a kilogram are mg on a kilogram, of which 10 000 are a percent.
    const percent = (mg * liquorRatioMilli) / 1000 / 10_000;
    if (percent > donor.mostPercent + 0.05) {
      const text = `This is ${percent.toFixed(1)} % of it on the cloth; usual on nylon is ${donor.says}. More acid strikes faster and unevenly.`;
      warnings.push({ id: 'acid-donor', text, source: donor.mark.source });
    }
  }
  const salted = auxiliaries.some(({ kind }) => kind === 'glauber-salt' || kind === 'salt');
  if (dyeClass === 'acid-milling' && salted) {
    const text = "No Glauber's or other salt with milling dye: it makes it more uneven.";
    warnings.push({ id: 'salt-with-milling', text, source: `${BROADBENT}, p. 246` });
  }
  return warnings;
}
