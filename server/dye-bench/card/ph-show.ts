import { liquidVolumeUl, nameOfForm } from '../../../src/dye/auxiliaries.ts';
import type { Bath } from '../../../src/dye/bath.ts';
import {
  type DoseForPh,
  dosedIn,
  doseFor,
  type ExpectedPh,
  expectedPh,
  PH_MAY_BE_OFF,
  type PhNote,
  type WantedPh,
} from '../../../src/dye/expected-ph.ts';
import { markOf, type Recipe } from '../../../src/dye/recipe.ts';
import { type DatedWater, sayInWater } from '../../../src/dye/water.ts';
import { showMass } from '../../../src/quantity/mass.ts';
import { showDay } from '../../kit/when.ts';
import { sayMark } from '../recipe/store.ts';
import { showUl } from './volumes.ts';

interface OfBath {
  readonly bath: Bath;
  /** null where neither the recipe nor its class names a pH */
  readonly wants: WantedPh | null;
  readonly temperatureC: number;
  readonly water: DatedWater | null;
  readonly marks: Recipe['marks'];
}

export type ShownPh = ReturnType<typeof showBathPh>;

/** The pH to expect of a bath when all is in, what is wanted, and the dose that would reach that. */
export function showBathPh({ bath, wants, temperatureC, water, marks }: OfBath) {
  const dosed = dosedIn(bath);
  const expected = expectedPh(dosed, water, temperatureC);
  const dose = wants && water ? doseFor(wants, dosed, water, expected) : undefined;
  return {
    expected: sayExpected(expected),
    /** '' where nothing is wanted */
    wants: wants ? sayRange(wants) : '',
    wantsSource: wants ? sayMark(wants.mark) : '',
    verdict: wants ? verdictOn(expected, wants) : '',
    /** '' where no dose can be worked out */
    dose: dose ? (isOfLabel(dose, marks) ? sayLabelDose(dose) : sayDose(dose, bath.volumeUl)) : '',
    notes: sayNotes(expected, temperatureC),
    water: water
      ? `Water measured on ${showDay(water.onDay)}: alkalinity ${sayInWater(water.alkalinityTenths)}.`
      : '',
    how: WORKED_OUT,
  };
}

const WORKED_OUT =
  'Worked out for a sample at 25 °C by charge balance with activities by Davies; constants: LibreTexts E1, ammonium issuhub 4705, others from memory. ±0.3 is our rule: strength, lot and water vary more than the model.';

/** "expected 4.2, ±0.3: measure" for one that can be said. */
export function sayExpected({ pH, between }: ExpectedPh): string {
  if (pH !== null) return `expected ${pH.toFixed(1)}, ±${PH_MAY_BE_OFF}: measure`;
  if (!between) return 'cannot be said: measure';
  const [soft, hard] = between;
  if (soft === null) return 'cannot be said: measure';
  if (hard === null) return `expected ${soft.toFixed(1)} in soft water, not to be said in hard: measure`;
  return soft.toFixed(1) === hard.toFixed(1)
    ? `expected ${soft.toFixed(1)}, ±${PH_MAY_BE_OFF}: measure`
    : `expected ${soft.toFixed(1)} in soft to ${hard.toFixed(1)} in hard water: measure`;
}

export function sayRange({ from, to }: Pick<WantedPh, 'from' | 'to'>): string {
  return from === to ? `${from}` : `${from} to ${to}`;
}

function verdictOn({ pH }: ExpectedPh, { from, to }: WantedPh): string {
  if (pH === null) return '';
  // What is shown to a tenth is judged to a tenth.
  const shown = Math.round(pH * 10) / 10;
  if (shown < from) return 'more sour than wanted';
  return shown > to ? 'more alkaline than wanted' : 'as wanted';
}

/** Whether the dose that is in the bath is the maker's own, which goes before any that is worked out. */
function isOfLabel({ kind }: DoseForPh, marks: Recipe['marks']): boolean {
  return markOf({ marks }, `auxiliaries.${kind}`).basis === 'label';
}

function sayLabelDose({ kind, form }: DoseForPh): string {
  return `The dose of ${nameOfForm(kind, form)} is the maker’s: keep to it, and measure.`;
}

/** "To come to pH 5.0 each bath of 3 L takes about 13.8 mL (4.6 mL/L) of vinegar, 5 g of acid in 100 mL." */
function sayDose({ kind, form, mgPerLitre, pH, none }: DoseForPh, volumeUl: number): string {
  const wanted = `To come to pH ${pH.toFixed(1)}`;
  // Its strength is said with it: vinegar and glacial acid are twenty times apart.
  const thing = nameOfForm(kind, form);
  if (none) return `${wanted} leave ${thing} out: the bath is there without it.`;
  const massMg = Math.round((mgPerLitre * volumeUl) / 1_000_000);
  const liquidUl = liquidVolumeUl(kind, form, massMg);
  const inBath =
    liquidUl === undefined
      ? showMass(massMg, 'metric', 'near').replace('≈ ', '')
      : showUl(liquidUl).replace('≈ ', '');
  const perLitreUl = liquidVolumeUl(kind, form, Math.round(mgPerLitre));
  const perLitre =
    perLitreUl === undefined ? `${round(mgPerLitre / 1000)} g/L` : `${round(perLitreUl / 1000)} mL/L`;
  return `${wanted} each bath of ${showUl(volumeUl)} takes about ${inBath} (${perLitre}) of ${thing}.`;
}

/** Two figures: no more is known. */
function round(figure: number): string {
  return String(Number(figure.toPrecision(2)));
}

const NOTES: Readonly<Record<Exclude<PhNote, 'not-counted' | 'carbon-dioxide'>, string>> = {
  'used-up': 'The alkalinity of this water uses up the acid, so no pH is given: add acid by pH paper.',
  ammonium:
    'The ammonium salt turns the bath acid only as ammonia leaves it hot and open; how far cannot be predicted, and under a lid it may never come. Log the measured pH.',
  salt: 'So much salt is beyond what the model holds for: it may be off by more.',
  hydros: 'Hydrosulphite uses up alkali as it is spent: the pH falls while the bath stands.',
  water: 'The water has not been measured: enter its alkalinity under Setup, Water.',
};

function sayNotes(expected: ExpectedPh, temperatureC: number): string[] {
  const { notes, boiledPh, hotPh, notCounted } = expected;
  const said = notes.flatMap((note) =>
    note === 'not-counted' || note === 'carbon-dioxide' ? [] : [NOTES[note]],
  );
  if (notCounted.length > 0) {
    said.push(`Of ${notCounted.join(' and ')} nobody knows what it does to the pH.`);
  }
  if (notes.includes('carbon-dioxide')) {
    const to = boiledPh === null ? '' : `, to about ${boiledPh.toFixed(1)} if all of it leaves`;
    said.push(`In a hot open bath the carbon dioxide of the water leaves and the pH rises${to}.`);
  }
  if (hotPh !== null) {
    said.push(
      `Hot, at ${temperatureC} °C, a meter shows about ${hotPh.toFixed(1)}: measure a cooled sample.`,
    );
  }
  return said;
}
