import { sayViewing } from '../../../src/colour/colour-reading.ts';
import { type Lab, labToScreen, screenShows } from '../../../src/colour/lab.ts';
import { shadingOfLot } from '../../../src/colour/lot-colour.ts';
import { orderOfTaper } from '../../../src/colour/lot-groups.ts';
import { type ShadeBands, USUAL_BANDS } from '../../../src/colour/lot-pair.ts';
import { lotPairKey } from '../../../src/colour/lots-judged.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showColourDifference } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { queryNumber, queryText } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { clothPath, shadePath, togetherPath } from '../../kit/paths.ts';
import { countOf, listed } from '../../kit/words.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { HOW_READ_WORDS } from '../colour/fields.ts';
import { type KeptEvidence, readLotEvidence } from '../lot/store.ts';
import { newPairPhotosPath } from '../photo/pages.ts';
import type { ShelfTold } from '../told.ts';
import { drawLotChart } from './chart.ts';
import { eyePath } from './eye-form.ts';
import { groupByAnswers, type LotAnswers } from './how-sure.ts';
import { type ComparedLot, readLotsToCompare, readWhereLotsDiffer } from './lots.ts';
import { shapeNeed } from './need.ts';
import { sayHowSure, sayPairOfLots, sayShading } from './words.ts';

/** So many lots are compared on the page, those that came last; so many pairs are listed. */
const MOST_LOTS = 24;
const MOST_PAIRS = 60;

/** Cloths and shades of which several lots lie on the shelf. */
export function togetherListPage(reader: Reader) {
  const data = {
    choices: readWhereLotsDiffer(reader).map((row) => ({
      cloth: row.cloth,
      chip: shadeChip(row),
      lots: countOf(row.lots, 'lot', 'lots'),
      href: togetherPath(row),
    })),
  };
  const title = 'Which lots may be sewn together?';
  return { view: 'shelf/together/list', data, title, room: 'shelf' } satisfies Page;
}

/** Which lots of a cloth and shade may be sewn together: in groups, pair by pair, and for the need of a garment. */
export function togetherPage(
  reader: Reader,
  query: unknown,
  { units }: Pick<Asker, 'units'>,
  told: Pick<ShelfTold, 'readNeedOfLots'>,
) {
  const of = { clothId: queryNumber(query, 'cloth') ?? 0, shadeId: queryNumber(query, 'shade') ?? 0 };
  const { cloth, shade } = readNames(reader, of);
  const need = told.readNeedOfLots(reader, queryText(query, 'garment'), of);
  const all = readLotsToCompare(reader, of, need?.inUseLotIds);
  const lots = all.slice(-MOST_LOTS);
  const ids = lots.map(({ id }) => id);
  const bands = need?.bands ?? USUAL_BANDS;
  const evidence = readLotEvidence(reader, ids);
  const near = shade.lab;
  const pairs = pairsOf(lots).map(([one, other]) => ({
    one,
    other,
    ...sayPairOfLots(evidence, [one.id, other.id], bands, near),
  }));
  const answers = new Map(pairs.map(({ one, other, answer }) => [lotPairKey(one.id, other.id), answer]));
  const groups = shapeGroups(lots, answers, evidence, units);
  const shown = pairs
    .toSorted((one, other) => ORDER[one.verdict] - ORDER[other.verdict])
    .slice(0, MOST_PAIRS);
  const data = {
    cloth: { name: cloth.name, href: clothPath(of.clothId) },
    chip: shadeChip(shade.row, { href: shadePath(of.shadeId) }),
    /** lots that lie there, and how many of them are not compared here */
    lots: lots.length,
    left: all.length - lots.length,
    sure: sayHowSure(pairs.map(({ answer }) => answer)),
    bands: sayBands(bands, need?.garment.code ?? ''),
    groups,
    taper: sayTaper(groups, answers, evidence),
    need: need && shapeNeed(need, { lots, ids, answers }, units),
    pairs: shown.map(({ one, other, verdict, said, sure, differs, rating }) => ({
      name: `${one.code} and ${other.code}`,
      verdict,
      said,
      sure,
      differs: sayDiffers(other.code, differs, rating),
      photo: newPairPhotosPath({ kind: 'lot', id: one.id }, { kind: 'lot', id: other.id }),
      eye: eyePath(firstCode(one), firstCode(other)),
    })),
    pairsLeft: pairs.length - shown.length,
    ...shapeColours(lots, evidence, units),
  };
  const title = 'May these be sewn together?';
  return { view: 'shelf/together/together', data, title, room: 'shelf' } satisfies Page;
}

function sayDiffers(code: string, differs: string, rating: string): string {
  if (rating === '') return '';
  return differs === '' ? `No difference to name; ${rating}.` : `${code} is ${differs}; ${rating}.`;
}

/** What is to be done first comes first. */
const ORDER = { unknown: 1, look: 0, apart: 2, 'may meet': 3 } as const;

function pairsOf(lots: readonly ComparedLot[]): [ComparedLot, ComparedLot][] {
  return lots.flatMap((one, at) =>
    lots.slice(at + 1).map((other): [ComparedLot, ComparedLot] => [one, other]),
  );
}

const firstCode = ({ code }: ComparedLot) => code.split(' + ')[0] ?? code;

function readNames(reader: Reader, of: { readonly clothId: number; readonly shadeId: number }) {
  const { db } = reader;
  const cloth = reader.first(db.selectFrom('cloth').select('name').where('id', '=', of.clothId));
  const row = reader.first(
    db.selectFrom('shade').select(['name', 'lab_l', 'lab_a', 'lab_b']).where('id', '=', of.shadeId),
  );
  if (!cloth || !row) throw unknown('such cloth and shade');
  const { lab_l: l, lab_a: a, lab_b: b } = row;
  const lab: Lab | null = l === null || a === null || b === null ? null : { l, a, b };
  return { cloth, shade: { row, lab } };
}

function sayBands({ meetCenti, apartCenti }: ShadeBands, garmentCode: string): string {
  const whose = garmentCode === '' ? 'Unless a garment says otherwise' : `For ${garmentCode}`;
  return `${whose}: up to ΔE00 ${showColourDifference(meetCenti)} lots may be sewn together, above ${showColourDifference(apartCenti)} they are kept apart, and between the two somebody looks. The less sure a difference is, the more must be looked at. A judgement by eye outranks any figure.`;
}

function shapeGroups(
  lots: readonly ComparedLot[],
  answers: LotAnswers,
  evidence: KeptEvidence,
  units: Units,
) {
  return groupByAnswers(lots, answers).map((members, at) => {
    const within = pairsOf(members).flatMap(
      ([one, other]) => answers.get(lotPairKey(one.id, other.id)) ?? [],
    );
    return {
      name: `Group ${at + 1}`,
      ids: members.map(({ id }) => id),
      lots: members.map(({ code, href, freeTicks, id }) => ({
        code,
        href,
        free: showLength(freeTicks, units, 'down'),
        colour: colourOf(evidence, id),
      })),
      free: showLength(
        members.reduce((sum, { freeTicks }) => sum + freeTicks, 0),
        units,
        'down',
      ),
      sure: sayHowSure(within),
    };
  });
}

type Group = ReturnType<typeof shapeGroups>[number];

/** The colour of a lot on the screen; null where it was not read. */
function colourOf(evidence: KeptEvidence, id: number): string | null {
  const lab = labOf(evidence, id);
  return lab && labToScreen(lab);
}

const labOf = (evidence: KeptEvidence, id: number) => evidence.read.get(id)?.colours[0]?.lab ?? null;

/** The order of groups from tier to tier; '' where not all of them can be told apart by what was measured. */
function sayTaper(groups: readonly Group[], answers: LotAnswers, evidence: KeptEvidence): string {
  if (groups.length < 2) return '';
  const lightness = groups.map(({ ids }) => meanOf(ids.flatMap((id) => labOf(evidence, id)?.l ?? [])));
  const step = (one: number, other: number) =>
    Math.max(
      ...(groups[one]?.ids ?? []).flatMap((a) =>
        (groups[other]?.ids ?? []).map((b) => answers.get(lotPairKey(a, b))?.measured?.deltaE ?? Number.NaN),
      ),
    );
  const isKnown = groups.every((_, one) =>
    groups.every((_, other) => one === other || step(one, other) >= 0),
  );
  if (!isKnown || lightness.some((each) => each === null)) return '';
  const order = orderOfTaper(groups.length, step, (group) => lightness[group] ?? 0);
  const names = order.map((group) => (groups[group]?.lots ?? []).map(({ code }) => code).join(' + '));
  return `If lots must differ between tiers, change in this order and the steps show least: ${names.join(', then ')}.`;
}

function meanOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** The lots that were read: their letter, their colour, how it was got, and the chart of those that can be compared. */
function shapeColours(lots: readonly ComparedLot[], evidence: KeptEvidence, units: Units) {
  const read = lots.map((lot, at) => ({
    ...lot,
    letter: String.fromCharCode(65 + at),
    colour: evidence.read.get(lot.id)?.colours[0] ?? null,
  }));
  const viewings = read.flatMap(({ colour }) => (colour ? [sayViewing(colour)] : []));
  const usual = mostOf(viewings);
  const charted = read.flatMap(({ letter, colour }) =>
    colour && sayViewing(colour) === usual ? [{ letter, lab: colour.lab }] : [],
  );
  const beyond = read.filter(({ colour }) => colour && !screenShows(colour.lab)).map(({ code }) => code);
  return {
    chart: charted.length > 1 ? drawLotChart(charted) : null,
    chartViewing: usual,
    colours: read.map(({ letter, code, href, freeTicks, colour }) => ({
      letter,
      code,
      href,
      free: showLength(freeTicks, units, 'down'),
      lab: colour ? (['l', 'a', 'b'] as const).map((axis) => tenths(colour.lab[axis])) : null,
      how: colour ? `${sayViewing(colour)}; ${HOW_READ_WORDS[colour.how]}` : 'not read',
      within:
        colour && colour.places > 1
          ? `± ${colour.spread.toFixed(1)} over ${countOf(colour.places, 'place', 'places')}`
          : '',
    })),
    shading: lots.flatMap(({ id, code }) =>
      shadingOfLot(evidence.readings.get(id) ?? []).map((shading) => `${code} ${sayShading(shading)}`),
    ),
    beyondScreen:
      beyond.length > 0 ? `A screen cannot show ${listed(beyond)} as they are; the chips are a guide.` : '',
  };
}

const tenths = (value: number) => value.toFixed(1).replace('-', '−').replace('−0.0', '0.0');

function mostOf(texts: readonly string[]): string {
  const counted = new Map<string, number>();
  for (const text of texts) counted.set(text, (counted.get(text) ?? 0) + 1);
  return [...counted].sort(([, one], [, other]) => other - one)[0]?.[0] ?? '';
}
