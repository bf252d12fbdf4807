import { sewingTime } from '../../../src/garment/sewing-work.ts';
import { sumOfMasses } from '../../../src/garment/weight.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { sewingPath } from '../../kit/paths.ts';
import { readSewing } from '../../setup/rates/store.ts';
import { namesOf } from '../garment/names.ts';
import { clothIdsOf, tiersIn, type WorkedGarment } from '../garment/worked.ts';
import { answersOf } from './answers.ts';
import { readClothFacts, readThreadShades } from './facts.ts';
import { sayMass, sayTime } from './words.ts';
/** The few figures of it that stand on the garment's page; null where no tier can be worked out. */
export function sewingSummary(reader: Reader, worked: WorkedGarment, units: Units) {
  const { answers } = readAnswers(reader, worked);
  if (answers.length === 0) return null;
  return {
    href: sewingPath(worked.garment.code),
    mass: sayMass(sumOfMasses(answers.map(({ mass }) => mass)), units),
    seams: answers.reduce((sum, { sewing }) => sum + sewing.seams, 0),
    time: sayTime(sewingTime(answers.flatMap(({ jobs }) => jobs))),
  };
}

export type SewingSummary = NonNullable<ReturnType<typeof sewingSummary>>;

/** What a garment's answers are made of, for this page and for the summary on the garment's own. */
export function readAnswers(reader: Reader, worked: WorkedGarment) {
  const records = tiersIn(worked.garment);
  const found = records.flatMap((tier) => {
    const one = worked.tiers.find(({ tierId }) => tierId === tier.id);
    return one ? [{ tier, worked: one }] : [];
  });
  const cloths = readClothFacts(reader, records.flatMap(clothIdsOf));
  const sewing = readSewing(reader);
  const chosen = readThreadShades(
    reader,
    records.map(({ id }) => id),
  );
  const answers = answersOf(found, { cloths, sewing, threads: chosen });
  const names = namesOf(reader, worked.garment);
  const left = records.filter(({ id }) => !found.some(({ tier }) => tier.id === id)).map(({ name }) => name);
  const used = new Set(worked.needs.map(({ clothId }) => clothId));
  const usedCloths = new Map([...cloths].filter(([id]) => used.has(id)));
  return { answers, names, cloths: usedCloths, sewing, chosen, left };
}
