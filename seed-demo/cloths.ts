import { clothForm } from '../server/shelf/cloth/form.ts';
import { addCloth } from '../server/shelf/cloth/store.ts';
import type { Hand } from './hand.ts';

/** The cloths. Masses per area are those of real cloths of each kind; articles are made up. */
export function describeCloths(hand: Hand): void {
  for (const [at, cloth] of CLOTHS.entries())
    describeCloth(hand, hand.before(46, `10:${10 + at * 4}`), cloth);
}

interface Cloth {
  readonly name: string;
  readonly supplier: string;
  /** shares in percent, by fibre */
  readonly fibres: { readonly [fibre: string]: string | undefined };
  /** other fields of its form, as they are typed */
  readonly [field: string]: unknown;
}

export function describeCloth(hand: Hand, when: string, { supplier, fibres, ...cloth }: Cloth): void {
  const asked = {
    finish: '',
    ...cloth,
    supplier_id: hand.id('supplier', supplier),
    fibres: Object.entries(fibres).map(([fibre, share]) => ({ fibre, share })),
  };
  hand.fillsIn(when, 'Oda', asked, {
    schema: ({ units }) => clothForm(hand.book, units),
    write: (tx, form, { units }) => addCloth(tx, form, units),
  });
}

const CUSTOMS = (ruling: string) => `Mass as US Customs measured a cloth of this kind (ruling ${ruling}).`;
const WEIGHED = 'Mass from a weighed metre.';

const CLOTHS = [
  {
    name: 'Nylon organza 150',
    construction: 'organza',
    fibres: { nylon: '100' },
    width: '150',
    usable_width: '147',
    mass_per_area: '30',
    state: 'heat-set',
    nylon: '66',
    supplier: 'Copperlane Sheers',
    article: 'invented 4130',
    note: CUSTOMS('NY B89349'),
  },
  {
    name: 'Polyester organza 150',
    construction: 'organza',
    fibres: { polyester: '100' },
    width: '150',
    usable_width: '147',
    mass_per_area: '32',
    finish: 'crisp',
    supplier: 'Copperlane Sheers',
    article: 'invented 4155',
    note: WEIGHED,
  },
  {
    name: 'Polyester tulle 137',
    construction: 'tulle',
    fibres: { polyester: '100' },
    width: '54 in',
    usable_width: '53 in',
    mass_per_area: '11',
    ply_limit: '4',
    fold_limit: '2',
    finish: 'soft',
    supplier: 'Copperlane Sheers',
    article: 'invented 2054',
    note: CUSTOMS('NY N206536'),
  },
  {
    name: 'Nylon net 140',
    construction: 'net',
    fibres: { nylon: '100' },
    width: '140',
    usable_width: '138',
    mass_per_area: '28',
    finish: 'stiff',
    nylon: '6',
    supplier: 'Marram Net and Lawn',
    article: 'invented N7',
    note: WEIGHED,
  },
  {
    name: 'Cotton lawn 150',
    construction: 'lawn',
    fibres: { cotton: '100' },
    width: '150',
    usable_width: '148',
    mass_per_area: '78',
    state: 'prepared',
    supplier: 'Driftline Mill',
    article: 'invented L150',
    note: CUSTOMS('NY R04314'),
  },
  {
    name: 'Viscose chiffon 140',
    construction: 'chiffon',
    fibres: { viscose: '100' },
    width: '140',
    usable_width: '137',
    mass_per_area: '60',
    supplier: 'Driftline Mill',
    article: 'invented C60',
    note: `${WEIGHED} Weak when wet: lift it supported.`,
  },
  {
    name: 'Cotton organdie 137',
    construction: 'organdie',
    fibres: { cotton: '100' },
    width: '137',
    usable_width: '134',
    mass_per_area: '50',
    finish: 'permanent',
    parchment: 'yes',
    supplier: 'Driftline Mill',
    article: 'invented O50',
    note: CUSTOMS('NY J84697'),
  },
  {
    name: 'Voile, polyester and cotton',
    construction: 'voile',
    fibres: { polyester: '65', cotton: '35' },
    width: '114',
    usable_width: '111',
    mass_per_area: '62',
    supplier: 'Marram Net and Lawn',
    article: 'invented V2',
    note: WEIGHED,
  },
];
