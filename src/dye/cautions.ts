// Long because it is one table: every caution, what it says, and when it comes due.
/**
 * What to beware of before the first gram: chosen by what is in the recipe, in the order in which one meets it.
 * They cannot be switched off. The label and the safety data sheet always have the last word.
 *
 * Each has the occasions that it comes due at: one with none fails the types, so that no caution is only ever printed.
 */
import { type Hazard, hazardsOf } from './auxiliaries.ts';
import type { RecipeClass } from './dye-class.ts';
import type { Recipe } from './recipe.ts';
import type { WorkKind } from './work-step.ts';

export interface Caution {
  readonly id: string;
  readonly text: string;
  /** Who says so; "common practice" where no authority was found. */
  readonly authority: string;
}

/** What of a recipe the cautions depend on. */
export type Hazards = Pick<Recipe, 'dyeClass' | 'auxiliaries' | 'temperatureC'>;

/**
 * When a caution comes due: at every step, where dye is weighed or dissolved, where a bath is hot to the hand or steams,
 * where a bath is let go, at a kind of step, or where something of a hazard goes in.
 */
export type Occasion =
  | 'every step'
  | 'dye powder'
  | 'hot'
  | 'steaming'
  | 'drain'
  | `at ${WorkKind}`
  | `with ${Hazard}`;

export interface CautionRule {
  /** Few words for wet hands; they never stand alone. */
  readonly head: string;
  readonly text: string;
  readonly authority: string;
  /** At least one, or nobody would ever be told at the bench. */
  readonly due: readonly [Occasion, ...Occasion[]];
  /** What a recipe must have for it: one of these classes of dye, something of this hazard, a bath this hot in °C. */
  readonly of?: readonly RecipeClass[];
  readonly hazard?: Hazard;
  readonly fromC?: number;
}

const COMMON = 'Common practice';
const HSE = 'Health and Safety Executive (UK), Dyes and dyeing';
/** From here a bath is hot to the hand, and from here it steams, in °C (common practice). */
export const HOT_FROM_C = 45;
export const STEAM_FROM_C = 80;

const ORDERED = {
  dust: {
    head: 'Breathe no dye dust',
    text:
      'Breathe in no dye dust, whatever the dye. Weigh in still air, slowly, in a shallow dish; close the tub at once. ' +
      'Dye: water onto the powder, to a paste. Hydrosulphite, thiourea dioxide and caustic soda are the other way round: powder into plenty of water.',
    authority: `${HSE}; NIOSH 97-107; pasting: a university costume shop’s dye page`,
    due: ['dye powder'],
  },
  reactive: {
    head: 'Tight chest: stop, see a doctor',
    text:
      'Some reactive dyes are respiratory sensitisers: once sensitised, a trace brings on asthma. No test tells which. Whoever has ' +
      'asthma or is sensitised never weighs them. With a tight chest, cough or running nose, hours later too, stop, and see a doctor.',
    authority: 'Health and Safety Executive (UK), TIS5; stopping: common practice',
    due: ['dye powder'],
    of: ['reactive', 'cold-batch', 'steamed', 'other-by-label'],
  },
  respirator: {
    head: 'Particle mask on for powder',
    text:
      'For powders wear a fitted particle mask, FFP2 or N95 at least; FFP3 or P100 for reactive dye. ' +
      'It stops no vapour. The safety data sheet decides.',
    authority: 'EN 149; 42 CFR 84; NIOSH 96-101; the choice of class is common practice',
    due: ['dye powder'],
  },
  skin: {
    head: 'Gloves, goggles, sleeves, apron',
    text:
      'Wear gloves, goggles, long sleeves and an apron: nitrile for dye, insulated rubber for hot liquor. Some reactive, vat and ' +
      'disperse dyes are skin sensitisers. Wash dye off with soap and water only, never with bleach.',
    authority: `${HSE}; NIOSH 97-107; National Society for Education in Art and Design; gloves: from memory`,
    due: [
      'dye powder',
      'at set',
      'at add',
      'at vat',
      'at rinse',
      'at clear',
      'at fix',
      'at oxidise',
      'with acid',
      'with alkali',
    ],
  },
  air: {
    head: 'Air moving, others away',
    text: 'Work in a room with an air extractor or open to the outside, away from others and from show laundry: dust travels.',
    authority: 'NIOSH 2003 study on dye weighing; a university costume shop’s dye page; common practice',
    due: ['dye powder', 'at vat'],
  },
  'old-direct-dye': {
    head: 'No old or unnamed direct dye',
    text:
      'Use no unlabelled or old direct dye. Dyes made from benzidine, o-tolidine or o-dianisidine can cause cancer, among them ' +
      'C.I. Direct Black 38, Direct Blue 6 and Direct Brown 95.',
    authority: 'NIOSH 81-106, 83-105 and 78-148; EPA Action Plan 2010; NTP Report on Carcinogens',
    due: ['dye powder'],
    of: ['direct', 'union', 'other-by-label'],
  },
  'basic-dye': {
    head: 'Basic dye: keep it out of eyes',
    text: 'Basic dyes can bring on allergy, and some are poisonous and do great harm to eyes: tight goggles, no powder in the air.',
    authority: 'National Society for Education in Art and Design; harm to eyes: from memory',
    due: ['dye powder', 'at add'],
    of: ['basic'],
  },
  'disperse-skin': {
    head: 'Some disperse dyes: allergy on skin',
    text:
      'Some disperse dyes cause allergy in worn cloth: C.I. Disperse Blue 1, 3, 7, 26, 35, 102, 106 and 124, Orange 1, 3 and 37/76, ' +
      'Red 1, 11 and 17, Yellow 1, 3, 9, 39 and 49, Brown 1. Use none of them for what touches skin.',
    authority: 'Danish EPA survey 129, 2014; the list: from memory',
    due: ['dye powder'],
    of: ['disperse'],
  },
  'metal-dye': {
    head: 'Chromium or cobalt goes down the drain',
    text:
      'Many metal-complex dyes hold chromium or cobalt: exhaust the bath well, ask the sewer authority, and use no EDTA ' +
      'with them.',
    authority: 'From memory; a textile glossary on sequestrants; local rules',
    due: ['dye powder', 'drain'],
    of: ['acid-metal-complex'],
  },
  acid: {
    head: 'Acid into water, never water into acid',
    text:
      'Pour acid into water, never water into acid. No hypochlorite and no hydrosulphite on the bench with it. Strong acid burns ' +
      'skin and eyes, and glacial acetic acid also catches fire: a weaker form is safer.',
    authority: 'CAMEO Chemicals, acetic acid; the order of pouring: common practice',
    due: ['with acid'],
    hazard: 'acid',
  },
  'strong-acid': {
    head: 'Strong acid: face shield, the right gloves',
    text:
      'Formic, sulphuric and glacial acetic acid: face shield, apron, gloves of butyl or neoprene (thin nitrile lets them through ' +
      'fast), eye wash within reach, extraction on. Never formic with sulphuric acid.',
    authority: 'From memory; the safety data sheet decides',
    due: ['with strong acid'],
    hazard: 'strong acid',
  },
  alkali: {
    head: 'Soda: goggles, sprinkle it in',
    text: 'Soda hurts the eyes badly: goggles on. Sprinkle it into water, never pour water on it.',
    authority: 'Safety data sheet of soda ash; sprinkling: common practice',
    due: ['with alkali'],
    hazard: 'alkali',
  },
  caustic: {
    head: 'Caustic burns: cold water, face shield',
    text: 'Caustic soda burns skin and eyes at once and heats the water: cold water, small amounts, face shield.',
    authority: 'From memory; the safety data sheet decides',
    due: ['with caustic'],
    hazard: 'caustic',
  },
  hydrosulphite: {
    head: 'Hydrosulphite: dry, no acid, little by little',
    text:
      'Hydrosulphite heats itself when damp and can catch fire: keep it dry, use a dry scoop, put nothing back into the tub, keep ' +
      'it away from acids and oxidisers, and add it a little at a time to a vessel that held no peroxide. Dry sand for a small ' +
      'fire, never a splash of water. It can bring on asthma.',
    authority: `ICSC 1717; New Jersey Department of Health 1697; ${HSE}`,
    due: ['with hydrosulphite'],
    hazard: 'hydrosulphite',
  },
  'sulphur-dioxide': {
    head: 'A sharp smell: leave, let air in',
    text:
      'A sharp, choking smell is sulphur dioxide: leave, let air in, do not lean over the vessel or try to neutralise it, shut ' +
      'nothing airtight. Medical help where breathing is hurt.',
    authority: 'CDC, 18 March 1982; medicalalgorithms.com, sulphur dioxide',
    due: ['with hydrosulphite'],
    hazard: 'hydrosulphite',
  },
  peroxide: {
    head: 'Peroxide: no metal dust, never shut in',
    text:
      'Peroxide and perborate give off oxygen: an open vessel without brass or rust, gloves and goggles, and no hydrosulphite ' +
      'left in cloth or vessel.',
    authority: `hydrogen peroxide, chemicaldictionary.org 3325; ${HSE}`,
    due: ['with peroxide'],
    hazard: 'peroxide',
  },
  chlorine: {
    head: 'Chlorine bleach: no acid, no ammonia',
    text:
      'Chlorine bleach makes poisonous gas with any acid, ammonia or cationic product: alone, cold, in plastic, on cellulose ' +
      'only, and the drain flushed before and after.',
    authority: 'Chlorine Institute, hypochlorite incompatibility chart; ICSC 0482',
    due: ['with chlorine'],
    hazard: 'chlorine',
  },
  carrier: {
    head: 'Carrier: flame off, extraction on',
    text:
      'Carriers are toxic by breath and skin, go off with the steam and pass a dust mask; some catch fire. Only in a ventilated ' +
      'workshop with extraction, no flame or spark near, nobody pregnant in the room, never in a dwelling.',
    authority: 'nano-lab on chlorinated carriers; no dwelling, pregnancy: common practice',
    due: ['with carrier', 'hot'],
    hazard: 'carrier',
  },
  formaldehyde: {
    head: 'Fixer: take one free of formaldehyde',
    text:
      'Some fixers and resins release formaldehyde, a cause of skin allergy: take one that is free of it, air the room. A ' +
      'cationic fixer never meets anionic dye or dispersing agent in one bath, and costs light fastness.',
    authority: `de Groot and others, Contact Dermatitis 61:63, 2009; ECHA report 2017; light fastness: Broadbent, p. 302`,
    due: ['with fixer'],
    hazard: 'fixer',
  },
  curing: {
    head: 'Hot press, oven, iron: burns, scorch, fumes',
    text:
      'Presses, ovens and irons burn skin and scorch or melt cloth: try a piece first, keep sheer cloth from bare heat. What ' +
      'leaves the cloth hot is dye, binder and carrier: extraction on, no food oven, nobody pregnant beside it.',
    authority: 'p2ric, sectors75bd: transfer dyes are volatile, ventilate; the rest common practice',
    due: ['at fix'],
    of: ['pigment', 'transfer', 'steamed', 'discharge', 'other-by-label'],
  },
  binder: {
    head: 'Binder may give off formaldehyde: air',
    text: 'Some binders release formaldehyde when they dry and cure, a cause of skin allergy: take one that is free of it, air the room.',
    authority: 'JASMI 2(2) 87, 2012, binders; de Groot and others, Contact Dermatitis 61:63, 2009',
    due: ['at set', 'at fix'],
    of: ['pigment'],
  },
  steamer: {
    head: 'Steamer: never dry, lid away from you',
    text: 'Never let a steamer boil dry: set an alarm, and look at the water. Open it away from you, and let the steam out first.',
    authority: COMMON,
    due: ['at fix'],
    of: ['steamed', 'discharge', 'other-by-label'],
  },
  'strip-gas': {
    head: 'Stripping bath: gas under the lid',
    text: 'A hot stripping bath gives off irritant gas when it is opened: extraction on, lid away from you, no acid near it.',
    authority: 'A craft supplier’s page on thiourea dioxide; UK P&I Club bulletins 337 and 437',
    due: ['at hold', 'at cool', 'steaming'],
    of: ['strip', 'discharge'],
  },
  vessels: {
    head: 'Never food in these vessels',
    text: 'Vessels and spoons for dye never serve food again. No eating, drinking or smoking at the bench.',
    authority: 'National Society for Education in Art and Design, health and safety on dyes',
    due: ['at weigh', 'at set'],
  },
  children: {
    head: 'No children or animals; pregnant: ask a doctor',
    text: 'Keep children and animals out. If you are pregnant or nursing, ask a doctor first.',
    authority: 'Craft guidance; no regulator text was found',
    due: ['at prepare', 'at weigh'],
  },
  scald: {
    head: 'Hot water scalds in seconds',
    text:
      'Water of 60 °C scalds within 5 seconds, of 68 °C within one. Lower cloth in gently; carry no full hot pot, and let hot ' +
      'liquor out slowly. Wet floors are slippery: wipe them.',
    authority: 'Hospital guidance on scalds, childrensal.org; carrying: common practice',
    due: ['hot'],
    fromC: HOT_FROM_C,
  },
  steam: {
    head: 'Lid away from you, never sealed',
    text: 'Lift the lid away from you. Never seal a lid or weigh it down, and use no pressure cooker.',
    authority: COMMON,
    due: ['steaming'],
    fromC: STEAM_FROM_C,
  },
  mains: {
    head: 'Residual-current device, dry hands, never alone',
    text:
      'Electric heaters only on a circuit with a residual-current device, cords with a drip loop, dry hands. ' +
      'Never leave a heated bath alone.',
    authority: `${COMMON}; wiring by a licensed electrician`,
    due: ['hot'],
    fromC: HOT_FROM_C,
  },
  'immersion-heater': {
    head: 'Immersion heater: on only under liquid',
    text:
      'An immersion heater is on only while it is covered, earthed, with a low-water cut-out, unplugged to stir or lift cloth, and ' +
      'never in acid, caustic soda or hydrosulphite.',
    authority: COMMON,
    due: ['hot'],
    fromC: HOT_FROM_C,
  },
  'carbon-monoxide': {
    head: 'Flames indoors: carbon monoxide',
    text:
      'Burners make carbon monoxide, which has no smell: no camping, charcoal or outdoor burner indoors, a hood or open flue over ' +
      'gas, an alarm in the room. Headache or dizziness: out, then call for help.',
    authority: 'Tacoma–Pierce County Health Department, carbon monoxide',
    due: ['at heat', 'steaming'],
    fromC: HOT_FROM_C,
  },
  flame: {
    head: 'Cloth away from flame',
    text: 'Keep dry cloth, sheer cloth above all, and loose sleeves away from flames and hot plates.',
    authority: COMMON,
    due: ['at heat', 'at dry'],
    fromC: HOT_FROM_C,
  },
  weight: {
    head: 'Wet cloth is heavy: lift in parts',
    text: 'Wet cloth weighs several times its dry mass: lift it in parts, or with a second person; two people for more than 20 L.',
    authority: COMMON,
    due: ['at prepare', 'at set', 'at cool', 'at rinse', 'at dry'],
  },
  splash: {
    head: 'Splash: rinse at once, eyes 15 minutes',
    text:
      'Know where running water is. Rinse a splash at once; eyes for 15 minutes, both, held open, in lukewarm water that can be ' +
      'reached within 10 seconds. Then medical help with the safety data sheet in hand.',
    authority: 'ANSI/ISEA Z358.1, as excerpted',
    due: [
      'at prepare',
      'at dissolve',
      'at vat',
      'at set',
      'at add',
      'at clear',
      'at fix',
      'at oxidise',
      'with acid',
      'with caustic',
    ],
  },
  label: {
    head: 'Label and safety data sheet outrank this page',
    text: "The maker's label and the safety data sheet of each product outrank this page: read them first.",
    authority: HSE,
    due: ['every step'],
  },
  'waste-water': {
    head: 'Waste water by local rules',
    text:
      'Spent baths follow your local rules for waste water: neutralise, ask the sewer authority, never use a storm drain, keep ' +
      'strong baths out of septic tanks, and take leftover dye to hazardous waste. No hydrosulphite into a sink that holds acid.',
    authority: 'Cornell University, household hazardous products; ICSC 1717; local rules',
    due: ['drain'],
  },
} satisfies Readonly<Record<string, CautionRule>>;

type CautionId = keyof typeof ORDERED;
const RULES: Readonly<Record<CautionId, CautionRule>> = ORDERED;
const IDS = Object.keys(RULES) as CautionId[];

/** The rule of a caution; undefined for one that an older card was kept with. */
export function cautionRule(id: string): CautionRule | undefined {
  return IDS.includes(id as CautionId) ? RULES[id as CautionId] : undefined;
}

/** What a class of dye cannot do without, whether or not a recipe lists it. */
const OWN_HAZARDS: Partial<Record<RecipeClass, readonly Hazard[]>> = {
  vat: ['alkali', 'caustic', 'hydrosulphite', 'peroxide'],
};

/**
 * The cautions for a recipe, in order; never empty. The last two are always `label` and `waste-water`.
 */
export function cautionsFor(recipe: Hazards): readonly Caution[] {
  const hazards = new Set<Hazard>([
    ...(OWN_HAZARDS[recipe.dyeClass] ?? []),
    ...recipe.auxiliaries.flatMap(({ kind, form }) => hazardsOf(kind, form)),
  ]);
  return IDS.filter((id) => concerns(RULES[id], recipe, hazards)).map((id) => {
    const { text, authority } = RULES[id];
    return { id, text, authority };
  });
}

function concerns(
  { of, hazard, fromC }: CautionRule,
  { dyeClass, temperatureC }: Hazards,
  hazards: ReadonlySet<Hazard>,
): boolean {
  return (
    (of === undefined || of.includes(dyeClass)) &&
    (hazard === undefined || hazards.has(hazard)) &&
    (fromC === undefined || temperatureC >= fromC)
  );
}
