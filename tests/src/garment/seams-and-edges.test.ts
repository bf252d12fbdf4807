import { expect, it } from 'vitest';
import {
  LOWER_EDGES,
  SEAM_KINDS,
  UPPER_EDGES,
  usualEdge,
  usualSeam,
} from '../../../src/garment/seams-and-edges.ts';
import { readColourDifference, showColourDifference } from '../../../src/quantity/whole.ts';
import { inch, mm } from '../../lengths.ts';

it('takes the usual allowances of seams and edges from the handbooks that name them', () => {
  // Conover, Complete Course in Dressmaking, 1922: a French seam ⅛ in and then ¼ in (vol. 1), a narrow hem of
  // 1/16 in and ⅛ in (vol. 2).
  expect(usualSeam('french', 'imperial').ticks).toBe(inch('1/8') + inch('1/4'));
  expect(usualEdge('narrow', 'imperial').ticks).toBe(inch('1/16') + inch('1/8'));
  // webcasty.com: gathering rows ½ and ¼ in from the edge, inside a seam of ⅝ in.
  expect(usualEdge('seam', 'imperial').ticks).toBe(inch('5/8'));
  // Common practice: an overlock trims a rolled hem by up to ¼ in; what is raw or bound takes nothing.
  expect(usualEdge('rolled', 'imperial').ticks).toBeLessThanOrEqual(inch('1/4'));
  expect([usualEdge('raw', 'imperial').ticks, usualEdge('bound', 'metric').ticks]).toEqual([0, 0]);
});

it('takes nearly the same, in whole millimetres, for a reader in metric', () => {
  const near = (metric: number, imperial: number) => {
    expect(metric % mm(1)).toBe(0);
    // A plain seam is 1 cm and not 1.27: common practice in either system.
    expect(Math.abs(metric - imperial)).toBeLessThanOrEqual(mm(3));
  };
  for (const kind of SEAM_KINDS) near(usualSeam(kind, 'metric').ticks, usualSeam(kind, 'imperial').ticks);
  for (const edge of UPPER_EDGES) near(usualEdge(edge, 'metric').ticks, usualEdge(edge, 'imperial').ticks);
  expect(UPPER_EDGES).toEqual(['seam', ...LOWER_EDGES]);
});

it('reads how far lots that meet may differ', () => {
  expect(readColourDifference('0,8')).toMatchObject({ ok: true, value: 80 });
  expect(readColourDifference('1 ½ ΔE00')).toMatchObject({ ok: true, value: 150 });
  expect(readColourDifference('21')).toEqual({ ok: false, reason: 'Write 20 or less.' });
  expect(readColourDifference('-1').ok).toBe(false);
  expect(showColourDifference(85)).toBe('0.85');
});
