import { sewingTime, threadByColour } from '../../../src/garment/sewing-work.ts';
import { showArea, sumOfMasses } from '../../../src/garment/weight.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { garmentPath, tierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Page } from '../../web/page-frame.ts';
import { workGarment } from '../garment/worked.ts';
import { tierNamesOf } from '../tier/view.ts';
import type { TierAnswer } from './answers.ts';
import { shapeCloth } from './cloth.ts';
import { readAnswers } from './summary.ts';
import { threadForm } from './thread.ts';
import { shapeSewingTier } from './tiers.ts';
import { missingFacts, sayMass, sayThreadLength, sayTime } from './words.ts';

/** All that a garment takes besides its strips: cloth, seams, hems, mass, thread and time. @throws {Refusal} unknown */
export function sewingPage(reader: Reader, code: string, units: Units) {
  const worked = workGarment(reader, code);
  const { garment } = worked;
  const { answers, names, cloths, sewing, chosen, left } = readAnswers(reader, worked);
  const nameOf = tierNamesOf(garment);
  const threadFields = threadForm(reader).shape;
  const data = {
    code: garment.code,
    name: garment.name,
    href: garmentPath(garment.code),
    totals: totalsOf(answers, units),
    /** All of it hangs from the waist. */
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
    /** Forms by which the thread of a tier is chosen; none for a finished garment. */
    choose:
      garment.finishedAt === null
        ? answers.map(({ tier }) => ({
            name: tier.name,
            action: `${tierPath(garment.code, tier.id)}/thread`,
            key: mintKey(),
            shade: drawFields(threadFields, { shade_id: String(chosen.get(tier.id) ?? '') }).shade_id,
          }))
        : [],
    /** Tiers that cannot be worked out and are left out of all of it. */
    left,
  };
  return {
    view: 'garments/sewing/sewing',
    data,
    title: `Sewing of ${garment.name}`,
    room: 'garments',
  } satisfies Page;
}

function totalsOf(answers: readonly TierAnswer[], units: Units) {
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
  const waste =
    wasteBp === null ? 'No waste is added' : `${showPercent(wasteBp)} waste is added, tails counted with it`;
  if (putUpTicks === null) return `${waste}.`;
  return `${waste}; a cone holds ${showLength(putUpTicks, units, 'near')}, and each thread of a machine has cones of its own.`;
}
