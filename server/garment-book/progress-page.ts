import { sayHours } from '../../src/by-when/hours.ts';
import type { Share } from '../../src/fit/sharing.ts';
import { heldStripsAt } from '../../src/fit/short.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import { readGarmentWork } from '../by-when/garment-form.ts';
import { tappedMinutes } from '../by-when/measured.ts';
import { sewingTimeOf } from '../by-when/sewing-minutes.ts';
import { lastTap, readTaps } from '../by-when/taps.ts';
import type { Reader } from '../database/book.ts';
import { readCutStrips } from '../garments/garment/done.ts';
import { type Garment, readGarment } from '../garments/garment/records.ts';
import { nameOnPlan, type StripRow, stripRowsIn } from '../garments/garment/strip-rows.ts';
import { type WorkedGarment, workGarments } from '../garments/garment/worked.ts';
import { shapeBar } from '../kit/bar.ts';
import { clothPath, cuttingPath, garmentPath, shadePath } from '../kit/paths.ts';
import { readNeeds, type ShortLine } from '../short/queries.ts';
import { readSelling } from '../short/selling.ts';
import { demandsToGet, sayToGet, toGetOf } from '../short/to-get.ts';
import { PROGRESS_KEY, type StripsSoFar, shapeProgress } from '../today/progress.ts';
import type { Page } from '../web/page-frame.ts';

const KEY = [
  ...PROGRESS_KEY.filter(({ fill }) => fill !== 'dashed'),
  { fill: 'dotted', text: 'in the pot or on order' },
  { fill: 'dashed', text: 'to get' },
] as const;

/** How far a garment is: its strips, tier by tier and shade by shade, and its sewing. @throws {Refusal} unknown */
export function progressPage(reader: Reader, code: string, units: Units, today: string) {
  const garment = readGarment(reader, code);
  const [worked] = workGarments(reader, [garment]);
  if (!worked) throw new Error('a garment that was read is worked out');
  const isOpen = garment.finishedAt === null;
  const needs = isOpen ? readNeeds(reader, { garmentCode: code }) : null;
  const shares = (needs?.lines ?? []).flatMap((line) =>
    line.shares.filter((share) => share.garment.id === garment.id).map((share) => ({ line, share })),
  );
  const rows = stripRowsIn(garment);
  const done = isOpen ? stripsByTier(shares) : stripsOfFinished(reader, rows);
  const most = Math.max(1, ...[...done.values()].map(({ wanted }) => wanted));
  const data = {
    code,
    name: garment.name,
    href: garmentPath(code),
    finished: !isOpen,
    waiting: needs?.waiting ?? 0,
    whole: shapeProgress(addUp([...done.values()])),
    key: KEY,
    tiers: rows.flatMap((row) => {
      const strips = done.get(row.id);
      const progress = strips ? shapeProgress(strips, most) : null;
      if (!strips || !progress) return [];
      const href = isOpen ? cuttingPath(code, row.id) : row.href;
      return [{ name: nameOnPlan(row), href, ...showStrips(strips), progress }];
    }),
    shades: shapeShades(reader, shares, units, today),
    sewing: shapeSewing(reader, worked),
  };
  return {
    view: 'garment-book/progress',
    data,
    title: `Progress of ${garment.name}`,
    room: 'garments',
  } satisfies Page;
}

interface ShareOfLine {
  readonly line: ShortLine;
  readonly share: Share<Garment>;
}

const NONE: Required<StripsSoFar> = { wanted: 0, cut: 0, held: 0, short: 0, coming: 0 };

function addUp(all: readonly Required<StripsSoFar>[]): Required<StripsSoFar> {
  const sum = (of: keyof StripsSoFar) => all.reduce((total, strips) => total + strips[of], 0);
  return {
    wanted: sum('wanted'),
    cut: sum('cut'),
    held: sum('held'),
    short: sum('short'),
    coming: sum('coming'),
  };
}

/** What a share comes to at each of its demands, each of which is a tier's. */
function stripsOfShare({ line, share }: ShareOfLine) {
  const { need, short } = share;
  const toGet = demandsToGet(line, [share]);
  return need.demands.map(({ tierId, count }, at) => {
    const held = heldStripsAt(short, at);
    const missing = short.shortOf[at]?.count ?? 0;
    const free = short.freeFit.made[at]?.count ?? 0;
    const strips = {
      wanted: count,
      cut: count - held - free - missing,
      held,
      short: missing,
      coming: missing - (toGet[at]?.count ?? missing),
    };
    return { tierId, strips };
  });
}

function stripsByTier(shares: readonly ShareOfLine[]): Map<number, Required<StripsSoFar>> {
  const done = new Map<number, Required<StripsSoFar>>();
  for (const { tierId, strips } of shares.flatMap(stripsOfShare))
    done.set(tierId, addUp([done.get(tierId) ?? NONE, strips]));
  return done;
}

/** A finished garment asks for nothing more: what it is made of was cut. */
function stripsOfFinished(reader: Reader, rows: readonly StripRow[]) {
  const cut = readCutStrips(
    reader,
    rows.map(({ id }) => id),
  );
  return new Map(
    rows.map(({ id }) => {
      const count = cut.filter(({ tierId }) => tierId === id).reduce((sum, strips) => sum + strips.count, 0);
      return [id, { ...NONE, wanted: count, cut: count }] as const;
    }),
  );
}

/** Figures of a row; blank where there is none of it. */
function showStrips({ wanted, cut, held, short, coming }: Required<StripsSoFar>) {
  const some = (count: number) => (count === 0 ? '' : String(count));
  return {
    wanted: String(wanted),
    cut: some(cut),
    held: some(held),
    free: some(wanted - cut - held - short),
    coming: some(coming),
    toGet: some(short - coming),
  };
}

function shapeShades(reader: Reader, shares: readonly ShareOfLine[], units: Units, today: string) {
  const sellingOf = readSelling(
    reader,
    today,
    shares.map(({ line }) => line.cloth.id),
    units,
  );
  const most = Math.max(1, ...shares.map(({ share }) => share.short.wantedStrips));
  return shares.flatMap((one) => {
    const { cloth, shade } = one.line;
    const strips = addUp(stripsOfShare(one).map((each) => each.strips));
    const progress = shapeProgress(strips, most);
    if (!progress) return [];
    const fresh = toGetOf(one.line, [one.share], sellingOf);
    return [
      {
        chip: { colour: shade.colour, name: shade.name, href: shadePath(shade.id) },
        cloth: { name: cloth.name, href: clothPath(cloth.id) },
        ...showStrips(strips),
        length: strips.short > strips.coming ? sayToGet(fresh.ticks, units) : '',
        progress,
      },
    ];
  });
}

/** What was tapped of the sewing, beside what is planned; null where neither is known. */
function shapeSewing(reader: Reader, worked: WorkedGarment) {
  const { id } = worked.garment;
  const taps = readTaps(reader, [id]);
  const tapped = Math.round(tappedMinutes(taps, 'sew'));
  const { minutes } = sewingTimeOf(reader, worked, readGarmentWork(reader, id).sewingMinutes);
  const isDone = lastTap(taps, id, 'sew')?.tap === 'done';
  if (minutes === 0 && tapped === 0) return null;
  const said = `${isDone ? 'Done: ' : ''}${tapped === 0 ? 'none' : sayHours(tapped)} tapped${minutes === 0 ? '' : ` of ${sayHours(minutes)} planned`}`;
  const left = isDone ? 0 : Math.max(0, minutes - tapped);
  const parts = [
    ['solid', tapped],
    ['dashed', left],
  ] as const;
  return { said, bar: shapeBar(`Sewing: ${said}`, parts, Math.max(tapped + left, 1)) };
}
