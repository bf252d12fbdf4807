import { sewingTime, threadByColour } from '../../../src/garment/sewing-work.ts';
import { showArea, sumOfMasses } from '../../../src/garment/weight.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import type { Chip } from '../../kit/chip.ts';
import { type Choice, shadeChoices } from '../../kit/choices.ts';
import { garmentPath, tierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Page } from '../../web/page-frame.ts';
import { readGarment } from '../garment/records.ts';
import { workGarments } from '../garment/worked.ts';
import { tierNamesOf } from '../tier/view.ts';
import { type Missing, missingFacts, sayMass, sayThreadLength, sayTime } from './answer-words.ts';
import type { TierAnswer } from './answers.ts';
import { type SewingCloth, shapeCloth } from './cloth.ts';
import { readAnswers } from './summary.ts';
import { type SewingTier, shapeSewingTier } from './tiers.ts';

export interface SewingPageData {
  readonly code: string;
  readonly name: string;
  readonly href: string;
  readonly totals: readonly { readonly label: string; readonly text: string }[];
  /** all of it hangs from the waist */
  readonly waist: string;
  readonly missing: readonly Missing[];
  readonly cloths: readonly SewingCloth[];
  readonly colours: readonly {
    readonly chip: Chip;
    readonly length: string;
    readonly stitches: string;
    readonly cones: string;
  }[];
  readonly threadNote: string;
  readonly tiers: readonly SewingTier[];
  /** forms by which the thread of a tier is chosen; none for a finished garment */
  readonly choose: readonly {
    readonly name: string;
    readonly action: string;
    readonly key: string;
    readonly value: string;
  }[];
  readonly shades: readonly Choice[];
  /** tiers that cannot be worked out and are left out of all of it */
  readonly left: readonly string[];
}

/** All that a garment takes besides its strips: cloth, seams, hems, mass, thread and time. @throws {Refusal} unknown */
export function sewingPage(reader: Reader, code: string, units: Units): Page {
  const garment = readGarment(reader, code);
  const [worked] = workGarments(reader, [garment]);
  if (!worked) throw new Error('a garment that was read is worked out');
  const { answers, names, cloths, sewing, chosen, left } = readAnswers(reader, worked);
  const nameOf = tierNamesOf(garment);
  const data: SewingPageData = {
    code: garment.code,
    name: garment.name,
    href: garmentPath(garment.code),
    totals: totalsOf(answers, units),
    waist: sayMass(sumOfMasses(answers.map(({ mass }) => mass)), units),
    missing: missingFacts(answers, [...cloths.values()], sewing),
    cloths: worked.needs.flatMap((need) => {
      const cloth = cloths.get(need.clothId);
      return cloth ? [shapeCloth(need, cloth, sewing, names, units)] : [];
    }),
    colours: threadByColour(answers, sewing.putUpTicks).map(
      ({ shadeId, ticks, complete, stitches, cones }) => ({
        chip: names.chip(shadeId),
        length: `${complete ? '' : 'at least '}${sayThreadLength(ticks, units)}`,
        stitches: stitches
          .map(({ stitch, ticks: of }) => `${stitch ?? 'no stitch said'}: ${sayThreadLength(of, units)}`)
          .join(', '),
        cones: cones === null ? '' : sayCones(cones, complete),
      }),
    ),
    threadNote: sayWaste(sewing.wasteBp, sewing.putUpTicks, units),
    tiers: answers.map((answer) => shapeSewingTier(answer, nameOf, names, units)),
    choose:
      garment.finishedAt === null
        ? answers.map(({ tier }) => ({
            name: tier.name,
            action: `${tierPath(garment.code, tier.id)}/thread`,
            key: mintKey(),
            value: String(chosen.get(tier.id) ?? ''),
          }))
        : [],
    shades: [{ value: '', label: 'as the shade with most strips' }, ...shadeChoices(reader)],
    left,
  };
  return { view: 'garments/sewing/sewing', data, title: `Sewing of ${garment.name}`, room: 'garments' };
}

function totalsOf(answers: readonly TierAnswer[], units: Units): SewingPageData['totals'] {
  const sum = (of: (answer: TierAnswer) => number) =>
    answers.reduce((total, answer) => total + of(answer), 0);
  const length = (of: (answer: TierAnswer) => number) => showLength(sum(of), units, 'up');
  const area = answers.reduce((total, { areaTicks2 }) => total + areaTicks2, 0n);
  return [
    { label: 'Strips', text: String(sum(({ worked }) => worked.count.strips)) },
    {
      label: 'Seams',
      text: `${sum(({ sewing }) => sewing.seams)}, ${length(({ sewing }) => sewing.seamTicks)}`,
    },
    { label: 'Hems', text: length(({ sewing }) => sewing.hemTicks) },
    { label: 'Gathering', text: length(({ sewing }) => sewing.gatherTicks) },
    { label: 'Attaching', text: length(({ sewing }) => sewing.attachTicks) },
    { label: 'Cut area', text: showArea(area, units.system) },
    { label: 'Cloth weighs', text: sayMass(sumOfMasses(answers.map(({ mass }) => mass)), units) },
    { label: 'Sewing time', text: sayTime(sewingTime(answers.flatMap(({ jobs }) => jobs))) },
  ];
}

function sayCones({ cones, exact }: { cones: number; exact: boolean }, complete: boolean): string {
  if (!complete) return `${cones}, without what is missing`;
  return exact ? String(cones) : `${cones} are enough`;
}

function sayWaste(wasteBp: number | null, putUpTicks: number | null, units: Units): string {
  const waste = wasteBp === null ? 'No waste is added' : `${showPercent(wasteBp)} waste is added`;
  if (putUpTicks === null) return `${waste}.`;
  return `${waste}; a cone holds ${showLength(putUpTicks, units, 'near')}, and each thread of a machine has cones of its own.`;
}
