/**
 * What to beware of before the first gram: chosen by what is in the recipe, in the order in which one meets it.
 * They cannot be switched off. The label and the safety data sheet always have the last word.
 */
import { type Hazard, hazardsOf } from './auxiliaries.ts';
import type { Recipe } from './recipe.ts';

export interface Caution {
  readonly id: string;
  readonly text: string;
  /** Who says so; "common practice" where no authority was found. */
  readonly authority: string;
}

/** What of a recipe the cautions depend on. */
export type Hazards = Pick<Recipe, 'dyeClass' | 'auxiliaries' | 'temperatureC'>;

interface Rule extends Caution {
  readonly applies: (recipe: Hazards) => boolean;
}

const COMMON = 'Common practice';
const HSE = 'Health and Safety Executive (UK), Dyes and dyeing';
const HOT_FROM_C = 45;
const STEAM_FROM_C = 80;

const VAT_HAZARDS: readonly Hazard[] = ['alkali', 'caustic', 'hydrosulphite'];

const always = (): boolean => true;
const warmedPast =
  (fromC: number) =>
  (recipe: Hazards): boolean =>
    recipe.temperatureC >= fromC;
/** A vat is made with caustic soda and hydrosulphite, whether or not the recipe lists them. */
const withHazard =
  (hazard: Hazard) =>
  (recipe: Hazards): boolean =>
    (recipe.dyeClass === 'vat' && VAT_HAZARDS.includes(hazard)) ||
    recipe.auxiliaries.some(({ kind, form }) => hazardsOf(kind, form).includes(hazard));

const RULES: readonly Rule[] = [
  {
    id: 'dust',
    applies: always,
    text: 'Breathe in no dye dust, whatever the dye. Weigh in still air, slowly, in a shallow dish; close the tub at once.',
    authority: `${HSE}; NIOSH 97-107`,
  },
  {
    id: 'reactive',
    applies: ({ dyeClass }) => dyeClass === 'reactive',
    text:
      'Some reactive dyes make the lungs allergic, and then a trace brings on asthma. No test tells which. ' +
      'With a tight chest, cough or running nose stop, and see a doctor.',
    authority: 'Health and Safety Executive (UK), TIS5; stopping: common practice',
  },
  {
    id: 'respirator',
    applies: always,
    text:
      'For powders wear a fitted particle mask, FFP2 or N95 at least; FFP3 or P100 for reactive dye. ' +
      'It stops no vapour. The safety data sheet decides.',
    authority: 'EN 149; 42 CFR 84; NIOSH 96-101; the choice of class is common practice',
  },
  {
    id: 'skin',
    applies: always,
    text: 'Wear gloves, goggles, long sleeves and an apron. Some reactive, vat and disperse dyes make the skin allergic.',
    authority: `${HSE}; NIOSH 97-107`,
  },
  {
    id: 'air',
    applies: always,
    text: 'Work in a room with an air extractor or open to the outside, away from others.',
    authority: 'NIOSH 2003 study on dye weighing; common practice',
  },
  {
    id: 'old-direct-dye',
    applies: ({ dyeClass }) => dyeClass === 'direct',
    text: 'Use no unlabelled or old direct dye: some are made from benzidine and can cause cancer.',
    authority: 'NIOSH 81-106; EPA Action Plan 2010; NTP Report on Carcinogens',
  },
  {
    id: 'acid',
    applies: withHazard('acid'),
    text:
      'Pour acid into water, never water into acid. Strong acid burns skin and eyes, and glacial acetic acid also ' +
      'catches fire: a weaker form is safer.',
    authority: 'CAMEO Chemicals, acetic acid; the order of pouring: common practice',
  },
  {
    id: 'alkali',
    applies: withHazard('alkali'),
    text: 'Soda hurts the eyes badly: goggles on. Sprinkle it into water, never pour water on it.',
    authority: 'Safety data sheet of soda ash; sprinkling: common practice',
  },
  {
    id: 'caustic',
    applies: withHazard('caustic'),
    text: 'Caustic soda burns skin and eyes at once and heats the water: cold water, small amounts, face shield.',
    authority: 'From memory; the safety data sheet decides',
  },
  {
    id: 'hydrosulphite',
    applies: withHazard('hydrosulphite'),
    text:
      'Hydrosulphite heats itself when damp and can catch fire: keep it dry, away from acids and oxidisers, and add ' +
      'it a little at a time to a vessel that held no peroxide. It can bring on asthma.',
    authority: `ICSC 1717; New Jersey Department of Health 1697; ${HSE}`,
  },
  {
    id: 'carrier',
    applies: withHazard('carrier'),
    text: 'Carriers are toxic and their vapour passes a dust mask: only in a ventilated workshop, never in a dwelling.',
    authority: COMMON,
  },
  {
    id: 'vessels',
    applies: always,
    text: 'Vessels and spoons for dye never serve food again. No eating, drinking or smoking at the bench.',
    authority: 'National Society for Education in Art and Design, health and safety on dyes',
  },
  {
    id: 'children',
    applies: always,
    text: 'Keep children and animals out. Who is pregnant or nursing asks a doctor first.',
    authority: 'Craft guidance; no regulator text was found',
  },
  {
    id: 'scald',
    applies: warmedPast(HOT_FROM_C),
    text: 'Water of 60 °C scalds within 5 seconds, of 68 °C within one. Lower cloth in gently; carry no full hot pot.',
    authority: 'Hospital guidance on scalds, childrensal.org; carrying: common practice',
  },
  {
    id: 'steam',
    applies: warmedPast(STEAM_FROM_C),
    text: 'Lift the lid away from you. Never seal a lid or weigh it down, and use no pressure cooker.',
    authority: COMMON,
  },
  {
    id: 'mains',
    applies: warmedPast(HOT_FROM_C),
    text:
      'Electric heaters only on a circuit with a residual-current device, cords with a drip loop, dry hands. ' +
      'Never leave a heated bath alone.',
    authority: `${COMMON}; wiring by a licensed electrician`,
  },
  {
    id: 'flame',
    applies: warmedPast(HOT_FROM_C),
    text: 'Keep dry cloth, sheer cloth above all, and loose sleeves away from flames and hot plates.',
    authority: COMMON,
  },
  {
    id: 'weight',
    applies: always,
    text: 'Wet cloth weighs several times its dry mass: lift it in parts, or with a second person.',
    authority: COMMON,
  },
  {
    id: 'splash',
    applies: always,
    text: 'Know where running water is. Rinse a splash at once, eyes longest, and get medical help with the safety data sheet in hand.',
    authority: COMMON,
  },
  {
    id: 'label',
    applies: always,
    text: "The maker's label and the safety data sheet of each product outrank this page: read them first.",
    authority: HSE,
  },
  {
    id: 'waste-water',
    applies: always,
    text:
      'Spent baths follow your local rules for waste water: ask the sewer authority, never use a storm drain, ' +
      'keep strong baths out of septic tanks, and take leftover dye to hazardous waste.',
    authority: 'Cornell University, household hazardous products; local rules',
  },
];

/**
 * The cautions for a recipe, in order; never empty. The last two are always `label` and `waste-water`.
 */
export function cautionsFor(recipe: Hazards): readonly Caution[] {
  return RULES.filter((rule) => rule.applies(recipe)).map(({ id, text, authority }) => ({
    id,
    text,
    authority,
  }));
}
