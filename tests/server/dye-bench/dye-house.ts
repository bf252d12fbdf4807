import type supertest from 'supertest';
import { dyeWorld } from '../../src/colour/prediction/dye-worlds.ts';
import { openTestHouse, type TestHouse } from '../support.ts';
import { makeGround } from './recipe/making.ts';

/** Invented dyes whose law is not the model's, as an instrument would read them. */
export const DYE_WORLD = dyeWorld(23, 'exhaustion', 3, '10');

/** As an instrument shows it. */
export const tenths = (value: number) => String(Math.round(value * 10) / 10);

/** A house with two cloths of silk and three acid dyes, whose swatches are recorded one by one. */
export interface DyeHouse {
  readonly house: TestHouse;
  readonly cloth: number;
  readonly other: number;
  readonly ground: number;
  readonly otherGround: number;
  readonly lotId: number;
  readonly dyeIds: readonly number[];
  /** Records a swatch of so much of each dye, in percent, as it would be read. */
  record(amounts: readonly number[], changed?: Record<string, unknown>): supertest.Test;
}

export async function openDyeHouse(names: readonly string[]): Promise<DyeHouse> {
  const house = await openTestHouse();
  const silk = (name: string) => ({ name, content: { silk: 100 }, usableWidth: '110 cm', gramsPerM2: 40 });
  const { habotai, chiffon } = house.write((tx) => ({
    habotai: makeGround(tx, silk('Silk habotai')),
    chiffon: makeGround(tx, silk('Silk chiffon')),
  }));
  for (const name of names) {
    const dye = { name, dye_class: 'acid-levelling', price: '10', price_for: '100 g' };
    await house.submit('/dye-bench/dyes', dye).expect(303);
  }
  const dyeIds = house.book
    .all(house.book.db.selectFrom('dye').select('id').orderBy('id'))
    .map(({ id }) => id);
  return {
    house,
    cloth: habotai.clothId,
    other: chiffon.clothId,
    ground: habotai.shadeId,
    otherGround: chiffon.shadeId,
    lotId: habotai.lotId,
    dyeIds,
    record(amounts, changed = {}) {
      const { l, a, b } = DYE_WORLD.shadeOf(amounts);
      return house.send('/dye-bench/first-recipe/swatches', {
        cloth_id: String(habotai.clothId),
        ground_id: String(habotai.shadeId),
        dyes: amounts.flatMap((owf, dye) =>
          owf > 0 ? [{ dye_id: String(dyeIds[dye]), owf: String(owf) }] : [],
        ),
        level: 'level',
        how: 'instrument',
        viewing: 'D65/10',
        l: tenths(l),
        a: tenths(a),
        b: tenths(b),
        ...changed,
      });
    },
  };
}
