/**
 * What a cloth was given before it came: its state and its finishes, what a scour and a dye bath do to them, and what must
 * be told before the scour, because it cannot be undone after it.
 */

import {
  BROADBENT,
  COMMON_PRACTICE,
  FROM_MEMORY,
  type Provenance,
  published,
} from '../quantity/provenance.ts';
import type { Warning } from './dye-advice.ts';
import type { Content, FibreCode } from './fibre.ts';
import { detergent, type SideBath } from './order-facts.ts';

export const CLOTH_STATES = ['greige', 'prepared', 'heat-set'] as const;
export type ClothStateCode = (typeof CLOTH_STATES)[number];

export const FINISHES = ['flame-retardant', 'water-repellent', 'parchment', 'starched'] as const;
export type Finish = (typeof FINISHES)[number];

export const NYLON_TYPES = ['6', '66'] as const;
export type NylonType = (typeof NYLON_TYPES)[number];

/** What is known of a cloth beside its fibres; what is left out nobody has said. */
export interface ClothState {
  readonly state?: ClothStateCode | '';
  readonly finishes?: readonly Finish[];
  readonly nylon?: NylonType | '';
  readonly construction?: string;
}

export const STATE_NAMES: Readonly<Record<ClothStateCode, string>> = {
  greige: 'greige, as it left the loom',
  prepared: 'prepared for dyeing',
  'heat-set': 'heat-set',
};
export const FINISH_NAMES: Readonly<Record<Finish, string>> = {
  'flame-retardant': 'flame-retardant',
  'water-repellent': 'water-repellent',
  parchment: 'parchment (acid-stiffened)',
  starched: 'starched or sized',
};

/** By which words of a supplier a finish, a state and a kind of nylon are known. */
const WORDS: readonly (readonly [RegExp, (state: ClothState) => ClothState])[] = [
  [/flame|fire.?(retard|proof)|\bFR\b/i, (state) => withFinish(state, 'flame-retardant')],
  [/water.?(repellent|proof)|\bDWR\b/i, (state) => withFinish(state, 'water-repellent')],
  [/parchment/i, (state) => withFinish(state, 'parchment')],
  [/(?<!un|de)starch|\bsized\b/i, (state) => withFinish(state, 'starched')],
  [/gr[ea]y?ige|loomstate/i, (state) => ({ ...state, state: 'greige' })],
  [/prepared|\bPF[DP]\b/i, (state) => ({ ...state, state: 'prepared' })],
  [/heat.?set/i, (state) => ({ ...state, state: 'heat-set' })],
  [/\b(nylon|polyamide|PA)[ -]?6([.,]6|6)\b/i, (state) => ({ ...state, nylon: '66' })],
  [/\b(nylon|polyamide|PA)[ -]?6(?![.,]?6|\d)/i, (state) => ({ ...state, nylon: '6' })],
];

function withFinish(state: ClothState, finish: Finish): ClothState {
  const { finishes = [] } = state;
  return finishes.includes(finish) ? state : { ...state, finishes: [...finishes, finish] };
}

/** What the words of a supplier tell of a cloth: "stiffened, flame retardant, nylon 6.6". */
export function stateToldBy(words: string): ClothState {
  return WORDS.reduce<ClothState>((state, [known, told]) => (known.test(words) ? told(state) : state), {});
}

/** The state of a cloth as it was chosen, and beside that what its supplier's words tell. */
export function clothState(chosen: ClothState, words: string): ClothState {
  const told = stateToldBy(words);
  const finishes = [...new Set([...(chosen.finishes ?? []), ...(told.finishes ?? [])])];
  return {
    ...chosen,
    state: chosen.state || told.state || '',
    nylon: chosen.nylon || told.nylon || '',
    finishes,
  };
}

/** Several cloths in one bath: every finish of any, and the state that asks for the most work. */
export function stateTogether(states: readonly ClothState[]): ClothState {
  const found = (wanted: ClothStateCode) => states.some(({ state }) => state === wanted);
  const allPrepared = states.length > 0 && states.every(({ state }) => state === 'prepared');
  const nylons = new Set(states.map(({ nylon = '' }) => nylon));
  const [nylon = ''] = nylons.size === 1 ? nylons : [];
  return {
    state: found('greige') ? 'greige' : allPrepared ? 'prepared' : found('heat-set') ? 'heat-set' : '',
    finishes: FINISHES.filter((finish) => states.some(({ finishes = [] }) => finishes.includes(finish))),
    nylon,
    construction: states.map(({ construction = '' }) => construction).join(', '),
  };
}

/**
 * A cloth's state and finishes for a list, so that `stateToldBy` reads all of it back: the supplier's words, and what they
 * do not tell.
 */
export function wordsOfState(state: ClothState, words: string): string {
  const told = stateToldBy(words);
  const more = showClothState({
    state: told.state === state.state ? '' : (state.state ?? ''),
    finishes: (state.finishes ?? []).filter((finish) => !told.finishes?.includes(finish)),
    nylon: told.nylon === state.nylon ? '' : (state.nylon ?? ''),
  });
  return [words, more].filter((each) => each !== '').join(', ');
}

/** A cloth's state and finishes in a few words; '' where nothing is said. */
export function showClothState({ state = '', finishes = [], nylon = '' }: ClothState): string {
  return [
    ...(state === '' ? [] : [STATE_NAMES[state]]),
    ...finishes.map((finish) => FINISH_NAMES[finish]),
    ...(nylon === '' ? [] : [`nylon ${nylon}`]),
  ].join(', ');
}

interface Told {
  readonly text: string;
  readonly mark: Provenance;
}

const OF_FINISH: Readonly<Record<Finish, Told>> = {
  'flame-retardant': {
    text:
      'The flame proofing is lost: proofing with ammonium salts washes out, and no dyed cloth counts as proofed. It must be tested and done anew ' +
      'by whoever answers for it before it goes on a stage. Rinse it well first, and bring no chlorine bleach near it.',
    mark: published('MIT 21M.735, note on flame retarding; anew: common practice'),
  },
  'water-repellent': {
    text: 'A water-repellent finish keeps dye out: scour until a drop of water sinks in within 5 seconds, or do not dye it. The finish is lost with that.',
    mark: COMMON_PRACTICE,
  },
  parchment: {
    text:
      'Parchment finish, made with strong acid, stays through scour and dye bath, and takes dye unlike plain cotton: dye a swatch. Crushed when wet, ' +
      'its creases stay.',
    mark: published('a page on parchmentising (Mercer, 1850); uptake from memory'),
  },
  starched: {
    text: 'Starch and size wash out in the scour, and with them the stiffness: it comes back limp and is starched anew after dyeing.',
    mark: published('byebyebimari.com, on organdie with starch'),
  },
};

const OF_STATE: Readonly<Record<ClothStateCode, Told>> = {
  greige: {
    text: 'Greige cloth holds size, oil and dirt that keep dye out: scour it twice, and weigh it dry again, since amounts are on what it weighs then.',
    mark: COMMON_PRACTICE,
  },
  prepared: {
    text: 'It was bought prepared for dyeing: wet it out only. A drop of water that stays on it for 5 seconds says otherwise: then scour it.',
    mark: COMMON_PRACTICE,
  },
  'heat-set': {
    text:
      'Heat-setting changes how fast cloth takes dye: dry setting slows nylon, steam hastens it, so bolts that were set differently dye differently. ' +
      'The set lasts until it is passed: keep the cloth open when hot.',
    mark: published(`${BROADBENT}, p. 318; nuchemdyestuffs.blogspot.com, May 2011, heat setting`),
  },
};

/** What is told of a cloth before it is scoured, what is lost for good first. */
export function finishesFor(cloth: ClothState, content: Content): readonly Warning[] {
  const { state = '', finishes = [], nylon = '', construction = '' } = cloth;
  const has = (fibre: FibreCode) => content.some((share) => share.fibre === fibre);
  const told = (id: string, { text, mark }: Told): Warning => ({ id, text, source: mark.source });
  return [
    ...FINISHES.filter((finish) => finishes.includes(finish)).map((finish) =>
      told(`finish-${finish}`, OF_FINISH[finish]),
    ),
    ...(has('silk') && /organza/i.test(construction)
      ? [
          told('silk-gum', {
            text: 'Silk organza is stiff by its gum: hot soap or soda takes 15 to 25 % of its mass, and it goes limp. Wet it out cool, without soda.',
            mark: published('Đurašević and others, 2008; organza from memory'),
          }),
        ]
      : []),
    ...(state === '' ? [] : [told(`state-${state}`, OF_STATE[state])]),
    ...(has('nylon')
      ? [
          told(
            'nylon-type',
            nylon === ''
              ? {
                  text: 'Ask whether the nylon is 6 or 66: nylon 6 takes dye faster and deeper, and stands less heat. Write it down at the cloth.',
                  mark: FROM_MEMORY,
                }
              : {
                  text:
                    nylon === '6'
                      ? 'Nylon 6 takes dye faster and deeper than nylon 66: start cooler, heat slowly, never both in one bath. Press and set it below 180 °C.'
                      : 'Nylon 66 takes dye more slowly than nylon 6: a recipe made on the other comes out paler; never both in one bath.',
                  mark: {
                    basis: 'from memory',
                    source: 'from memory; setting 160 to 180 °C: nuchemdyestuffs.blogspot.com, May 2011',
                  },
                },
          ),
        ]
      : []),
  ];
}

/** What stands at the scour itself: what is lost by it. */
export function sayBeforeScour(told: readonly Warning[]): string {
  const lost = told.filter(({ id }) => id !== 'nylon-type' && id !== 'state-heat-set');
  return lost.length === 0 ? '' : `Before you begin: ${lost.map(({ text }) => text).join(' ')}`;
}

/** The scour of a cloth in its state: prepared cloth is wetted out, and silk organza keeps its gum. */
export function scourAfter(
  scour: SideBath,
  { state, construction = '' }: ClothState,
  content: Content,
): SideBath {
  const gummed = /organza/i.test(construction) && content.some(({ fibre }) => fibre === 'silk');
  if (state !== 'prepared' && !gummed) return scour;
  return {
    says: gummed
      ? 'Wet it out cool with a little detergent, lying open; no soap, no soda, no heat.'
      : 'Wet it out with a little detergent, then rinse.',
    toC: Math.min(scour.toC, gummed ? 30 : 40),
    minutes: 15,
    doses: [detergent(0.5)],
    mark: COMMON_PRACTICE,
  };
}
