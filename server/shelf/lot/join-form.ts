import { z } from 'zod';
import { readColourDifference, showColourDifference } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { withBlank } from '../../kit/choices.ts';
import { choiceField, field, optionalReading, optionalText } from '../../kit/fields.ts';
import { asked, drawFields } from '../../kit/form-drawing.ts';
import { lotPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import { joinLots } from '../../ledger/joined-lots.ts';
import { whichCanUndo } from '../../ledger/undo.ts';
import type { Asker } from '../../web/house.ts';

const HOW = ['instrument', 'photo', 'eye'] as const;
const HOW_JUDGED = { instrument: 'by instrument', photo: 'from a photograph', eye: 'by eye' } as const;

export const LOT_JOIN = z
  .strictObject({
    other: asked(
      field((typed, refuse) => (typed === '' ? refuse('Choose the lot that it is one with.') : typed)),
      { label: 'One with', kind: 'select' },
    ),
    judged: choiceField(HOW, 'how it was judged', {
      label: 'How it was judged',
      options: withBlank(
        HOW.map((value) => ({ value, label: HOW_JUDGED[value] })),
        'choose',
      ),
    }),
    delta: optionalReading(readColourDifference, {
      label: 'ΔE00 between them',
      size: 'short',
      hint: 'As measured; blank by eye.',
    }),
    join_note: optionalText({
      max: 2000,
      lines: true,
      label: 'Note',
      kind: 'text',
      size: 'long',
      hint: 'Such as the light, wet or dry.',
    }),
  })
  .check((context) => {
    if (context.value.judged === 'instrument' && context.value.delta === null) {
      const message = 'ΔE00 between them: give what was measured, such as 0.6.';
      context.issues.push({ code: 'custom', message, path: ['delta'], input: null });
    }
  });

export function joinLot(tx: Tx, code: string, form: z.output<typeof LOT_JOIN>): Answer {
  const { other, judged, delta, join_note } = form;
  const { lots } = joinLots(tx, code, other, { how: judged, deltaCenti: delta, note: join_note });
  return {
    location: lotPath(code),
    said: `Lots ${lots.join(' and ')} count as one, judged ${HOW_JUDGED[judged]}.`,
  };
}

interface OneLot {
  readonly id: number;
  readonly code: string;
  readonly cloth_id: number;
  readonly shade_id: number;
  readonly joined_to_id: number | null;
}

/** The lots that a lot counts as one with, by whose judgement, and the form to join another. */
export function shapeLotJoins(reader: Reader, lot: OneLot, asker: Asker, typed: Typed | null) {
  const root = lot.joined_to_id ?? lot.id;
  const joins = readJoins(reader, root);
  const canPart = whichCanUndo(
    reader,
    joins.map(({ request_key }) => request_key),
    asker,
  );
  const others = readOthers(reader, lot, root);
  const { other, ...fields } = drawFields(LOT_JOIN.shape, typed ?? {});
  return {
    /** all lots that count as one with this one, itself left out */
    oneWith: [...new Set(joins.flatMap(({ code, to }) => [code, to]))]
      .filter((code) => code !== lot.code)
      .map((code) => ({ code, href: lotPath(code) })),
    judgements: joins.map((join) => ({
      said: `${join.code} with ${join.to}, judged ${HOW_JUDGED[join.how]}${join.delta_centi === null ? '' : `, ΔE00 ${showColourDifference(join.delta_centi)}`}: ${join.person}, ${showMoment(join.at)}.${join.note === '' ? '' : ` ${join.note}`}`,
      requestKey: join.request_key,
      undoKey: mintKey(),
      canPart: canPart.has(join.request_key),
    })),
    action: `${lotPath(lot.code)}/joins`,
    requestKey: mintKey(),
    /** false where there is no other lot of the cloth and shade */
    canJoin: others.length > 0,
    fields: {
      ...fields,
      other: {
        ...other,
        options: withBlank(
          others.map(({ code }) => ({ value: code, label: code })),
          'choose',
        ),
      },
    },
  };
}

const joinsOf = prepared((db, root: Param<number>) =>
  db
    .selectFrom('lot_join')
    .innerJoin('lot', 'lot.id', 'lot_join.lot_id')
    .innerJoin('lot as root', 'root.id', 'lot_join.to_id')
    .innerJoin('person', 'person.id', 'lot_join.person_id')
    .selectAll('lot_join')
    .select(['lot.code', 'root.code as to', 'person.name as person'])
    .where('lot.joined_to_id', '=', root)
    .where('lot_join.undone_key', 'is', null)
    .orderBy('lot_join.id'),
);

function readJoins(reader: Reader, root: number) {
  return reader.all(joinsOf(root));
}

const othersOf = prepared((db, clothId: Param<number>, shadeId: Param<number>, root: Param<number>) =>
  db
    .selectFrom('lot')
    .select('code')
    .where('cloth_id', '=', clothId)
    .where('shade_id', '=', shadeId)
    .where('id', '<>', root)
    .where((of) => of.or([of('joined_to_id', 'is', null), of('joined_to_id', '<>', root)]))
    .orderBy('id', 'desc')
    .limit(200),
);

/** Other lots of the cloth and shade that do not count as one with it. */
function readOthers(reader: Reader, lot: OneLot, root: number) {
  return reader.all(othersOf(lot.cloth_id, lot.shade_id, root));
}
