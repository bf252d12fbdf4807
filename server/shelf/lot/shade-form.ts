import { z } from 'zod';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { withBlank } from '../../kit/choices.ts';
import { idField, optionalText } from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { lotPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { listed } from '../../kit/words.ts';
import { inForce } from '../../ledger/standing.ts';
import { readTierNames } from '../../ledger/tier-names.ts';
import { conflict, invalid, unknown } from '../../refusal.ts';

const shadeFields = () => ({
  kept_as: idField('the shade that it is kept as', { label: 'Keep as' }),
  kept_note: optionalText({ max: 2000, lines: true, label: 'Why', kind: 'text', size: 'long' }),
});

export const LOT_SHADE = z.strictObject(shadeFields());

const lotCalled = prepared((db, code: Param<string>) =>
  db
    .selectFrom('lot')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select(['lot.id', 'lot.code', 'lot.origin', 'lot.shade_id', 'lot.joined_to_id', 'shade.name as shade'])
    .where('lot.code', '=', code),
);
const joinedTo = prepared((db, lotId: Param<number>) =>
  db.selectFrom('lot').select('code').where('joined_to_id', '=', lotId).limit(1),
);
const shadeNamed = prepared((db, id: Param<number>) =>
  db.selectFrom('shade').select('name').where('id', '=', id),
);

/**
 * Keeps a dyed lot that came out off its shade as another; the last counts, so that it may be put back.
 * @throws {Refusal} where it was not dyed here, counts as one with others, or tiers have cut or hold cloth of it
 */
export function keepAsShade(tx: Tx, code: string, form: z.output<typeof LOT_SHADE>): Answer {
  const lot = tx.first(lotCalled(code));
  if (!lot) throw unknown(`lot ${code.slice(0, 40)}`);
  const shade = tx.first(shadeNamed(form.kept_as));
  if (!shade) throw invalid('kept_as', 'Keep as: choose a shade.');
  if (lot.origin !== 'dyed')
    throw conflict(`${code} was bought: only what was dyed here is kept as another shade.`);
  if (form.kept_as === lot.shade_id)
    throw invalid('kept_as', `Keep as: ${code} is ${shade.name} already. Choose another.`);
  if (lot.joined_to_id !== null || tx.first(joinedTo(lot.id)))
    throw conflict(`${code} counts as one with other lots: part them first.`, {
      text: `Lot ${code}`,
      href: lotPath(code),
    });
  const users = readUsers(tx, lot.id);
  if (users.length > 0)
    throw conflict(
      `${code} is used as ${lot.shade} for ${listed(users)}. Undo that first, or leave it as it is.`,
    );
  tx.run(
    tx.db.insertInto('lot_shade').values({
      lot_id: lot.id,
      shade_id: form.kept_as,
      note: form.kept_note,
      at: tx.at,
      person_id: tx.personId,
      request_key: tx.requestKey,
    }),
  );
  return { location: lotPath(code), said: `Lot ${code} is kept as ${shade.name}; it was ${lot.shade}.` };
}

/** Tiers that hold cloth of a lot, or have strips cut from it. */
function readUsers(tx: Tx, lotId: number): string[] {
  const { db } = tx;
  const holds = db
    .selectFrom('hold')
    .innerJoin('piece', 'piece.id', 'hold.piece_id')
    .select('hold.tier_id')
    .where('piece.lot_id', '=', lotId)
    .where('hold.tier_id', 'is not', null);
  const cuts = db
    .selectFrom('entry')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .select('entry.tier_id')
    .where('piece.lot_id', '=', lotId)
    .where('entry.kind', '=', 'cut')
    .where('entry.tier_id', 'is not', null)
    .where(inForce('entry'), '=', 1);
  const rows = tx.all(
    db
      .selectFrom('tier')
      .innerJoin('garment', 'garment.id', 'tier.garment_id')
      .select(['tier.id', 'garment.code'])
      .where((of) => of.or([of('tier.id', 'in', holds), of('tier.id', 'in', cuts)]))
      .orderBy('garment.code')
      .orderBy('tier.position'),
  );
  const tierName = readTierNames(
    tx,
    rows.map(({ id }) => id),
  );
  return rows.map(({ id, code }) => `${tierName(id)} of ${code}`);
}

const keptBefore = prepared((db, lotId: Param<number>) =>
  db
    .selectFrom('lot_shade')
    .innerJoin('shade', 'shade.id', 'lot_shade.shade_id')
    .innerJoin('person', 'person.id', 'lot_shade.person_id')
    .select(['shade.name', 'lot_shade.note', 'lot_shade.at', 'person.name as person'])
    .where('lot_id', '=', lotId)
    .orderBy('lot_shade.id'),
);
const shades = prepared((db) => db.selectFrom('shade').select(['id', 'name']).orderBy('name'));

/** What a dyed lot was kept as, and the form to keep it as another shade; null of a lot that was bought. */
export function shapeLotShade(
  reader: Reader,
  lot: { readonly id: number; readonly code: string; readonly origin: string; readonly shade_id: number },
  typed: Typed | null,
) {
  if (lot.origin !== 'dyed') return null;
  const { kept_as, kept_note } = drawFields(shadeFields(), typed ?? {});
  const others = reader.all(shades()).filter(({ id }) => id !== lot.shade_id);
  return {
    action: `${lotPath(lot.code)}/shade`,
    requestKey: mintKey(),
    before: reader
      .all(keptBefore(lot.id))
      .map(
        ({ name, note, at, person }) =>
          `Kept as ${name}: ${person}, ${showMoment(at)}.${note === '' ? '' : ` ${note}`}`,
      ),
    fields: [
      {
        ...kept_as,
        options: withBlank(
          others.map(({ id, name }) => ({ value: String(id), label: name })),
          'choose',
        ),
      },
      kept_note,
    ],
  };
}
