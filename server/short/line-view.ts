import type { LotEvidence } from '../../src/colour/lots-judged.ts';
import type { Share } from '../../src/fit/sharing.ts';
import type { ShortBy } from '../../src/fit/short.ts';
import { heldStripsAt } from '../../src/fit/short.ts';
import { showLength, showSize, type Units } from '../../src/quantity/length-show.ts';
import { bandsOf, type Garment } from '../garments/garment/records.ts';
import { stripRowsOf } from '../garments/garment/strip-rows.ts';
import { showStrip } from '../garments/versions/differences.ts';
import { clothPath, cuttingPath, garmentPath, planPath, shadePath, togetherPath } from '../kit/paths.ts';
import { daysBetween, showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { sayTogether } from '../shelf/together/how-sure.ts';
import type { ShortLine } from './queries.ts';
import { sayReasons } from './reason-words.ts';
import { type SellingOf, soldLength } from './selling.ts';
import { type Fresh, sayToGet, toGetOf, waysToGet } from './to-get.ts';

/** One cloth and shade, ready to print. Strips are counts; a length is '' where there is none. */
export type LineView = ReturnType<typeof shapeLine>;

/** What a line is shown by: how cloth is sold, the day, and the reader's units. */
export interface LineContext {
  readonly sellingOf: SellingOf;
  readonly today: string;
  readonly units: Units;
  /** all that was read and judged of the lines’ lots */
  readonly evidence: LotEvidence;
}

/** The line over all its garments, or, with `only`, that garment's part of it. */
export function shapeLine(
  line: ShortLine,
  { sellingOf, today, units, evidence }: LineContext,
  only: string | null = null,
) {
  const shares = line.shares.filter(({ garment }) => only === null || garment.code === only);
  const [share] = shares;
  const fresh = toGetOf(line, shares, sellingOf);
  const figures = only !== null && share ? figuresOfShare(share, line) : figuresOfLine(line);
  const shown = ({ strips, ticks }: { readonly strips: number; readonly ticks: number }) => ({
    strips,
    length: ticks === 0 ? '' : showLength(ticks, units, 'down'),
  });
  const { cloth, shade } = line;
  const by = weakestWay(shares);
  const isShort = figures.short > 0;
  return {
    cloth: { name: cloth.name, href: clothPath(cloth.id) },
    chip: { colour: shade.colour, name: shade.name, href: shadePath(shade.id) },
    wanted: figures.wanted,
    cut: figures.cut,
    held: figures.held,
    /** strips that fit into the lot that gives most, and what is free of it */
    free: shown(figures.free),
    elsewhere: shown(figures.elsewhere),
    /** in the pot, or planned to be dyed */
    inDye: shown({ strips: figures.inDyeStrips, ticks: line.inDyeTicks }),
    onOrder: shown({ strips: figures.onOrderStrips, ticks: line.onOrderTicks }),
    short: figures.short,
    /** fresh cloth to get for the strips that nothing on its way gives */
    toGet: isShort ? sayToGet(fresh.ticks, units) : '',
    /** how that was rounded; '' where nothing is to be got */
    sold: isShort && fresh.ticks ? fresh.selling.said : '',
    /** usable width of what is to be got, '' where no length is */
    width: fresh.ticks ? showSize(cloth.usableWidthTicks, units, 'down') : '',
    /** how the strips short were found */
    by,
    /** whether the planner is still to be heard, of the strips short or of the length to get */
    unplanned: isShort && (by === 'hand rule' || (fresh.job !== null && !fresh.isPlanned)),
    notes: isShort ? sayNotes(line, figures, fresh, { today, units }) : [],
    shares: shares.map((one) => shapeShare(one, line, evidence, units)),
    ways: isShort
      ? waysToGet(
          line,
          {
            neededTicks: fresh.neededTicks,
            toOrderStrips: figures.toOrderStrips,
            elsewhereStrips: figures.elsewhere.strips,
          },
          units,
        )
      : [],
  };
}

/** Strips short of a line, or with `only` of that garment's part of it. */
export function shortStripsOf(line: ShortLine, only: string | null): number {
  if (only === null) return line.shortStrips;
  return line.shares.find(({ garment }) => garment.code === only)?.short.shortStrips ?? 0;
}

/** The weakest of the ways in which the parts were found. */
function weakestWay(shares: readonly Share<Garment>[]): ShortBy {
  const ways = shares.map(({ short }) => short.by);
  return ways.find((by) => by === 'hand rule') ?? ways.find((by) => by === 'planner') ?? 'exact';
}

function figuresOfLine(line: ShortLine) {
  return {
    wanted: line.wantedStrips,
    cut: line.cutStrips,
    held: line.heldStrips,
    free: { strips: line.freeStrips, ticks: line.freeTicks },
    elsewhere: { strips: line.elsewhereStrips, ticks: line.elsewhereTicks },
    inDyeStrips: line.inDyeStrips,
    onOrderStrips: line.onOrderStrips,
    short: line.shortStrips,
    toOrderStrips: line.toOrderStrips,
    oneLotTicks: line.oneLotTicks,
  };
}

/** One garment's part. What is on its way is everybody's, so its strips are those of the whole line at most. */
function figuresOfShare({ need, short }: Share<Garment>, line: ShortLine): ReturnType<typeof figuresOfLine> {
  const matches = need.lots !== 'any' && short.shortStrips < short.wantedStrips - short.cutStrips;
  return {
    wanted: short.wantedStrips,
    cut: short.cutStrips,
    held: short.heldStrips,
    free: { strips: short.freeStrips, ticks: short.freeTicks },
    elsewhere: { strips: short.elsewhereStrips, ticks: short.elsewhereTicks },
    inDyeStrips: Math.min(short.shortStrips, line.inDyeStrips),
    onOrderStrips: Math.min(short.shortStrips, line.onOrderStrips),
    short: short.shortStrips,
    toOrderStrips: Math.min(short.shortStrips, line.toOrderStrips),
    oneLotTicks: matches && short.shortStrips > 0 ? short.oneLotTicks : null,
  };
}

/** What is on its way already, and what to mind before getting more. */
function sayNotes(
  line: ShortLine,
  figures: ReturnType<typeof figuresOfLine>,
  fresh: Fresh,
  { today, units }: Pick<LineContext, 'today' | 'units'>,
): string[] {
  const notes: string[] = [];
  if (fresh.isPlanned && fresh.ticks)
    notes.push('The length to get is planned, as one piece of the full width.');
  if (line.onOrderTicks > 0) {
    const gives = countOf(figures.onOrderStrips, 'strip', 'strips');
    notes.push(
      `${showLength(line.onOrderTicks, units, 'down')} is on order: if it comes in one piece of the full width it is ${figures.toOrderStrips === 0 ? `enough for the ${gives} short` : `enough for ${gives} of those short`}.`,
    );
    notes.push(
      ...line.arriving.flatMap(({ orderCode, expectedOn }) =>
        expectedOn === null ? [] : [sayExpected(orderCode, expectedOn, today)],
      ),
    );
  }
  for (const batch of line.dyeing) {
    const where = batch.inPot ? 'in the pot' : 'planned for dyeing';
    notes.push(`${showLength(batch.lengthTicks, units, 'down')} is ${where}, batch ${batch.code}.`);
  }
  if (line.dyeing.length > 0) {
    const gives = `What is being dyed gives ${countOf(figures.inDyeStrips, 'strip', 'strips')} of those short`;
    const rest = figures.toOrderStrips === 0 && line.onOrderTicks === 0 ? ': nothing more to get' : '';
    notes.push(`${gives}${rest}. Each bath is a lot of its own.`);
  }
  if (figures.oneLotTicks !== null) {
    notes.push(
      `Fresh cloth is another lot. To cut all the rest from one lot, buy or dye ${sayToGet(soldLength(figures.oneLotTicks, fresh.selling), units)}${figures.cut > 0 ? '; what is cut already stays apart' : ''}.`,
    );
  }
  if (line.groundTicks > 0) {
    notes.push(
      `${showLength(line.groundTicks, units, 'down')} of this cloth is free undyed, before planned batches take theirs.`,
    );
  }
  return notes;
}

function sayExpected(orderCode: string, expectedOn: string, today: string): string {
  const day = showDay(expectedOn);
  if (expectedOn >= today) return `Order ${orderCode} is expected on ${day}.`;
  const days = countOf(daysBetween(expectedOn, today), 'day', 'days');
  return `Order ${orderCode} is late: it was expected on ${day}, ${days} ago.`;
}

function shapeShare(share: Share<Garment>, line: ShortLine, evidence: LotEvidence, units: Units) {
  const { garment, need, short } = share;
  return {
    code: garment.code,
    name: garment.name,
    href: garmentPath(garment.code),
    /** the garment's cut plans */
    planHref: planPath(garment.code),
    due: garment.dueOn === null ? '' : showDay(garment.dueOn),
    tiers: need.demands.map((demand, place) => {
      const held = heldStripsAt(short, place);
      const row = stripRowsOf(garment).find(({ id }) => id === demand.tierId);
      const fit = held + (short.freeFit.made[place]?.count ?? 0);
      return {
        name: row?.name ?? '',
        href: row?.href ?? garmentPath(garment.code),
        size: showStrip(demand, units),
        strips: demand.count,
        short: short.shortOf[place]?.count ?? 0,
        /** the cutting table, where strips can be held or cut now; null else */
        hold: fit > 0 ? cuttingPath(garment.code, demand.tierId) : null,
      };
    }),
    reasons: sayReasons(share, line.lots, units),
    /** whether its lots may be sewn together, and how sure that is; '' where one lot is all, or any will do */
    together: need.lots === 'any' ? '' : sayTogether(evidence, line.lots, bandsOf(garment)),
    togetherHref: togetherPath({ clothId: line.cloth.id, shadeId: line.shade.id }, garment.code),
  };
}
