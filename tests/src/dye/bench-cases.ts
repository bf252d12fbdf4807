// Long because it is one table: some seventy cases, each with its source.
import type { AuxiliaryKind } from '../../../src/dye/auxiliaries.ts';
import type { ClothState } from '../../../src/dye/cloth-finish.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { FibreCode } from '../../../src/dye/fibre.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';

/** An auxiliary as kind, form and g/L of bath. */
type Put = readonly [kind: AuxiliaryKind, form: string, gPerLitre: number];

/** A cloth and a dyeing of it, with what the references say of it. */
export interface BenchCase {
  readonly cloth: Partial<Record<FibreCode, number>>;
  readonly dye: DyeClass;
  /** % of dye on the cloth; 1 where left out */
  readonly owf?: number;
  readonly method?: string;
  /** what goes in instead of what is offered */
  readonly puts?: readonly Put[];
  /** what goes in beside what is offered */
  readonly adds?: readonly Put[];
  readonly change?: Partial<Recipe>;
  readonly state?: ClothState;
  readonly verdict: 'taken' | 'refused';
  /** in what is refused or warned of */
  readonly told?: RegExp;
  /** the dyeings of the cloth in order */
  readonly stages?: readonly DyeClass[];
  /** in the order of work: titles and what they say, one after the other */
  readonly work?: RegExp;
  /** in no step of it */
  readonly never?: RegExp;
  readonly source: string;
}

const SODA: Put = ['soda-ash', 'anhydrous', 10];
const VINEGAR: Put = ['acetic-acid', 'vinegar-5', 20];
const BROADBENT = 'Broadbent, Basic Principles of Textile Coloration, SDC 2001';
const GRID = 'grid of fibre and dye class, common practice';
const OUR_RULE = 'our rule';

/** One fibre: every class that is in question for it. Expected answers are those of the sources, not of the program. */
const ONE_FIBRE: readonly BenchCase[] = [
  {
    cloth: { cotton: 100 },
    dye: 'reactive',
    verdict: 'taken',
    work: /salt.*soda ash.*Rinse.*Cold first.*Soap at 95 °C/s,
    source: 'fibres2fabrics.blogspot.com, March 2011; thesmarttime.com',
  },
  {
    cloth: { cotton: 100 },
    dye: 'direct',
    owf: 4,
    verdict: 'taken',
    work: /Rinse.*Fix with cationic fixer at 40 °C.*light fastness falls/s,
    source: `${BROADBENT}, p. 302; figures from memory`,
  },
  {
    cloth: { cotton: 100 },
    dye: 'direct',
    owf: 1,
    verdict: 'taken',
    never: /fixer/,
    source: 'offered by depth: our rule',
  },
  {
    cloth: { cotton: 100 },
    dye: 'vat',
    verdict: 'taken',
    work: /Paste the dye.*stock vat at 60 °C.*Blank bath.*Rinse.*Oxidise at 60 °C.*Soap at 95 °C/s,
    source: `${BROADBENT}, p. 367`,
  },
  {
    cloth: { cotton: 100 },
    dye: 'acid-levelling',
    puts: [VINEGAR],
    verdict: 'refused',
    told: /reactive dye or direct dye does/,
    source: GRID,
  },
  {
    cloth: { cotton: 100 },
    dye: 'disperse',
    puts: [],
    verdict: 'refused',
    told: /only stained/,
    source: GRID,
  },
  {
    cloth: { cotton: 100 },
    dye: 'basic',
    puts: [],
    verdict: 'refused',
    told: /mordant/,
    source: 'Beech, The Dyeing of Cotton Fabrics, about 1901',
  },
  { cloth: { linen: 100 }, dye: 'reactive', verdict: 'taken', source: GRID },
  {
    cloth: { viscose: 100 },
    dye: 'vat',
    method: 'warm (IW)',
    verdict: 'taken',
    work: /stock vat at 50 °C.*salt/s,
    source: `${BROADBENT}, p. 367`,
  },
  {
    cloth: { viscose: 100 },
    dye: 'vat',
    puts: [
      ['caustic-soda', 'as-sold', 10.5],
      ['hydrosulphite', 'as-sold', 6],
    ],
    verdict: 'refused',
    told: /8 g\/L in a vat/,
    source: `${OUR_RULE}: 10 g/L; a pad-batch card on viscose`,
  },
  { cloth: { lyocell: 100 }, dye: 'reactive', verdict: 'taken', told: /fibrillates/, source: 'Eibl 1996' },
  {
    cloth: { silk: 100 },
    dye: 'acid-levelling',
    verdict: 'taken',
    source: 'textilelearner.blogspot.com, January 2012',
  },
  {
    cloth: { silk: 100 },
    dye: 'acid-levelling',
    change: { temperatureC: 98 },
    verdict: 'refused',
    told: /Silk is dyed at 85 °C at most/,
    source: 'textilelearner.blogspot.com, January 2012',
  },
  {
    cloth: { silk: 100 },
    dye: 'acid-levelling',
    adds: [['sulphuric-acid', 'as-sold', 0.5]],
    verdict: 'refused',
    told: /mineral acid/,
    source: 'textilelearner.blogspot.com, January 2012',
  },
  {
    cloth: { silk: 100 },
    dye: 'vat',
    puts: [
      ['caustic-soda', 'as-sold', 5],
      ['hydrosulphite', 'as-sold', 5],
    ],
    verdict: 'refused',
    told: /label/,
    source: 'textileengg.blogspot.com, November 2015',
  },
  { cloth: { silk: 100 }, dye: 'disperse', puts: [], verdict: 'refused', told: /only stained/, source: GRID },
  { cloth: { wool: 100 }, dye: 'acid-levelling', verdict: 'taken', source: `${BROADBENT}, p. 246` },
  {
    cloth: { wool: 100 },
    dye: 'acid-milling',
    verdict: 'taken',
    adds: [['glauber-salt', 'decahydrate', 3]],
    told: /No Glauber's/,
    source: `${BROADBENT}, p. 246`,
  },
  {
    cloth: { wool: 100 },
    dye: 'reactive',
    puts: [SODA],
    change: { temperatureC: 60 },
    verdict: 'refused',
    told: /hot alkali dissolves it/,
    source: 'Beech, The Dyeing of Woollen Fabrics, 1902',
  },
  {
    cloth: { wool: 100 },
    dye: 'vat',
    puts: [
      ['caustic-soda', 'as-sold', 5],
      ['hydrosulphite', 'as-sold', 5],
    ],
    verdict: 'refused',
    told: /caustic soda.*dissolves/s,
    source: `${BROADBENT}, p. 413`,
  },
  { cloth: { wool: 100 }, dye: 'direct', puts: [], verdict: 'refused', told: /only stained/, source: GRID },
  {
    cloth: { nylon: 100 },
    dye: 'acid-levelling',
    owf: 2,
    verdict: 'taken',
    work: /Rinse.*Fix with syntan at 75 °C/s,
    source: 'tradetextile.com, archive page 38365',
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-levelling',
    owf: 0.3,
    verdict: 'taken',
    never: /syntan/,
    source: 'offered by depth: our rule',
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-milling',
    verdict: 'taken',
    work: /Heat to 80 °C at 0.5.*Lid off/s,
    never: /Glauber/,
    source: `${BROADBENT}, p. 246; ramp from memory`,
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-metal-complex',
    verdict: 'taken',
    source: 'fibre2fabrics.in, April 2020',
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-metal-complex',
    change: { method: '1:1, strong acid' },
    verdict: 'refused',
    told: /1:2 metal-complex dye, near neutral/,
    source: 'fibre2fabrics.in, April 2020',
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-levelling',
    adds: [['hydrosulphite', 'as-sold', 2]],
    verdict: 'refused',
    told: /sulphur dioxide/,
    source: 'International Chemical Safety Card 1717',
  },
  {
    cloth: { nylon: 100 },
    dye: 'disperse',
    owf: 0.3,
    verdict: 'taken',
    work: /Disperse the dye.*Wash off at 50 °C/s,
    told: /pale shades only/,
    source: `${BROADBENT}, p. 318`,
  },
  {
    cloth: { nylon: 100 },
    dye: 'reactive',
    puts: [SODA],
    verdict: 'refused',
    told: /only stained/,
    source: GRID,
  },
  {
    cloth: { nylon: 100 },
    dye: 'vat',
    puts: [
      ['caustic-soda', 'as-sold', 5],
      ['hydrosulphite', 'as-sold', 5],
    ],
    verdict: 'refused',
    told: /label.*acid leuco/s,
    source: 'Baig, Autex Research Journal 10(1), 2010',
  },
  {
    cloth: { polyester: 100 },
    dye: 'disperse',
    owf: 0.4,
    verdict: 'taken',
    work: /Disperse the dye.*Shake the dispersion/s,
    never: /hydrosulphite/,
    source: 'depth at the boil: our rule',
  },
  {
    cloth: { polyester: 100 },
    dye: 'disperse',
    owf: 2,
    verdict: 'refused',
    told: /0.5 % of dye at most, a tint \(our rule\)/,
    source: OUR_RULE,
  },
  {
    cloth: { polyester: 100 },
    dye: 'disperse',
    owf: 1.5,
    adds: [['carrier', 'as-sold', 3]],
    verdict: 'taken',
    work: /Drive the carrier off at 80 °C.*vinegar/s,
    source: 'textilecoach.net, polyester laboratory manual',
  },
  {
    cloth: { polyester: 100 },
    dye: 'disperse',
    owf: 0.4,
    change: { temperatureC: 130 },
    verdict: 'refused',
    told: /commission dyer/,
    source: 'ufv.arcabc.ca 4872: 15 psi steam is 121 °C',
  },
  {
    cloth: { polyester: 100 },
    dye: 'acid-levelling',
    puts: [VINEGAR],
    verdict: 'refused',
    told: /disperse dye does/,
    source: GRID,
  },
  {
    cloth: { 'cationic-polyester': 100 },
    dye: 'basic',
    verdict: 'taken',
    source: 'Hilton 2011, dyeingworld1.blogspot.com',
  },
  {
    cloth: { acetate: 100 },
    dye: 'disperse',
    verdict: 'taken',
    work: /Set the bath at 40 °C.*Hold 80 °C.*Wash off at 50 °C/s,
    never: /soda|hydrosulphite/,
    source: 'from memory; 85 °C at most: dyes4dyeing.blogspot.com',
  },
  {
    cloth: { acetate: 100 },
    dye: 'disperse',
    adds: [SODA],
    verdict: 'refused',
    told: /soda takes its surface off/,
    source: `${BROADBENT}, p. 103`,
  },
  {
    cloth: { acetate: 100 },
    dye: 'disperse',
    change: { temperatureC: 98 },
    verdict: 'refused',
    told: /Acetate is dyed at 85 °C at most/,
    source: 'dyes4dyeing.blogspot.com, July 2012',
  },
  {
    cloth: { triacetate: 100 },
    dye: 'disperse',
    verdict: 'taken',
    never: /hydrosulphite/,
    source: 'zero-emissions.at, 2013',
  },
  {
    cloth: { acrylic: 100 },
    dye: 'basic',
    verdict: 'taken',
    work: /Heat to 85 °C at 0.4.*Wait at 85 °C.*Cool to 50 °C/s,
    source: `${BROADBENT}, p. 394; xingwuchemical.com`,
  },
  {
    cloth: { acrylic: 100 },
    dye: 'basic',
    adds: [['levelling-agent', 'as-sold', 0.5]],
    verdict: 'refused',
    told: /deposit that stains/,
    source: 'Shore, Blends Dyeing, SDC 1998, section 4.3',
  },
  {
    cloth: { acrylic: 100 },
    dye: 'acid-levelling',
    puts: [VINEGAR],
    verdict: 'refused',
    told: /basic dye/,
    source: GRID,
  },
  {
    cloth: { elastane: 100 },
    dye: 'acid-levelling',
    puts: [VINEGAR],
    verdict: 'refused',
    told: /only stained/,
    source: GRID,
  },
  {
    cloth: { olefin: 100 },
    dye: 'disperse',
    puts: [],
    verdict: 'refused',
    told: /buy it in the shade/,
    source: 'Textile World, September/October 2006',
  },
  {
    cloth: { glass: 100 },
    dye: 'reactive',
    puts: [],
    verdict: 'refused',
    told: /no dye bath colours it/,
    source: GRID,
  },
  {
    cloth: { metallised: 100 },
    dye: 'disperse',
    puts: [],
    verdict: 'refused',
    told: /the film may tint/,
    source: 'no source was found',
  },
];

const BLENDS: readonly BenchCase[] = [
  {
    cloth: { nylon: 60, cotton: 40 },
    dye: 'reactive',
    change: { pHFrom: 10, pHTo: 11 },
    verdict: 'taken',
    stages: ['reactive', 'acid-levelling'],
    told: /dyeing 1 of 2.*boiling soap and alkali would strip acid dye/,
    source: 'organicdye.com, nylon with cellulose by reactive dye',
  },
  {
    cloth: { nylon: 60, cotton: 40 },
    dye: 'acid-levelling',
    verdict: 'taken',
    stages: ['reactive', 'acid-levelling'],
    told: /dyeing 2 of 2.*Before it: reactive dye/,
    source: 'organicdye.com, nylon with cellulose by reactive dye',
  },
  {
    cloth: { polyester: 65, cotton: 35 },
    dye: 'disperse',
    owf: 0.4,
    verdict: 'taken',
    stages: ['disperse', 'reactive'],
    told: /disperse dye needs acid and heat/,
    source: `${BROADBENT}, pp. 419–421`,
  },
  {
    cloth: { cotton: 80, wool: 20 },
    dye: 'reactive',
    puts: [SODA],
    verdict: 'refused',
    told: /Wool: hot alkali.*wool-blocking agent/,
    stages: ['acid-milling', 'direct'],
    source: `${BROADBENT}, p. 413; project0781.com`,
  },
  {
    cloth: { cotton: 80, wool: 20 },
    dye: 'vat',
    verdict: 'refused',
    told: /Wool: caustic soda dissolves it/,
    source: `${BROADBENT}, p. 413`,
  },
  {
    cloth: { cotton: 60, silk: 40 },
    dye: 'reactive',
    puts: [SODA],
    verdict: 'refused',
    told: /Silk: hot alkali.*two tones/,
    stages: ['reactive'],
    source: 'textileengg.blogspot.com, November 2015; common practice',
  },
  {
    cloth: { viscose: 55, acetate: 45 },
    dye: 'reactive',
    puts: [SODA],
    verdict: 'refused',
    told: /Acetate: .*neutral bath of disperse and direct dye/,
    stages: ['disperse', 'direct'],
    source: `${BROADBENT}, p. 103; common practice`,
  },
  {
    cloth: { wool: 70, nylon: 30 },
    dye: 'acid-levelling',
    verdict: 'taken',
    stages: ['acid-levelling'],
    source: 'organicdye.com, wool with nylon',
  },
  {
    cloth: { polyester: 55, wool: 45 },
    dye: 'disperse',
    owf: 0.4,
    verdict: 'taken',
    stages: ['disperse', 'acid-levelling'],
    never: /caustic|hydrosulphite/,
    source: `${BROADBENT}, p. 423`,
  },
  {
    cloth: { nylon: 50, polyester: 50 },
    dye: 'disperse',
    owf: 0.4,
    verdict: 'taken',
    stages: ['disperse', 'acid-levelling'],
    never: /hydrosulphite/,
    told: /nylon loads first/,
    source: 'Fibers and Polymers 7(2), 2006',
  },
  {
    cloth: { polyester: 70, acrylic: 30 },
    dye: 'basic',
    verdict: 'taken',
    stages: ['disperse', 'basic'],
    source: 'organicdye.com, polyester with acrylic',
  },
  {
    cloth: { nylon: 85, elastane: 15 },
    dye: 'acid-levelling',
    verdict: 'taken',
    stages: ['acid-levelling'],
    told: /Elastane: it tires near the boil/,
    source: 'organicdye.com, reduction scour of polyester with elastane',
  },
  {
    cloth: { cotton: 95, elastane: 5 },
    dye: 'vat',
    verdict: 'refused',
    told: /Elastane: hot caustic soda/,
    source: 'cxiiapparel.com, elastane',
  },
  {
    cloth: { polyester: 90, elastane: 10 },
    dye: 'disperse',
    owf: 0.4,
    verdict: 'taken',
    never: /hydrosulphite|caustic/,
    source: 'our rule: detergent',
  },
  {
    cloth: { nylon: 95, metallised: 5 },
    dye: 'acid-levelling',
    change: { temperatureC: 98 },
    verdict: 'refused',
    told: /Metallised film yarn is dyed at 60 °C at most/,
    source: 'no source was found; our rule',
  },
  {
    cloth: { nylon: 40, polyester: 40, cotton: 20 },
    dye: 'reactive',
    change: { pHFrom: 10, pHTo: 11 },
    verdict: 'taken',
    stages: ['disperse', 'reactive', 'acid-levelling'],
    told: /dyeing 2 of 3/,
    source: 'the orders of each two fibres',
  },
  {
    cloth: { cotton: 40, wool: 30, polyester: 30 },
    dye: 'disperse',
    owf: 0.4,
    verdict: 'taken',
    stages: ['disperse', 'acid-milling', 'direct'],
    never: /caustic|hydrosulphite/,
    source: `${BROADBENT}, pp. 413 and 423`,
  },
  {
    cloth: { nylon: 80, elastane: 15, metallised: 5 },
    dye: 'acid-levelling',
    change: { temperatureC: 98 },
    verdict: 'refused',
    told: /Metallised/,
    stages: ['acid-levelling'],
    source: 'our rule: the strictest fibre',
  },
  {
    cloth: { viscose: 60, nylon: 35, elastane: 5 },
    dye: 'reactive',
    verdict: 'taken',
    stages: ['reactive', 'acid-levelling'],
    source: 'organicdye.com, nylon with cellulose by reactive dye',
  },
  {
    cloth: { cotton: 100 },
    dye: 'vat',
    change: { also: ['elastane'] },
    verdict: 'refused',
    told: /Elastane: hot caustic soda/,
    source: 'our rule: thread and trim count at any share',
  },
];

const FINISHED: readonly BenchCase[] = [
  {
    cloth: { cotton: 100 },
    dye: 'reactive',
    state: { finishes: ['flame-retardant'] },
    verdict: 'taken',
    work: /Before you begin:.*flame proofing is lost.*done anew by whoever answers for it/,
    source: 'MIT 21M.735, note on flame retarding',
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-levelling',
    state: { finishes: ['water-repellent'] },
    verdict: 'taken',
    work: /Before you begin:.*within 5 seconds/,
    source: 'common practice',
  },
  {
    cloth: { cotton: 100 },
    dye: 'direct',
    state: { finishes: ['parchment'] },
    verdict: 'taken',
    work: /Before you begin:.*stays through scour and dye bath/,
    source: 'Mercer 1850, on parchmentising',
  },
  {
    cloth: { cotton: 100 },
    dye: 'reactive',
    state: { finishes: ['starched'] },
    verdict: 'taken',
    work: /Before you begin:.*comes back limp/,
    source: 'byebyebimari.com, on organdie',
  },
  {
    cloth: { cotton: 100 },
    dye: 'vat',
    state: { state: 'greige' },
    verdict: 'taken',
    work: /Before you begin:.*scour it twice, and weigh it dry again/,
    source: 'common practice',
  },
  {
    cloth: { nylon: 100 },
    dye: 'acid-levelling',
    state: { state: 'heat-set' },
    verdict: 'taken',
    told: /dry setting slows nylon, steam hastens it/,
    source: `${BROADBENT}, p. 318`,
  },
  {
    cloth: { cotton: 100 },
    dye: 'reactive',
    state: { state: 'prepared' },
    verdict: 'taken',
    work: /wet it out only.*Weigh the dye/s,
    source: 'common practice',
  },
  {
    cloth: { silk: 100 },
    dye: 'acid-levelling',
    state: { construction: 'organza' },
    verdict: 'taken',
    work: /Scour the cloth at 30 °C.*15 to 25 % of its mass/s,
    source: 'Đurašević and others, 2008',
  },
];

export const BENCH_CASES: readonly BenchCase[] = [...ONE_FIBRE, ...BLENDS, ...FINISHED];
