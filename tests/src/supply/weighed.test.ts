import { describe, expect, it } from 'vitest';
import {
  amountWeighed,
  type SupplyOfRecipes,
  supplyFor,
  supplyNeeds,
  type WeighedThing,
} from '../../../src/supply/weighed.ts';

const supply = (name: string, more: Partial<SupplyOfRecipes> = {}): SupplyOfRecipes => ({
  name,
  measure: 'mass',
  dyeId: null,
  dye: '',
  auxiliary: null,
  onHand: 0,
  ...more,
});
const dye = (name: string, massMg: number, dyeId: number | null = null): WeighedThing => ({
  name,
  dyeId,
  chemical: null,
  massMg,
});
const VINEGAR = { kind: 'acetic-acid', form: 'vinegar-5' } as const;
const chemical = (name: string, of: WeighedThing['chemical'], massMg: number): WeighedThing => ({
  name,
  dyeId: null,
  chemical: of,
  massMg,
});

describe('the supply that a thing is weighed from', () => {
  const red = supply('Tub 1', { dyeId: 4, dye: 'Acid red' });
  const old = supply('Vinegar, old', { auxiliary: VINEGAR });
  const full = supply('Vinegar, full', { auxiliary: VINEGAR, onHand: 5 });
  const other = supply('Borax', { auxiliary: { kind: 'other', form: 'alkali' } });

  it('is known by the number of its dye, or by its name where the recipe has no more', () => {
    expect(supplyFor(dye('Red as it was called', 1, 4), [red])).toBe(red);
    expect(supplyFor(dye('acid RED ', 1), [red])).toBe(red);
    expect(supplyFor(dye('Acid red', 1, 5), [red])).toBe(null);
    expect(supplyFor(dye('', 1), [old])).toBe(null);
  });

  it('is of the same form, the one of the same name before the one that is not used up', () => {
    expect(supplyFor(chemical('vinegar', VINEGAR, 1), [red, old, full])).toBe(full);
    expect(supplyFor(chemical('vinegar, OLD', VINEGAR, 1), [red, old, full])).toBe(old);
    expect(supplyFor(chemical('vinegar', { kind: 'acetic-acid', form: '56' }, 1), [old, full])).toBe(null);
  });

  it('of another kind is known by its name alone', () => {
    const form = { kind: 'other', form: 'alkali' } as const;
    expect(supplyFor(chemical('Borax', form, 1), [other])).toBe(other);
    expect(supplyFor(chemical('Lime', form, 1), [other])).toBe(null);
  });
});

describe('what goes of a supply', () => {
  it('is the mass, or the volume of a liquid by its density', () => {
    // 20.12 g of vinegar at 1.006 g/mL are 20 mL.
    expect(amountWeighed(chemical('vinegar', VINEGAR, 20_120), 'volume')).toBe(20_000);
    expect(amountWeighed(chemical('vinegar', VINEGAR, 20_120), 'mass')).toBe(20_120);
    expect(amountWeighed(dye('Red', 20), 'volume')).toBe(null);
    expect(amountWeighed(chemical('vinegar', VINEGAR, 20_120), 'count')).toBe(null);
  });
});

describe('what planned batches need', () => {
  it('is added up by supply, with what nobody keeps', () => {
    const blue = supply('Blue', { dyeId: 1, dye: 'Blue', onHand: 100 });
    const red = supply('Red', { dyeId: 2, dye: 'Red', onHand: 100 });
    const things = [
      { ...dye('Blue', 60, 1), batch: 'D1' },
      { ...dye('Red', 60, 2), batch: 'D1' },
      { ...dye('Red', 41, 2), batch: 'D2' },
      { ...dye('Green', 1), batch: 'D2' },
      { ...dye('Grey', 0), batch: 'D2' },
    ];
    expect(supplyNeeds(things, [blue, red])).toEqual({
      needs: [
        { supply: blue, amount: 60, batches: ['D1'] },
        { supply: red, amount: 101, batches: ['D1', 'D2'] },
      ],
      notKept: ['Green'],
    });
  });
});
