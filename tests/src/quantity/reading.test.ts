import { describe, expect, it } from 'vitest';
import { readSwatchArea } from '../../../src/buying/swatch.ts';
import { readLiquorRatio, readOwf, readStockStrength } from '../../../src/dye/bench-figures.ts';
import { readAddition, readPh, readRamp, readTemperature } from '../../../src/dye/recipe-figures.ts';
import { readFine, readRatios, readSewingRate, readStitches } from '../../../src/garment/stitch-figures.ts';
import { readArea } from '../../../src/quantity/area.ts';
import { readFullness } from '../../../src/quantity/fullness.ts';
import { readLength } from '../../../src/quantity/length.ts';
import { readMass, readMassPerArea } from '../../../src/quantity/mass.ts';
import { readMoney } from '../../../src/quantity/money.ts';
import { readPower } from '../../../src/quantity/power.ts';
import { readVolume } from '../../../src/quantity/volume.ts';
import { readColourDifference, readPercent, readWhole } from '../../../src/quantity/whole.ts';

const length = (typed: string) => readLength(typed, 'm');
const perArea = (typed: string) => readMassPerArea(typed, 'g/m²');
const euros = (typed: string) => readMoney(typed, 'EUR');
const fine = (typed: string) => readFine(typed, 'mm');
const stitches = (typed: string) => readStitches(typed, 'cm');

describe('letters that a person typed', () => {
  it.each([
    [length, '2 yd 3 in'],
    [length, '5 metres'],
    [(typed: string) => readMass(typed, 'g'), '2 lb 4 oz'],
    [(typed: string) => readVolume(typed, 'l'), '2 us gal'],
    [readPower, '1.5 kw'],
    [perArea, '8 momme'],
    [perArea, '2 oz/sq yd'],
    [readArea, '3 x 1.5 m'],
    [readArea, '3 m x 150 cm'],
    [readArea, '5 sq yd'],
    [(typed: string) => readSwatchArea(typed, 'in²'), '120 sq cm'],
    [euros, 'eur 12.50'],
    [euros, '12.50 eur'],
    [readPercent, '12 percent'],
    [readFullness, '2.5 times'],
    [readFullness, '2.5x'],
    [readFullness, '2.5 to 1'],
    [readColourDifference, '1 de00'],
    [readOwf, '2 owf'],
    [readLiquorRatio, '20 l/kg'],
    [readStockStrength, '1 g in 100 ml'],
    [readAddition, '5 g/l'],
    [readAddition, '5 g per litre'],
    [readAddition, '2 owf'],
    [readTemperature, '60 c'],
    [readTemperature, '140 of'],
    [readPh, 'ph 5'],
    [readRamp, '1.5 c per minute'],
    [fine, '0.5 mm'],
    [fine, '0.25 inches'],
    [stitches, '4 per cm'],
    [stitches, '10 to the inch'],
    [stitches, '10 spi'],
    [readRatios, '3.2 times + 5.1x'],
    [(typed: string) => readSewingRate(typed, 'm'), '2 yd a minute'],
  ])('may be large or small in a unit: %o %j', (read, typed) => {
    const small = read(typed);
    expect(small.ok, typed).toBe(true);
    expect(read(typed.toUpperCase())).toEqual(small);
  });

  it.each([
    [readWhole, 'NaN', 'NaN cannot be read as a number: write it as 12.'],
    [readPercent, 'ABC %', 'ABC cannot be read as a number: write it as 12 1/2 or as 12.5.'],
    [length, '5 Furlongs', 'Furlongs is not a unit used here: write m, yd, ft, dm, in, cm or mm.'],
    [length, 'Two m', 'Two has no number before it: write the number first.'],
    [length, '2 YD 5 Cm', '2 YD 5 Cm mixes metric and imperial units: write it in one of them.'],
    [perArea, '8 Denier', 'Denier is not a mass per area: write g/m², oz/yd² or momme.'],
    [
      perArea,
      '8 MM',
      'MM can mean momme or millimetres: write momme, or write the mass per area in g/m² or oz/yd².',
    ],
    [euros, '12 Usd', 'Usd is not EUR: write the amount in EUR.'],
    [fine, 'Fine', 'Fine cannot be read as a number: write it as 2 3/4 or as 2.75.'],
  ])('are repeated as they are: %o %j', (read, typed, reason) => {
    expect(read(typed)).toEqual({ ok: false, reason });
  });
});
