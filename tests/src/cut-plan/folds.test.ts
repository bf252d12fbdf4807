import { describe, expect, it } from 'vitest';
import { foldLay, type LayOfPiece, type PlyRules, strokesOf } from '../../../src/cut-plan/folds.ts';
import { cm, mm } from '../../lengths.ts';

const ANY: PlyRules = { plyLimit: 16, foldLimit: 3, foldLineInStrips: true, foldAllowanceTicks: 0 };

/** Columns of one width side by side, in the unit given. */
function lay(columns: number, across: number, width: number, unit: (n: number) => number = cm): LayOfPiece {
  const run = { leftTicks: 0, acrossTicks: unit(across), alongTicks: unit(32), columns, stack: 1 };
  return { widthTicks: unit(width), heightTicks: unit(32), runs: [{ ...run, strips: columns }] };
}

// Drawn and counted by hand on folded paper strips.
describe('a lay folded in half', () => {
  it('is slit through all its plies', () => {
    // Four columns of 36 cm on 147 cm, selvedges together: fold at 73.5; the 3 cm over lie at the fold, cut at 1.5 and 37.5.
    expect(foldLay(lay(4, 36, 147), 1, ANY)).toEqual({
      folds: 1,
      foldLinesTicks: [cm('73.5')],
      markTicks: null,
      cutsTicks: [cm('1.5'), cm('37.5')],
      isInStrips: false,
      strokes: 3,
      // The end over 73.5 cm, two slits of 32 cm: 137.5 cm.
      strokesTicks: cm('137.5'),
      atAStroke: 2,
    });
    // Folded again at 36.75 and 110.25: from those folds at 0 and 36.
    expect(foldLay(lay(4, 36, 147), 2, ANY)).toMatchObject({
      foldLinesTicks: [cm('36.75'), cm('73.5'), cm('110.25')],
      cutsTicks: [0, cm(36)],
      strokes: 3,
      strokesTicks: cm('100.75'),
      atAStroke: 4,
      isInStrips: false,
    });
    // A third time the last folds lie in the middle of each strip: one slit at 18 cm ends all four.
    expect(foldLay(lay(4, 36, 147), 3, ANY)).toMatchObject({
      cutsTicks: [cm(18)],
      strokes: 2,
      atAStroke: 4,
      isInStrips: true,
    });
    // Flat: the end, three slits and one for what is over.
    expect(strokesOf(lay(4, 36, 147))).toEqual({ strokes: 5, strokesTicks: cm(275), atAStroke: 1 });
  });

  it('may have the middle strip on the fold, and a strip of the full width folded as it is', () => {
    expect(foldLay(lay(3, 49, 147), 1, ANY)).toMatchObject({
      cutsTicks: [cm('24.5')],
      strokes: 2,
      isInStrips: true,
    });
    expect(foldLay(lay(3, 49, 147), 2, ANY)).toBeNull();
    expect(foldLay(lay(1, 147, 147), 2, ANY)).toMatchObject({ strokes: 1, strokesTicks: cm('36.75') });
    // With 2 cm to trim off, a second fold would lie where it is trimmed.
    expect(foldLay(lay(1, 145, 147), 1, ANY)).toMatchObject({ strokes: 2, cutsTicks: [cm('72.5')] });
    expect(foldLay(lay(1, 145, 147), 2, ANY)).toBeNull();
  });

  it('keeps folds out of strips that may have none, and is folded no oftener than the cloth may be', () => {
    const rules = { ...ANY, foldLineInStrips: false };
    const often = (columns: number) => [1, 2, 3].filter((n) => foldLay(lay(columns, 12, 147), n, rules));
    expect([1, 2, 3, 4, 6, 8, 12].map(often)).toEqual([[], [1], [], [1, 2], [1], [1, 2, 3], [1, 2]]);
    expect(foldLay(lay(4, 36, 147), 2, { ...ANY, foldLimit: 1 })).toBeNull();
    expect(foldLay(lay(4, 36, 147), 0, ANY)).toBeNull();
  });

  it('needs cloth for what is lost at folds that are cut open', () => {
    const rules = { ...ANY, foldAllowanceTicks: mm(4) };
    // On 144.4 cm half of 4 mm is trimmed off each side of the fold.
    expect(foldLay(lay(4, 36, 144.4), 1, rules)?.cutsTicks).toEqual([mm(2), cm('36.2')]);
    // Twice folded: half of it at both ends of all four panels, 16 mm in all.
    expect(foldLay(lay(4, 36, 147), 2, rules)?.cutsTicks).toEqual([mm(2), cm('36.2')]);
    expect(foldLay(lay(4, 36, 145), 2, rules)).toBeNull();
    expect(foldLay(lay(4, 36, 144), 1, rules)).toBeNull();
    // A fold within a strip is not cut open.
    expect(foldLay(lay(3, 49, 147), 1, rules)?.cutsTicks).toEqual([cm('24.5')]);
  });

  it('leaves cloth that is kept unfolded: the left selvedge is laid to the edge of the strips', () => {
    const kept = { ...lay(2, 49, 147), keepsSpare: true };
    expect(foldLay(kept, 1, ANY)).toMatchObject({
      foldLinesTicks: [cm(49)],
      markTicks: cm(98),
      cutsTicks: [0, cm(49)],
      // The end over the two plies and the single cloth beside them, two slits.
      strokesTicks: cm(49 + 49 + 64),
    });
    expect(foldLay(kept, 1, { ...ANY, foldAllowanceTicks: mm(4) })).toBeNull();
    expect(foldLay({ ...lay(3, 49, 147), keepsSpare: true }, 1, ANY)?.markTicks).toBeNull();
  });

  it('cuts strips behind each other across all plies, and strips of two sizes only flat', () => {
    const run = { leftTicks: 0, acrossTicks: cm(36), alongTicks: cm(32), columns: 4, stack: 2, strips: 8 };
    const behind = { widthTicks: cm(147), heightTicks: cm(64), runs: [run] };
    expect(foldLay(behind, 2, ANY)).toMatchObject({ strokes: 4, atAStroke: 4 });
    expect(foldLay({ ...behind, runs: [{ ...run, strips: 7 }] }, 1, ANY)).toBeNull();
    const other = { ...run, leftTicks: cm(72), columns: 2, strips: 4 };
    expect(foldLay({ ...behind, runs: [{ ...run, columns: 2, strips: 4 }, other] }, 2, ANY)).not.toBeNull();
    expect(
      foldLay(
        {
          ...behind,
          runs: [
            { ...run, columns: 2, strips: 4 },
            { ...other, acrossTicks: cm(30) },
          ],
        },
        1,
        ANY,
      ),
    ).toBeNull();
    expect(
      foldLay(
        {
          ...behind,
          runs: [
            { ...run, columns: 2, strips: 4 },
            { ...other, leftTicks: cm(74) },
          ],
        },
        1,
        ANY,
      ),
    ).toBeNull();
    expect(foldLay({ ...behind, runs: [] }, 1, ANY)).toBeNull();
  });
});

/**
 * The fewest strokes that part a folded width into exactly so many strips, by trying every set of places on the folded
 * cloth and unfolding it; null where no set does. Written from folding paper alone: a place on the fold made last is
 * counted from 0, and every layer is cut there.
 */
function fewestStrokes(columns: number, across: number, width: number, folds: number, maySplit: boolean) {
  const panel = width / 2 ** folds;
  const foldLines = Array.from({ length: 2 ** folds - 1 }, (_, i) => (i + 1) * panel);
  const unfold = (at: number) =>
    Array.from({ length: 2 ** folds }, (_, layer) =>
      // The last fold lies at odd multiples of the panel's width.
      layer % 2 === 0 ? (layer + 1) * panel - at : layer * panel + at,
    ).filter((x) => x > 0 && x < width);
  const strips = (places: readonly number[]) => {
    const edges = [...new Set([0, width, ...places.flatMap(unfold)])].sort((a, b) => a - b);
    return edges.slice(1).filter((to, i) => {
      const from = edges[i] ?? 0;
      return to - from === across && (maySplit || !foldLines.some((line) => line > from && line < to));
    }).length;
  };
  const tryAll = (left: number, from: number, places: readonly number[]): boolean => {
    if (left === 0) return strips(places) === columns;
    for (let at = from; at <= panel; at += 1) if (tryAll(left - 1, at + 1, [...places, at])) return true;
    return false;
  };
  for (let count = 0; count <= 4; count += 1) if (tryAll(count, 0, [])) return count;
  return null;
}

describe('folds of small lays', () => {
  it('are those that trying every place finds, with as few strokes', () => {
    let tried = 0;
    for (const folds of [1, 2, 3])
      for (let columns = 1; columns <= 8; columns += 1)
        for (const spare of [0, 1, 2, 3])
          for (const foldLineInStrips of [true, false]) {
            const width = 4 * columns + spare;
            if (width % 2 ** folds !== 0 || columns / 2 ** folds > 3) continue;
            const found = foldLay(lay(columns, 4, width, mm), folds, { ...ANY, foldLineInStrips });
            const least = fewestStrokes(columns, 4, width, folds, foldLineInStrips);
            expect([columns, folds, spare, found === null ? null : found.strokes - 1]).toEqual([
              columns,
              folds,
              spare,
              least,
            ]);
            tried += 1;
          }
    expect(tried).toBe(48);
  });
});
