import { LOT_COLOUR_FORM, recordLotColour } from '../server/shelf/lot/colour-form.ts';
import { EYE_FORM, saveEyeJudgement } from '../server/shelf/together/eye-form.ts';
import type { Hand } from './hand.ts';

/** Lots of two shades that were read with an instrument, and those that somebody held side by side. */
export function compareLots(hand: Hand): void {
  const [gold, foam] = [
    lotCodes(hand, 'Polyester organza 150', 'Lantern gold'),
    lotCodes(hand, 'Polyester tulle 137', 'Foam'),
  ];
  readColours(hand, [
    [gold[0], '76.6 9.6 62.9'],
    [gold[1], '76.3 9.9 62.5'],
    [gold[2], '74.9 11.3 60.6'],
    [foam[0], '90.4 -5.0 -2.1'],
    [foam[1], '89.6 -5.6 -2.9'],
  ]);
  const inDaylight = { verdict: 'may meet', light: 'daylight, north window', note: 'Over white card.' };
  look(hand, 7.3, [gold[0], gold[1]], inDaylight);
  look(hand, 7.2, [foam[0], foam[2]], { verdict: 'apart', light: 'overcast sky', note: '' });
}

function lotCodes({ book }: Hand, cloth: string, shade: string): string[] {
  const lots = book.db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select('lot.code')
    .where('cloth.name', '=', cloth)
    .where('shade.name', '=', shade)
    .where(({ exists, selectFrom }) =>
      exists(
        selectFrom('piece')
          .select('piece.id')
          .whereRef('piece.lot_id', '=', 'lot.id')
          .where('piece.on_hand_ticks', '>', 0),
      ),
    )
    .orderBy('lot.id');
  return book.all(lots).map(({ code }) => code);
}

function readColours(
  hand: Hand,
  colours: readonly (readonly [code: string | undefined, lab: string])[],
): void {
  for (const [at, [code = '', lab]] of colours.entries()) {
    const [l = '', a = '', b = ''] = lab.split(' ');
    const asked = { l, a, b, how: 'instrument', viewing: 'D65/10' };
    hand.fillsIn(hand.minutesAgo(7.9 - at / 10), 'Tamsin', asked, {
      schema: () => LOT_COLOUR_FORM,
      write: (tx, form) => recordLotColour(tx, code, form),
    });
  }
}

function look(
  hand: Hand,
  minutesAgo: number,
  [one = '', other = '']: readonly (string | undefined)[],
  seen: { readonly verdict: string; readonly light: string; readonly note: string },
): void {
  const asked = { ...seen, state: 'dry' };
  hand.fillsIn(hand.minutesAgo(minutesAgo), 'Tamsin', asked, {
    schema: () => EYE_FORM,
    write: (tx, form) => saveEyeJudgement(tx, { one, other }, form),
  });
}
