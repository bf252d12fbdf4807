import { ABOUT } from '../../../src/quantity/figure-show.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { queryText } from '../../kit/address.ts';
import type { Choice } from '../../kit/choices.ts';
import { garmentPath, versionsPath } from '../../kit/paths.ts';
import { showMoment } from '../../kit/when.ts';
import type { Page } from '../../web/page-frame.ts';
import { drawElevations } from '../drawing/elevation.ts';
import { type Names, readNames, shadesOf } from '../garment/names.ts';
import { type Garment, readGarment, readOpenGarments } from '../garment/records.ts';
import { changesBetween } from './changes.ts';
import { showStrip } from './differences.ts';
import { clothsOf, readVersionTimes } from './queries.ts';
import { type NeedChange, type NeedFigures, needsBeside, readState, type State } from './worked.ts';

/** Two states of a garment side by side, or of a garment and another. @throws {Refusal} unknown */
export function comparePage(reader: Reader, code: string, query: unknown, units: Units) {
  const garment = readGarment(reader, code);
  const versions = readVersionTimes(reader, garment.id);
  const last = String(versions.at(-1)?.number ?? garment.code);
  const before = String(versions.at(-2)?.number ?? last);
  const asked = { from: queryText(query, 'from') || before, to: queryText(query, 'to') || last };
  const [from, to] = [readState(reader, garment, asked.from), readState(reader, garment, asked.to)];
  const both = [from.worked.garment, to.worked.garment];
  const names = readNames(reader, both.flatMap(clothsOf), both.flatMap(shadesOf));
  const data = {
    garment: { code: garment.code, name: garment.name, href: garmentPath(code) },
    versions: versionsPath(code),
    action: `${versionsPath(code)}/compare`,
    choices: [
      ...versions.map(({ number, at }) => ({
        value: String(number),
        label: `Version ${number}, ${showMoment(at)}`,
      })),
      ...otherGarments(reader, garment),
    ],
    from: stateView(from, asked.from, names, units),
    to: stateView(to, asked.to, names, units),
    changes: changesBetween(from.worked.garment, to.worked.garment, names, units),
    /** Every need of both, those that differ first. */
    needs: needsBeside(from, to)
      .map((need) => needView(need, names, units))
      .sort((a, b) => Number(b.differs) - Number(a.differs)),
    shades: [...new Set(both.flatMap(shadesOf))].map((id) => ({
      letter: names.letter(id),
      chip: names.chip(id),
    })),
  };
  return {
    view: 'garments/versions/compare',
    data,
    title: `${garment.name}: two states compared`,
    room: 'garments',
  } satisfies Page;
}

function otherGarments(reader: Reader, garment: Garment): Choice[] {
  const open = readOpenGarments(reader).filter(({ id }) => id !== garment.id);
  return [garment, ...open].map(({ code, name }) => ({
    value: code,
    label: `${code} as it is now, ${name}`,
  }));
}

function stateView({ name, worked }: State, asked: string, names: Names, units: Units) {
  const [first] = worked.problems;
  return {
    asked,
    name,
    drawing: drawElevations(worked, names, units)[0] ?? null,
    /** why it cannot be worked out in full */
    trouble: first ? `It cannot be worked out in full: ${first.message}` : '',
  };
}

function needView(need: NeedChange, names: Names, units: Units) {
  const { from, to } = need;
  const view = ({ strips, lengthTicks, sizes }: NeedFigures) => ({
    strips,
    length: lengthTicks === null ? 'no length would do' : showLength(lengthTicks, units, 'up'),
    sizes: sizes.map((size) => `${size.count} of ${showStrip(size, units)}`),
  });
  const lengthBy =
    from.lengthTicks === null || to.lengthTicks === null ? 0 : to.lengthTicks - from.lengthTicks;
  return {
    letter: names.letter(need.shadeId),
    chip: names.chip(need.shadeId),
    cloth: names.cloth(need.clothId),
    from: view(from),
    to: view(to),
    /** "+2", "−3" or '' where it is the same */
    strips: signed(to.strips - from.strips, String),
    length: signed(lengthBy, (ticks) => showLength(ticks, units, 'near')),
    differs: JSON.stringify(from) !== JSON.stringify(to),
  };
}

/** A difference with its sign, "+2" or "−2"; '' for none. */
function signed(by: number, show: (amount: number) => string): string {
  if (by === 0) return '';
  const shown = show(Math.abs(by));
  const sign = by > 0 ? '+' : '−';
  return shown.startsWith(ABOUT) ? `${ABOUT}${sign}${shown.slice(ABOUT.length)}` : `${sign}${shown}`;
}
