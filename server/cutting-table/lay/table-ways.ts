import type { LayOfPiece, PlyRules } from '../../../src/cut-plan/folds.ts';
import { type Stack, secondsOf, stackLays, type TableRates } from '../../../src/cut-plan/plies.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { sayMinutes } from '../../kit/when.ts';
import { countOf, listed } from '../../kit/words.ts';
import { readAtTable } from '../../setup/rates/at-table.ts';

/** How a cloth may be cut at the table, and what the work takes there. */
export interface TableWays {
  readonly rules: PlyRules;
  readonly rates: TableRates;
}

const rulesOf = prepared((db, ids: Param<readonly number[]>) =>
  db
    .selectFrom('cloth')
    .select(['id', 'ply_limit', 'fold_limit', 'fold_line_in_strips'])
    .where('id', 'in', inList(ids)),
);

/** The ways of each cloth, by its number. */
export function readTableWays(reader: Reader, clothIds: readonly number[]): (clothId: number) => TableWays {
  const rates = readAtTable(reader);
  const rows = clothIds.length === 0 ? [] : reader.all(rulesOf([...new Set(clothIds)]));
  return (clothId) => {
    const row = rows.find(({ id }) => id === clothId);
    return {
      rates,
      rules: {
        plyLimit: row?.ply_limit ?? 1,
        foldLimit: row?.fold_limit ?? 0,
        foldLineInStrips: row?.fold_line_in_strips !== 0,
        foldAllowanceTicks: rates.foldAllowanceTicks,
      },
    };
  };
}

/** "4 plies: 2 folds; 8 strips at a stroke"; '' for one length that lies flat. */
export function sayStack({ lays, plies, folded, atAStroke }: Stack): string {
  if (plies === 1) return '';
  const parts = [
    ...(lays.length > 1 ? [`${lays.length} lengths on each other`] : []),
    ...(folded ? [countOf(folded.folds, 'fold', 'folds')] : []),
  ];
  return `${countOf(plies, 'ply', 'plies')}: ${parts.join(', each with ')}; ${countOf(atAStroke, 'strip', 'strips')} at a stroke`;
}

/** How a length is folded and where it is cut then, for whoever folds it. */
export interface FoldView {
  readonly fold: string;
  readonly cuts: string;
  /** whether strips have a fold line in them */
  readonly inStrips: boolean;
}

/** null where the lengths of a stack lie flat. */
export function shapeFold({ folded }: Pick<Stack, 'folded'>, units: Units): FoldView | null {
  if (folded === null) return null;
  const { folds, markTicks, foldLinesTicks, cutsTicks, isInStrips } = folded;
  const size = (ticks: number) => showSize(ticks, units, 'near');
  const onto =
    markTicks === null
      ? 'Selvedges together'
      : `Left selvedge onto a mark ${size(markTicks)} from it, the rest lying single`;
  const again = ['', '', ', then in half again', ', then in half twice more'][folds];
  const where = listed(foldLinesTicks.map(size));
  const from = folds > 1 ? 'the fold made last' : 'the fold';
  return {
    fold: `${onto}${again}: ${foldLinesTicks.length === 1 ? 'the fold lies' : 'folds lie'} ${where} from the left selvedge${isInStrips ? ', in strips' : ', between strips'}.`,
    cuts:
      cutsTicks.length === 0
        ? ''
        : `Through all plies, from ${from}, at ${listed(cutsTicks.map((at) => (at === 0 ? '0 (slit the fold open)' : size(at))))}.`,
    inStrips: isInStrips,
  };
}

/** What lays take at the table as they are stacked, and one by one lying flat, in whole minutes rounded up. */
export function tableMinutes(lays: readonly LayOfPiece[], { rules, rates }: TableWays) {
  const flat = { ...rules, plyLimit: 1, foldLimit: 0 };
  const minutes = (of: PlyRules) => Math.ceil(secondsOf(stackLays(lays, of, rates)) / 60);
  return { minutes: minutes(rules), flatMinutes: minutes(flat) };
}

/** "2 h 5 min at the table; flat, one by one, 3 h". */
export function sayTableMinutes({ minutes, flatMinutes }: ReturnType<typeof tableMinutes>): string {
  const stacked = `about ${sayMinutes(minutes)}`;
  return minutes < flatMinutes ? `${stacked}; one by one, ${sayMinutes(flatMinutes)}` : stacked;
}
