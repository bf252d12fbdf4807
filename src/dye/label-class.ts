/**
 * Dyes, paints and baths that are worked by the maker's label: no figure of ours is offered for them, and the label's
 * dose, heat and time are typed in. What is ours is which fibre takes them, what a fibre stands of dry heat and steam,
 * and what else is checked of any recipe. Grades of the figures: published where a source is named, else our rule.
 */

import { COMMON_PRACTICE, FROM_MEMORY, type Provenance, published } from '../quantity/provenance.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import type { ChemicalGroup } from './chemical-group.ts';
import { type Content, type ContentProblem, capital, FIBRE_CODES, type FibreCode, fibreOf } from './fibre.ts';

export const LABEL_CLASSES = [
  'union',
  'cold-batch',
  'steamed',
  'pigment',
  'transfer',
  'discharge',
  'strip',
  'other-by-label',
] as const;

export type LabelClass = (typeof LABEL_CLASSES)[number];

export function isLabelClass(dyeClass: string): dyeClass is LabelClass {
  return LABEL_CLASSES.some((each) => each === dyeClass);
}

/** How a class gets onto the cloth: in a bath, padded on cold, painted or printed on, or pressed off paper. */
export type Applied = 'bath' | 'pad' | 'paint' | 'paper';

export const FIXINGS = ['steam', 'dry heat', 'press'] as const;
export type FixingHow = (typeof FIXINGS)[number];

/** What fixes a print, a paint or a transfer, as the label says it. */
export interface Fixing {
  readonly how: FixingHow;
  readonly temperatureC: number;
  readonly seconds: number;
}

interface ClassFacts {
  readonly name: string;
  readonly applied: Applied;
  /** what may fix it, and whether something must */
  readonly fixings: readonly FixingHow[];
  readonly mustBeFixed: boolean;
  readonly groups: readonly ChemicalGroup[];
  /** what was found in print, so that a label can be read with it; '' where nothing was */
  readonly found: string;
  readonly mark: Provenance;
}

const FACTS: Readonly<Record<LabelClass, ClassFacts>> = {
  union: {
    name: 'union dye for mixed fibres',
    applied: 'bath',
    fixings: [],
    mustBeFixed: false,
    groups: ['anionic'],
    found:
      'It is levelling acid dye for wool, silk and nylon with direct dye for cellulose; half of it is wasted on one fibre, and it bleeds. Packets hold much salt, and formulas change.',
    mark: published('Burch, all-purpose dye, pburch.net; a direct dye maker’s directions'),
  },
  'cold-batch': {
    name: 'cold pad-batch dye',
    applied: 'pad',
    fixings: [],
    mustBeFixed: false,
    groups: ['anionic', 'reactive-dye'],
    found:
      'Pick-up 60 to 70 % on cotton, 70 to 80 % on viscose; 20 to 30 °C, wrapped airtight for 6 to 24 hours, by the family of dye.',
    mark: published('jagson.com, a reactive card; RMIT thesis (Ratnapandian); scribd 105909582'),
  },
  steamed: {
    name: 'painted and steamed dye',
    applied: 'paint',
    fixings: ['steam', 'dry heat'],
    mustBeFixed: true,
    groups: ['anionic', 'reactive-dye'],
    found:
      'Reactive, in 1000 parts of paste: dye 10 to 80, urea 50 to 75, bicarbonate 25; for dry heat urea 150 to 200, bicarbonate 15, 150 °C for 5 minutes. Acid dye: open steam at 100 °C. Soda ash browns cloth in steam.',
    mark: published('bdfabric.com, printing; textiletrick, fixation; gsdye, steaming'),
  },
  pigment: {
    name: 'pigment or fabric paint with binder',
    applied: 'paint',
    fixings: ['dry heat', 'press'],
    mustBeFixed: false,
    groups: [],
    found: 'Cured at 150 °C for 4 to 5 minutes, in belts at 150 to 180 °C. It stiffens sheers.',
    mark: published('mytextilenotes, February 2013; textilefashionstudy; textiletrick, fixation'),
  },
  transfer: {
    name: 'sublimation transfer',
    applied: 'paper',
    fixings: ['press'],
    mustBeFixed: true,
    groups: [],
    found:
      '170 to 220 °C, 30 to 45 seconds; press firm and even, for which no figure was found. At least about 35 % polyester, and paler below all polyester.',
    mark: published('p2ric, sectors75bd; textileindonesia, transfer printing; metzen-germany'),
  },
  discharge: {
    name: 'discharge paste',
    applied: 'paint',
    fixings: ['steam', 'dry heat', 'press'],
    mustBeFixed: true,
    groups: [],
    found: '',
    mark: COMMON_PRACTICE,
  },
  strip: {
    name: 'stripping bath',
    applied: 'bath',
    fixings: [],
    mustBeFixed: false,
    groups: [],
    found: '',
    mark: COMMON_PRACTICE,
  },
  'other-by-label': {
    name: 'another dye, by its label',
    applied: 'bath',
    fixings: ['steam', 'dry heat', 'press'],
    mustBeFixed: false,
    groups: [],
    found: '',
    mark: COMMON_PRACTICE,
  },
};

export const LABEL_CLASS_NAMES: Readonly<Record<LabelClass, string>> = {
  union: FACTS.union.name,
  'cold-batch': FACTS['cold-batch'].name,
  steamed: FACTS.steamed.name,
  pigment: FACTS.pigment.name,
  transfer: FACTS.transfer.name,
  discharge: FACTS.discharge.name,
  strip: FACTS.strip.name,
  'other-by-label': FACTS['other-by-label'].name,
};

export function labelClassFacts(labelClass: LabelClass): ClassFacts {
  return FACTS[labelClass];
}

/** Whether the cloth lies in liquor: not where it is padded, painted or pressed off paper. */
export function liesInBath(dyeClass: string): boolean {
  return !isLabelClass(dyeClass) || FACTS[dyeClass].applied === 'bath';
}

const CELLULOSIC: readonly FibreCode[] = ['cotton', 'linen', 'hemp', 'viscose', 'modal', 'lyocell'];

interface LabelTake {
  readonly take: 'dyes' | 'stains' | 'no';
  readonly note?: string;
}

const NO: LabelTake = { take: 'no' };
const YES: LabelTake = { take: 'dyes' };
const only = (note: string): LabelTake => ({ take: 'dyes', note });
const same = (fibres: readonly FibreCode[], take: LabelTake) =>
  Object.fromEntries(fibres.map((fibre) => [fibre, take]));

/** How each fibre takes a class; a fibre that is not named does not take it. */
const TAKES: Readonly<Record<LabelClass, Partial<Record<FibreCode, LabelTake>>>> = {
  union: {
    ...same([...CELLULOSIC, 'wool', 'silk', 'nylon'], YES),
    ...same(['polyester', 'cationic-polyester'], only('only the kinds made for polyester, by their label')),
    ...same(['acetate', 'triacetate'], only('only where its label still names it, since formulas change')),
    elastane: { take: 'stains' },
  },
  'cold-batch': same(CELLULOSIC, YES),
  steamed: same([...CELLULOSIC, 'silk', 'wool', 'nylon'], YES),
  pigment: {
    ...same([...CELLULOSIC, 'silk', 'wool', 'polyester', 'cationic-polyester'], YES),
    ...same(
      ['nylon', 'acetate', 'triacetate', 'elastane', 'acrylic'],
      only('it scorches: lower heat for longer, by the label'),
    ),
  },
  transfer: {
    ...same(['polyester', 'cationic-polyester'], YES),
    ...same(
      ['nylon', 'acetate', 'triacetate', 'elastane'],
      only('only after a test: heat glazes and shrinks it'),
    ),
  },
  discharge: {
    ...same([...CELLULOSIC, 'silk'], YES),
    ...same(['wool', 'nylon'], only('only where its label names it')),
  },
  strip: {
    ...same([...CELLULOSIC, 'silk', 'wool', 'nylon'], YES),
    ...same(
      ['polyester', 'cationic-polyester', 'triacetate', 'acrylic', 'elastane'],
      only('no figure was found for it: by the label of the remover'),
    ),
  },
  'other-by-label': same(
    FIBRE_CODES.filter((fibre) => fibre !== 'glass'),
    only('only where its label names it'),
  ),
};

/** How a fibre takes a class that is worked by its label (common practice; a stripping bath “takes” where it may be used). */
export function takesByLabel(fibre: FibreCode, labelClass: LabelClass) {
  const { take, note } = TAKES[labelClass][fibre] ?? NO;
  return {
    take,
    ...(note === undefined ? {} : { note }),
    special: note !== undefined,
    mark: COMMON_PRACTICE,
  };
}

/** What a fibre stands of dry heat, in °C: warned of above the first, refused above the second; null: none at all. */
interface DryHeat {
  readonly warnC: number;
  readonly neverC: number;
  readonly mark: Provenance;
}

const IRON: Provenance = {
  basis: 'from memory',
  source: 'from memory, ISO 3758: one dot 110, two dots 150, three dots 200 °C',
};
const SETTING = published('nuchemdyestuffs.blogspot.com, May 2011, heat setting; 110 and 150 °C: our rule');

const DRY_HEAT: Readonly<Record<FibreCode, DryHeat | null>> = {
  cotton: { warnC: 200, neverC: 220, mark: IRON },
  linen: { warnC: 200, neverC: 220, mark: IRON },
  hemp: { warnC: 200, neverC: 220, mark: IRON },
  viscose: { warnC: 150, neverC: 200, mark: IRON },
  modal: { warnC: 150, neverC: 200, mark: IRON },
  lyocell: { warnC: 150, neverC: 200, mark: IRON },
  silk: { warnC: 150, neverC: 170, mark: IRON },
  wool: { warnC: 150, neverC: 170, mark: IRON },
  nylon: { warnC: 110, neverC: 180, mark: SETTING },
  polyester: { warnC: 150, neverC: 220, mark: SETTING },
  'cationic-polyester': { warnC: 150, neverC: 180, mark: SETTING },
  acetate: { warnC: 110, neverC: 150, mark: IRON },
  triacetate: { warnC: 150, neverC: 180, mark: SETTING },
  acrylic: { warnC: 110, neverC: 150, mark: SETTING },
  elastane: { warnC: 150, neverC: 200, mark: SETTING },
  olefin: { warnC: 90, neverC: 110, mark: FROM_MEMORY },
  glass: { warnC: 200, neverC: 220, mark: FROM_MEMORY },
  metallised: null,
};

/** Fibres that open steam harms (our rule, from what they stand of a hot bath). */
const NO_STEAM: readonly FibreCode[] = ['acetate', 'metallised', 'olefin'];

/** Limits of what a label may ask of a fixing: guards against slips of the pen (common practice). */
export const FIXING_LIMITS = { lowestC: 20, highestC: 230, longestSeconds: 6 * 3600 } as const;

/** A caution of ours on a fixing, with its source. */
export interface FixingWarning {
  readonly id: string;
  readonly text: string;
  readonly source: string;
}

/**
 * What is wrong with the fixing of a class for a cloth, at the fields `fixing`, `fixing.temperatureC` and
 * `fixing.seconds`, and what to beware of. A cloth is held to its most delicate fibre, whatever its share.
 */
export function checkFixing(
  labelClass: LabelClass,
  fixing: Fixing | undefined,
  content: Content,
): { readonly problems: readonly ContentProblem[]; readonly warnings: readonly FixingWarning[] } {
  const { fixings, mustBeFixed, name } = FACTS[labelClass];
  if (!fixing) {
    const ways = fixings.join(' or ');
    const message = `Say how it is fixed: ${capital(name)} needs ${ways}, at the heat and for the time of its label.`;
    return { problems: mustBeFixed ? [{ field: 'fixing', message }] : [], warnings: [] };
  }
  if (!fixings.includes(fixing.how)) {
    const message = `${capital(name)} is not fixed by ${fixing.how}.`;
    return { problems: [{ field: 'fixing', message }], warnings: [] };
  }
  const problems = outOfRange(fixing);
  if (problems.length > 0) return { problems, warnings: [] };
  return fixing.how === 'steam' ? checkSteam(content) : checkDryHeat(fixing, content);
}

function outOfRange({ temperatureC, seconds }: Fixing): ContentProblem[] {
  const { lowestC, highestC, longestSeconds } = FIXING_LIMITS;
  return [
    ...(temperatureC >= lowestC && temperatureC <= highestC
      ? []
      : [
          {
            field: 'fixing.temperatureC',
            message: `Give the heat of the label, from ${lowestC} to ${highestC} °C.`,
          },
        ]),
    ...(Number.isInteger(seconds) && seconds >= 1 && seconds <= longestSeconds
      ? []
      : [{ field: 'fixing.seconds', message: 'Give the time of the label, from 1 second to 6 hours.' }]),
  ];
}

function checkSteam(content: Content) {
  const harmed = content.filter(({ fibre }) => NO_STEAM.includes(fibre));
  const problems = harmed.map(({ fibre }) => ({
    field: 'fixing',
    message: `${capital(fibreOf(fibre).name)} does not stand steam of 100 °C (our rule). Take a paint that is fixed cooler.`,
  }));
  return { problems, warnings: [] };
}

function checkDryHeat({ temperatureC, how }: Fixing, content: Content) {
  const problems: ContentProblem[] = [];
  const warnings: FixingWarning[] = [];
  for (const { fibre } of content) {
    const name = capital(fibreOf(fibre).name);
    const heat = DRY_HEAT[fibre];
    if (heat === null || temperatureC > heat.neverC) {
      const most = heat === null ? 'no dry heat at all' : `${heat.neverC} °C of dry heat at most`;
      problems.push({
        field: 'fixing.temperatureC',
        message: `${name} stands ${most} (our rule). Lower heat for longer, where the label gives it.`,
      });
    } else if (temperatureC > heat.warnC) {
      const glazes = how === 'press' ? ' A press glazes pile and leaves moiré on organza.' : '';
      const text = `${name} above ${heat.warnC} °C may scorch, yellow, shrink or glaze: try a piece of this cloth first.${glazes}`;
      warnings.push({ id: `dry-heat-${fibre}`, text, source: heat.mark.source });
    }
  }
  return { problems, warnings };
}

/** The share of polyester that a transfer needs, in hundredths of a percent (metzen-germany). */
export const TRANSFER_LEAST_BP = 3500;

/** What to beware of with a class on a cloth, whatever its fixing. */
export function labelWarnings(labelClass: LabelClass, content: Content): FixingWarning[] {
  const { found, mark, name } = FACTS[labelClass];
  const warnings: FixingWarning[] = [
    {
      id: 'label-only',
      text: `${capital(name)} is worked by ${labelClass === 'strip' ? 'published figures or its label' : 'its label'}: no figure here is ours. ${found}`.trim(),
      source: found === '' ? 'our rule' : mark.source,
    },
  ];
  const polyesterBp = content
    .filter(({ fibre }) => fibre === 'polyester' || fibre === 'cationic-polyester')
    .reduce((sum, { shareBp }) => sum + shareBp, 0);
  if (labelClass === 'transfer' && polyesterBp < 10_000) {
    const little = polyesterBp < TRANSFER_LEAST_BP ? 'hardly shows' : 'comes out paler';
    const text = `Only polyester takes a transfer: on ${polyesterBp / 100} % polyester it ${little}.`;
    warnings.push({ id: 'transfer-share', text, source: 'metzen-germany: about 35 % polyester at least' });
  }
  return warnings;
}

const TIME =
  /^(?:(\d+) ?h(?:ours?)?)? ?(?:(\d+) ?m(?:in(?:utes?)?)?)? ?(?:(\d+) ?(?:s(?:ec(?:onds?)?)?)?)?$/i;

/** A time as a label gives it, in seconds: "30 s", "4 min 30 s", "1 h", "4:30" for minutes; a bare number is seconds. */
export function readSeconds(typed: string): Reading<number> {
  const text = typed.trim();
  const clock = /^(\d+):([0-5]\d)$/.exec(text);
  const found = clock ? ['', '0', clock[1], clock[2]] : TIME.exec(text);
  if (!found || text === '') return refused('Enter a time such as 30 s or 4 min 30 s.');
  const [, hours = '0', minutes = '0', seconds = '0'] = found;
  const value = Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
  if (value < 1 || value > FIXING_LIMITS.longestSeconds)
    return refused('Enter a time from 1 second to 6 hours, such as 30 s or 4 min 30 s.');
  return { ok: true, value, echo: `${value} s`, exact: true };
}
