import { dyedSwatchForm } from '../server/dye-bench/first-recipe/swatch-form.ts';
import { recordSwatch } from '../server/dye-bench/first-recipe/verbs.ts';
import type { Hand } from './hand.ts';

const CLOTH = 'Nylon chiffon 140';

/** Four acid dyes on the chiffon, each alone at three depths, and ten mixtures: what first recipes are worked out from. */
export function recordSwatches(hand: Hand): void {
  const ids = DYES.map((name) => {
    const row = hand.book.first(hand.book.db.selectFrom('dye').select('id').where('name', '=', name));
    if (!row) throw new Error(`the story knows no dye called ${name}`);
    return String(row.id);
  });
  for (const [at, [amounts, lab]] of SWATCHES.entries()) {
    const [l = '', a = '', b = ''] = lab.split(' ');
    const asked = {
      cloth_id: hand.id('cloth', CLOTH),
      ground_id: hand.id('shade', 'Undyed white'),
      dyes: amounts.flatMap((owf, dye) => (owf === 0 ? [] : [{ dye_id: ids[dye] ?? '', owf: String(owf) }])),
      level: 'level',
      how: 'instrument',
      viewing: 'D65/2',
      l,
      a,
      b,
      note: at === 0 ? 'Invented, as all swatches of this folder.' : '',
    };
    hand.fillsIn(hand.before(21, `08:${43 + Math.floor(at / 3)}`), 'Tamsin', asked, {
      schema: () => dyedSwatchForm(hand.book),
      write: recordSwatch,
    });
  }
}

const DYES = [
  'Harbour blue A (invented)',
  'Kelp green A (invented)',
  'Rowan red A (invented)',
  'Gorse yellow A (invented)',
];

/** In percent of each dye, and as it was read. */
const SWATCHES: readonly (readonly [amounts: readonly number[], lab: string])[] = [
  [[0, 0, 0, 0], '93.9 -0.3 1.5'],
  [[0.25, 0, 0, 0], '72.4 -1.5 -29.7'],
  [[1, 0, 0, 0], '53.2 9.6 -50.2'],
  [[4, 0, 0, 0], '33.8 26.3 -57.7'],
  [[0, 0.25, 0, 0], '69.9 -19.3 11.4'],
  [[0, 1, 0, 0], '49.5 -22.2 13.6'],
  [[0, 4, 0, 0], '29.8 -15.2 9.5'],
  [[0, 0, 0.25, 0], '63.5 31.2 -15.6'],
  [[0, 0, 1, 0], '46.1 37.0 -18.9'],
  [[0, 0, 4, 0], '31.1 32.9 -17.3'],
  [[0, 0, 0, 0.25], '87.8 -3.5 37.9'],
  [[0, 0, 0, 1], '80.3 1.7 55.0'],
  [[0, 0, 0, 4], '68.6 10.5 63.2'],
  [[0.5, 0, 0.5, 0], '46.5 24.2 -31.7'],
  [[0.3, 0, 0, 0.6], '65.2 -16.6 17.9'],
  [[0, 0, 0.4, 0.8], '56.2 20.7 18.5'],
  [[0.8, 0, 0.2, 0.3], '47.5 0.6 -16.6'],
  [[0, 0.5, 0, 0.5], '58.9 -22.2 23.8'],
  [[0.15, 0.1, 0.1, 0], '63.0 4.8 -11.0'],
  [[0, 0.3, 0.3, 0.2], '52.8 4.5 4.0'],
  [[1.5, 0, 0.6, 0], '37.3 22.6 -40.9'],
  [[0.4, 0.6, 0, 0], '51.2 -20.1 3.1'],
  [[0.2, 0, 0.15, 0.2], '61.1 7.0 -1.3'],
];
