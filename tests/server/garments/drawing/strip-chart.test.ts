import { describe, expect, it } from 'vitest';
import { drawStripChart } from '../../../../server/garments/drawing/strip-chart.ts';
import { names } from './drawn.ts';

describe('the order of a tier’s strips', () => {
  const order = [
    { shadeId: 1, strips: 2 },
    { shadeId: 2, strips: 1 },
  ];

  it('is charted in rows of twenty that hold every strip once, and said in letters and counts', () => {
    const chart = drawStripChart(order, 230, 1, names);
    expect(chart.rows.map(({ first }) => first)).toEqual(
      Array.from({ length: 12 }, (_, row) => 1 + 20 * row),
    );
    const counted = chart.rows.flatMap(({ runs }) => runs.map(({ text }) => Number.parseInt(text, 10) || 1));
    expect(counted.reduce((sum, strips) => sum + strips, 0)).toBe(230);
    expect(chart.words).toBe('1 A, 1 B, 1 A: 76 times, then 1 A, 1 B');
    expect(chart.start).toBe('Starts 1 strip into the order.');
    for (const { x, width } of chart.rows.flatMap(({ runs }) => runs)) {
      expect(x).toBeGreaterThanOrEqual(0);
      expect(x + width).toBeLessThanOrEqual(chart.width);
    }
  });

  it('is drawn once round where there are more strips than can be looked over', () => {
    const chart = drawStripChart(order, 1000, 0, names);
    expect(chart.rows).toHaveLength(1);
    expect([chart.words, chart.part]).toEqual([
      '2 A, 1 B: 333 times, then 1 A',
      'Drawn once round the order of 3 strips.',
    ]);
    expect(drawStripChart([{ shadeId: 1, strips: 1 }], 6, 0, names).words).toBe('6 A');
  });
});
