import { showPh } from '../../../src/dye/recipe-figures.ts';
import { sayInWater, sequestrantMg, sodaLostMg } from '../../../src/dye/water.ts';
import type { Reader } from '../../database/book.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay } from '../../kit/when.ts';
import type { Page } from '../../web/page-frame.ts';
import { WATER } from './form.ts';
import { readWaterTests, type WaterTest } from './store.ts';

/** The water that baths are made with, as it was measured, and its history. */
export function waterPage(reader: Reader, typed: Typed = {}) {
  const tests = readWaterTests(reader);
  const [now] = tests;
  const data = {
    requestKey: mintKey(),
    fields: drawFields(WATER.shape, typed),
    tests: tests.map(shape),
    /** what the hardness takes out of a bath; '' where it is not known */
    lost: now && now.hardnessTenths !== null ? sayLost(now) : '',
  };
  return { view: 'setup/water', data, title: 'Water', room: 'setup' } satisfies Page;
}

function shape({ onDay, alkalinityTenths, hardnessTenths, pHTenths, source, typed, person }: WaterTest) {
  const asTyped = (text: string | undefined, said: string) => {
    const plain = !text || /^[\d.,\s]*$/.test(text) || `${text} mg/L` === said || text === said;
    return plain ? '' : `typed as ${text}`;
  };
  const alkalinity = sayInWater(alkalinityTenths);
  const hardness = hardnessTenths === null ? '' : sayInWater(hardnessTenths);
  return {
    day: showDay(onDay),
    alkalinity,
    alkalinityTyped: asTyped(typed.alkalinity, alkalinity),
    hardness,
    hardnessTyped: hardness === '' ? '' : asTyped(typed.hardness, hardness),
    pH: pHTenths === null ? '' : showPh(pHTenths),
    source,
    person,
  };
}

function sayLost(test: WaterTest): string {
  const soda = (sodaLostMg(test) / 1000).toFixed(2);
  const edta = (sequestrantMg(test) / 1000).toFixed(2);
  return `In each litre this hardness takes ${soda} g of soda ash, which falls as chalk (worked out from molar masses), and ${edta} g of EDTA disodium dihydrate binds it, mole for mole (worked out). Sources differ on whether a sequestrant pulls the metal out of metal-complex dyes: dye a swatch.`;
}
