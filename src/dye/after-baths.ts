// Long because it is one table: every bath that can follow a dye bath.
/**
 * What comes after the dye bath: rinses, what turns a vat back into its colour, soap and clears against loose dye, and
 * fixing as a step of its own. Doses are by the litre of a fresh bath as large as the dye bath; what a recipe lists for
 * fixing is on the cloth. The labels of the products outrank all of it.
 */

import { COMMON_PRACTICE, FROM_MEMORY, type Provenance, published } from '../quantity/provenance.ts';
import { nameOfForm } from './auxiliaries.ts';
import { heatLimitFor } from './dye-facts.ts';
import type { Content, FibreCode } from './fibre.ts';
import { markOfLabel } from './maker-label.ts';
import { type Dose, detergent, dose, type SideBath, soda } from './order-facts.ts';
import { depthOwfMilli, isAfterBath, type Recipe } from './recipe.ts';
import { VAT_SAYS } from './vat.ts';
import { COLD_C, type WorkKind } from './work-step.ts';

/** A bath after the dye bath; `adds` names the auxiliaries of the recipe that go into it. */
export interface AfterBath extends SideBath {
  readonly kind: Extract<WorkKind, 'rinse' | 'oxidise' | 'clear' | 'fix'>;
  readonly title: string;
  readonly adds: readonly string[];
}

const RINSE_MINUTES = 15;
/** From here loose disperse dye is worth clearing: the end of pale, 0.5 % owf on polyester. */
const CLEAR_FROM_OWF_MILLI = 500;
/** Fibres that hydrosulphite with caustic soda harms, or whose dye it destroys: nylon, dyed with acid dye (our rule). */
const NO_REDUCTION: readonly FibreCode[] = [
  'acetate',
  'triacetate',
  'wool',
  'silk',
  'elastane',
  'metallised',
  'cationic-polyester',
  'acrylic',
  'nylon',
];

const vinegar = (gPerLitre: number): Dose => ({
  ...dose('acetic-acid', 'vinegar', gPerLitre),
  form: 'vinegar-5',
});
const bare = (kind: AfterBath['kind'], title: string, side: SideBath): AfterBath => ({
  kind,
  title,
  ...side,
  adds: [],
});
const clear = (title: string, side: SideBath): AfterBath => bare('clear', title, side);
const rinse = (says: string, mark: Provenance, more: Partial<SideBath> = {}): AfterBath =>
  bare('rinse', 'Rinse', { says, minutes: RINSE_MINUTES, toC: COLD_C, doses: [], mark, ...more });

const PLAIN_RINSE = rinse('Warm first, then colder, until the water stays clear.', COMMON_PRACTICE);
const DROP_SALT = rinse('Cold first, twice, to bring the salt out; then warm. Hot rinses follow.', {
  basis: 'from memory',
  source: 'from memory: below 2 g/L of salt before the first hot rinse',
});
const COLD_RINSE = rinse(VAT_SAYS.rinse, COMMON_PRACTICE);

const REDUCTION = clear('Reduction clear', {
  toC: 75,
  minutes: 20,
  says:
    'The dissolved caustic soda first, then the hydrosulphite. Stay below 80 °C: hotter, dye comes out of the fibre too. ' +
    'It takes dye of azo type off the surface, other types less.',
  doses: [dose('hydrosulphite', 'sodium hydrosulphite', 2), dose('caustic-soda', 'caustic soda', 2)],
  mark: {
    basis: 'from memory',
    source:
      'doses from memory; 70 to 80 °C, 10 to 20 min: fersantekstil.com; organicdye.com has 60 °C, 15 to 20 min',
  },
});
const CARRIER_OFF = clear('Drive the carrier off', {
  toC: 80,
  minutes: 30,
  says: 'Soap with caustic soda, extraction on: what is left of a carrier smells, irritates the skin and costs light fastness.',
  doses: [detergent(2), dose('caustic-soda', 'caustic soda', 2)],
  mark: published('textilecoach.net, polyester laboratory manual'),
});
const NEUTRALISE = rinse('Rinse, then a little vinegar in the last water.', FROM_MEMORY, {
  doses: [vinegar(10)],
});

/** Where caustic soda would harm: twice with detergent. */
const DETERGENT_TWICE = clear('Wash off', {
  toC: 65,
  minutes: 20,
  says: 'Detergent, rinse, and once more. No reduction clear on this cloth.',
  doses: [detergent(1)],
  mark: COMMON_PRACTICE,
});
const MILD = clear('Wash off', {
  toC: 50,
  minutes: 10,
  says: 'Wash off with a mild detergent, then rinse.',
  doses: [detergent(1)],
  mark: COMMON_PRACTICE,
});
const WARM_WASH_OFF = clear('Wash off', {
  toC: 70,
  minutes: 15,
  says: 'Two rinses at this heat, until a damp white cloth pressed on it stays white. No hotter: it harms the other fibre.',
  doses: [detergent(0.5)],
  mark: { basis: 'from memory', source: 'from memory: silk and wool 85 °C at most' },
});
const SOAPING = clear('Soap', {
  toC: 95,
  minutes: 15,
  says:
    'Near the boil, once the salt is out, then two or three hot rinses until the last is nearly clear: hydrolysed (unfixed) dye does ' +
    'not hold on the cloth. A damp white cloth pressed on it stays white.',
  doses: [detergent(0.5)],
  mark: published(
    'thesmarttime.com: 10 min at 95 °C took out about 30 % more unfixed dye than at 75 °C, and detergent adds little',
  ),
});
const ACRYLIC_WASH = clear('Wash off', {
  toC: 50,
  minutes: 15,
  says: 'Non-ionic detergent with a little acid. Keep it open: what is folded hot stays creased.',
  doses: [detergent(0.5), vinegar(4)],
  mark: {
    basis: 'worked out',
    source:
      'a textbook excerpt on acrylic: non-ionic 0.5 % and acetic acid 0.5 to 1 % on the cloth; as g/L at 1:30',
  },
});

const OXIDISE = {
  toC: 60,
  minutes: 20,
  says: 'In a fresh bath, now that no hydrosulphite is left. Air does it too: hang it open for 10 to 15 minutes, turned once.',
  mark: published(
    'a student trial of vat oxidants: 2 g/L, 60 °C, 20 min; in air: textilelearner.blogspot.com',
  ),
} as const;
const VAT_SOAP = clear('Soap', {
  toC: 95,
  minutes: 20,
  says: 'Near the boil: the shade comes only now, so judge no swatch before it.',
  doses: [detergent(1.5), soda(1.5)],
  mark: {
    basis: 'from memory',
    source: 'from memory, near the boil: textilelearner.blogspot.com; others soap at 60 to 70 °C',
  },
});
const VAT_END = rinse(
  'Hot, then cold, a little vinegar in the last water.',
  {
    basis: 'worked out',
    source: 'a student trial of vat oxidants: acetic acid 1 mL/L; as vinegar',
  },
  { doses: [vinegar(20)] },
);

/** How each fixing agent is worked, in a bath of its own; its amount is that of the recipe. */
const FIXING = {
  syntan: {
    title: 'Fix with syntan',
    toC: 75,
    minutes: 20,
    says:
      'Once the shade is accepted: a fresh bath at pH 4 to 5. It dulls a little and lightens. No alkali after it, and hot alkaline washing takes it off ' +
      'again. Never with a cationic fixer in one bath.',
    doses: [vinegar(10)],
    mark: {
      basis: 'from memory',
      source: 'heat and minutes from memory; 2 to 4 % and pH 4 to 5: tradetextile.com, archive page 38365',
    },
  },
  fixer: {
    title: 'Fix with cationic fixer',
    toC: 40,
    minutes: 20,
    says:
      'Once the shade is accepted: a fresh bath at pH 6 to 7. Wet fastness rises, light fastness falls, and the hue shifts a little. What is fixed ' +
      'takes no more dye until the fixer is stripped.',
    doses: [],
    mark: {
      basis: 'from memory',
      source: 'heat and minutes from memory; what it does: Broadbent, p. 302',
    },
  },
} as const satisfies Record<string, SideBath & { readonly title: string }>;

/** Every bath that follows a recipe's dye bath on a cloth, in order, rinses among them. */
export function afterBaths(recipe: Recipe, content: Content): readonly AfterBath[] {
  const { dyeClass } = recipe;
  if (dyeClass === 'vat') return [COLD_RINSE, oxidising(recipe), VAT_SOAP, VAT_END];
  const rinsing = dyeClass === 'reactive' ? DROP_SALT : PLAIN_RINSE;
  const washes = washesByLabel(recipe, rinsing) ?? [rinsing, ...washesFor(recipe, content)];
  return [...washes, ...fixing(recipe)].map((each) => ({
    ...each,
    toC: Math.min(each.toC, heatLimitFor(content).limitC),
  }));
}

/** The wash-off of the label, after a rinse of ours where it begins with none; undefined where it says nothing of it. */
function washesByLabel({ label }: Recipe, rinsing: AfterBath): readonly AfterBath[] | undefined {
  if (!label || label.washes.length === 0) return undefined;
  const mark = markOfLabel(label);
  const washes = label.washes.map(({ says, toC, minutes, dose: given }): AfterBath => {
    const doses = given ? [{ ...given, name: nameOfForm(given.kind, given.form) }] : [];
    const kind = given ? 'clear' : 'rinse';
    return bare(kind, given ? 'Wash off' : 'Rinse', { says, toC, minutes, doses, mark });
  });
  return washes[0]?.kind === 'rinse' ? washes : [rinsing, ...washes];
}

function washesFor(recipe: Recipe, content: Content): readonly AfterBath[] {
  const { dyeClass, dyes } = recipe;
  const has = (...fibres: readonly FibreCode[]) => content.some(({ fibre }) => fibres.includes(fibre));
  const noReduction = has(...NO_REDUCTION);
  switch (dyeClass) {
    case 'reactive':
      if (has('acetate', 'metallised')) return [MILD];
      return [has('silk', 'wool', 'triacetate', 'elastane') ? WARM_WASH_OFF : SOAPING];
    case 'basic':
      if (!has('acrylic')) return [];
      // The metal of the yarn stands no acid.
      return [has('metallised') ? MILD : ACRYLIC_WASH];
    case 'disperse': {
      if (has('acetate', 'metallised') || !has('polyester')) return [MILD];
      if (noReduction) return [DETERGENT_TWICE];
      if (recipe.auxiliaries.some(({ kind }) => kind === 'carrier')) return [CARRIER_OFF, NEUTRALISE];
      return depthOwfMilli({ dyes }) > CLEAR_FROM_OWF_MILLI ? [REDUCTION, NEUTRALISE] : [DETERGENT_TWICE];
    }
    default:
      return [];
  }
}

function oxidising(recipe: Recipe): AfterBath {
  const own = recipe.auxiliaries.filter((each) => isAfterBath(each, recipe)).map(({ name }) => name);
  const doses = own.length > 0 ? [] : [dose('perborate', 'sodium perborate', 2)];
  return { kind: 'oxidise', title: 'Oxidise', ...OXIDISE, doses, adds: own };
}

function fixing(recipe: Recipe): readonly AfterBath[] {
  return (['syntan', 'fixer'] as const).flatMap((kind): readonly AfterBath[] => {
    const adds = recipe.auxiliaries.filter((each) => each.kind === kind).map(({ name }) => name);
    return adds.length === 0 ? [] : [{ kind: 'fix', ...FIXING[kind], adds }];
  });
}
