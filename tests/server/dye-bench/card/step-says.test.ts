import { expect, it } from 'vitest';
import { sayStep } from '../../../../server/dye-bench/card/step-says.ts';
import { orderOfWork } from '../../../../src/dye/order-of-work.ts';
import { starterRecipe } from '../../../../src/dye/starter-recipe.ts';

const COTTON = [{ fibre: 'cotton', shareBp: 10_000 }] as const;

it('does not say the title of a step again below it', () => {
  const made = starterRecipe(COTTON, 'reactive', [{ name: 'Kelp', owfMilli: 1000 }]);
  const steps = made ? orderOfWork(made, COTTON) : [];
  expect(steps.length).toBeGreaterThan(8);
  for (const step of steps) {
    const says = sayStep(step, 5_000_000);
    expect(says).not.toBe('');
    expect(says.startsWith(`${step.title}. `)).toBe(false);
    expect(step.says.endsWith(says)).toBe(true);
  }
});

it('gives the water of a stock vat: a twentieth to a tenth of 7.2 L are 360 to 720 mL', () => {
  const made = starterRecipe(COTTON, 'vat', [{ name: 'Kelp', owfMilli: 1000 }], 'hot (IN)');
  const vat = made && orderOfWork(made, COTTON).find(({ kind }) => kind === 'vat');
  if (!vat) throw new Error('no stock vat');
  expect(sayStep(vat, 7_200_000)).toMatch(/In a tenth to a twentieth.* Water for it: 360 mL to 720 mL\.$/);
});
