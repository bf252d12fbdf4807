import { LOT_COLOUR_FORM, recordLotColour } from '../server/shelf/lot/colour-form.ts';
import { EYE_FORM, saveEyeJudgement } from '../server/shelf/together/eye-form.ts';
import type { Hand } from './hand.ts';

/** Lots of two shades that were read with an instrument, and those that somebody held side by side. */
export function compareLots(hand: Hand): void {
  const gold = lotCodes(hand, 'Polyester organza 150', 'Lantern gold');
  const foam = lotCodes(hand, 'Polyester tulle 137', 'Foam');
  readColours(hand, gold, ['76.6 9.6 62.9', '76.3 9.9 62.5', '74.9 11.3 60.6']);
  readColours(hand, foam, ['90.4 -5.0 -2.1', '89.6 -5.6 -2.9']);
  const [one = '', other = ''] = gold;
  look(
    hand,
    { one, other },
    { verdict: 'may meet', light: 'daylight, north window', note: 'Over white card.' },
  );
  const [first = '', , third = ''] = foam;
  look(hand, { one: first, other: third }, { verdict: 'apart', light: 'overcast sky', note: '' });
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

function readColours(hand: Hand, codes: readonly string[], labs: readonly string[]): void {
  for (const [at, lab] of labs.entries()) {
    const [l = '', a = '', b = ''] = lab.split(' ');
    const asked = { l, a, b, how: 'instrument', viewing: 'D65/10' };
    hand.fillsIn(hand.before(1, `10:${20 + at}`), 'Tamsin', asked, {
      schema: () => LOT_COLOUR_FORM,
      write: (tx, form) => recordLotColour(tx, codes[at] ?? '', form),
    });
  }
}

function look(
  hand: Hand,
  lots: { one: string; other: string },
  seen: { verdict: string; light: string; note: string },
) {
  hand.fillsIn(
    hand.before(1, '11:05'),
    'Tamsin',
    { ...seen, state: 'dry' },
    {
      schema: () => EYE_FORM,
      write: (tx, form) => saveEyeJudgement(tx, lots, form),
    },
  );
}
