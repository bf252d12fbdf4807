import { showSize } from '../../src/quantity/length-show.ts';
import { readClothCosts } from '../cost/garment-cost.ts';
import { shapeCosts } from '../cost/sums.ts';
import type { Reader } from '../database/book.ts';
import { shapeMade } from '../garments/as-made/measures.ts';
import { drawnGarment } from '../garments/drawing/elevation.ts';
import { drawStripChart } from '../garments/drawing/strip-chart.ts';
import { type Fact, formFacts, girthFacts, tierFacts } from '../garments/garment/facts.ts';
import { namesOf, shadesOf } from '../garments/garment/names.ts';
import { shapeOpening } from '../garments/garment/opening.ts';
import { sayLowerEdges } from '../garments/garment/place.ts';
import { asTier, tiersIn, workGarment } from '../garments/garment/worked.ts';
import { listParts, printParts } from '../garments/parts/listed.ts';
import { type PleatedStrips, sewingSheet } from '../garments/sewing/sheet.ts';
import { sewingSummary } from '../garments/sewing/summary.ts';
import { shapeTier, tierNamesOf } from '../garments/tier/view.ts';
import { lastNumber } from '../garments/versions/queries.ts';
import { readVersionSlip } from '../garments/versions/slip.ts';
import { grouped } from '../kit/grouped.ts';
import { garmentPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { readStripsPleated, type StripsPleated } from '../shelf/pleating/store.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readNeedViews } from './needs.ts';

/** Facts that the tables above a tier's own show already, and those that say nothing. */
const SAID = ['Hangs', 'Finished depth', 'Order of colours'];

/** The garment book: form, tiers, pictures, strips, the sewing sheet and the costs, for printing. @throws {Refusal} unknown */
export function bookPage(reader: Reader, code: string, asker: Asker) {
  const { units } = asker;
  const worked = workGarment(reader, code);
  const { garment } = worked;
  const tiers = tiersIn(garment);
  const names = namesOf(reader, garment);
  const lowerEdges = sayLowerEdges(garment, units);
  const bookTiers = tiers.map((tier) => {
    const found = worked.tiers.find(({ tierId }) => tierId === tier.id);
    const view = found && shapeTier(asTier(tier), found, tierNamesOf(garment), names, units);
    const facts = tierFacts(tier, garment, names, units);
    const text = (what: string) => facts.find((fact) => fact.what === what)?.text() ?? '';
    return {
      name: tier.name,
      hangs: view?.hangs ?? text('Hangs'),
      depth: text('Finished depth'),
      fullness: view?.figures.find(({ label }) => label === 'Fullness')?.got ?? text('Fullness'),
      strips: view?.strips ?? 0,
      lowerEdge: lowerEdges.get(tier.id) ?? '',
      facts: facts.filter(isPrinted).map(({ what, text }) => ({ what, text: text() })),
      /** null where it cannot be worked out */
      worked:
        found && view
          ? {
              shades: view.shades,
              flat: showSize(found.count.flatTicks, units, 'down'),
              chart: drawStripChart(tier.blocks, found.count.strips, tier.offsetStrips, names),
            }
          : null,
      problems: worked.problems.filter(({ tierId }) => tierId === tier.id).map(({ message }) => message),
    };
  });
  const parts = listParts(reader, worked, units);
  const data = {
    code: garment.code,
    name: garment.name,
    href: garmentPath(code),
    note: garment.note,
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    version: lastNumber(reader, garment.id),
    cutFrom: readVersionSlip(reader, garment, names, units),
    form: [...girthFacts(garment, units), ...formFacts(garment, units)].map(({ what, text }) => ({
      what,
      text: text(),
    })),
    drawings: drawnGarment(reader, code, units),
    shades: [...new Set(shadesOf(garment))].map((id) => ({ letter: names.letter(id), chip: names.chip(id) })),
    needs: readNeedViews(reader, worked, names, units),
    tiers: bookTiers,
    opening: shapeOpening(worked, units),
    made: shapeMade(reader, garment, units),
    parts: printParts(reader, worked),
    wants: parts.wants,
    /** one line for each part on the sewing sheet */
    partWork: parts.rows.map(
      ({ name, brief, pieces }) => `${name}${pieces > 1 ? ` × ${pieces}` : ''}: ${brief}.`,
    ),
    sheet: sewingSheet(worked, names, units, pleatedOf(reader, code)),
    sewing: sewingSummary(reader, worked, units),
    /** null for whoever is told no prices */
    costs: asker.seesPrices ? shapeCosts(reader, garment.id, readClothCosts(reader, garment), asker) : null,
  };
  return { view: 'garment-book/printed', data, title: garment.name, room: 'garments' } satisfies Page;
}

/** What of each tier is at a pleater or came back from one. */
function pleatedOf(reader: Reader, code: string): Map<number, PleatedStrips> {
  const rows = readStripsPleated(reader).filter(({ garment }) => garment === code);
  return new Map(
    [...grouped(rows, ({ tier_id: tierId }) => tierId)].map(([tierId, sent]) => [
      tierId,
      {
        strips: sent.reduce((sum, { strips }) => sum + strips, 0),
        text: sent.map(sayPleatedStrips).join(' '),
      },
    ]),
  );
}

function sayPleatedStrips({ strips, pleater, expected_on: expectedOn, backOn }: StripsPleated): string {
  const count = (one: string, many: string) => countOf(strips, `strip ${one}`, `strips ${many}`);
  return backOn === null
    ? `${count('is', 'are')} at ${pleater}, expected back ${showDay(expectedOn)}.`
    : `${count('was', 'were')} pleated by ${pleater}, back ${showDay(backOn)}.`;
}

function isPrinted({ what, value }: Fact): boolean {
  return value !== 0 && !SAID.includes(what);
}
